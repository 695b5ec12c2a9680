//! States of a food: asked by the cook, and told by the release.

use super::index::Index;
use super::lexicon::{Class, lexicon};
use crate::foods::table::{Food, Group};

/// How a description says that the food is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Raw or dry, or nothing said.
    Raw,
    Cooked,
    /// Canned, frozen, dried and the like.
    Kept,
}

/// The state that a description tells. A dish that is cooked and then frozen is kept.
pub fn state(index: &Index, food: usize) -> State {
    let has = |class| index.tokens(food).iter().any(|token| token.class == class);
    if has(Class::Kept) {
        State::Kept
    } else if has(Class::Cooked) {
        State::Cooked
    } else {
        State::Raw
    }
}

/// Whether the word of a description is one that satisfies the asked state.
pub fn accepts(asked: &str, word: &str) -> bool {
    let is_word = |accepted: &&str| {
        *accepted == word
            || accepted
                .split_once('-')
                .is_some_and(|(one, two)| one == word || two == word)
    };
    lexicon()
        .state(asked)
        .is_some_and(|accepted| accepted.iter().any(is_word))
}

/// How well a food satisfies an asked state: 0 is best, `None` not at all.
pub fn satisfies(index: &Index, at: usize, food: &Food, asked: &str) -> Option<usize> {
    let accepted = lexicon().state(asked)?;
    let told = accepted.iter().position(|word| match word.split_once('-') {
        Some((one, two)) => index.has_phrase(at, index.phrase(one, two)),
        None => index.holds(at, word) && !is_contradicted(index, at, asked, word),
    });
    told.or_else(|| goes_without_saying(index, at, food, asked).then_some(accepted.len()))
}

/// "Raw" in "frozen, raw" does not make it fresh, nor "cooked" a raw one.
fn is_contradicted(index: &Index, at: usize, asked: &str, word: &str) -> bool {
    match asked {
        "raw" | "uncooked" | "fresh" => match state(index, at) {
            State::Raw => false,
            State::Cooked => true,
            // "Frozen, unprepared" is raw, but not fresh; "dry" is not raw where something else is kept.
            State::Kept => asked == "fresh" || word == "dry",
        },
        // A dish made from dry mix is not dry.
        "dry" | "dried" | "dehydrated" => {
            let roasted = index.has_phrase(at, index.phrase("dry", "roasted"));
            index.holds(at, "prepared") || (state(index, at) == State::Cooked && !roasted)
        }
        _ => false,
    }
}

/// States that a description does not tell because the food is never otherwise.
fn goes_without_saying(index: &Index, at: usize, food: &Food, asked: &str) -> bool {
    let flesh = matches!(
        food.group,
        Group::Poultry
            | Group::Beef
            | Group::Pork
            | Group::LambVealAndGame
            | Group::FishAndShellfish
    );
    match asked {
        "ground" => matches!(food.group, Group::SpicesAndHerbs | Group::NutsAndSeeds),
        "leaf" => {
            let head = index.tokens(at).first();
            let leafy = |word| lexicon().is_leafy(index.spelling(word));
            food.group == Group::SpicesAndHerbs || head.is_some_and(|head| leafy(head.word))
        }
        // A fillet of fish or chicken is how it was cut; of beef or pork it is the tenderloin.
        "fillet" => matches!(food.group, Group::FishAndShellfish | Group::Poultry),
        // Of milk, flour and bread, whole is a kind.
        "whole" => !matches!(
            food.group,
            Group::DairyAndEggs | Group::GrainsAndPasta | Group::Baked | Group::BreakfastCereals
        ),
        // Of peppers and sauces, hot is a kind.
        "hot" => matches!(food.group, Group::Beverages | Group::DairyAndEggs),
        // A way to cut garlic, but another food of meat.
        "minced" => !flesh,
        "skinless" => !flesh || (food.group != Group::Poultry && !index.holds(at, "skin")),
        "raw" | "uncooked" => state(index, at) == State::Raw,
        "fresh" => food.group != Group::SpicesAndHerbs && state(index, at) == State::Raw,
        // Dry goods: the release calls dry lentils raw, and dry spices and flours nothing.
        "dry" | "dried" => match food.group {
            Group::Legumes | Group::GrainsAndPasta | Group::NutsAndSeeds => {
                state(index, at) == State::Raw && food.is_dry()
            }
            Group::SpicesAndHerbs => !index.holds(at, "fresh"),
            // Of wine and cider, dry is a taste.
            Group::Beverages => true,
            _ => false,
        },
        _ => false,
    }
}
