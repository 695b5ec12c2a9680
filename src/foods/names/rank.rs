//! Ranking the foods that hold every asked word, and deciding whether one is clearly meant.
//!
//! A candidate's cost counts what its description says beyond what was asked: little for words that say nothing
//! ("all varieties"), more for cut and fat, much for cooking, keeping and words that make another food of it, most
//! for naming something else first ("Soup, onion").
//!
//! The cheapest is taken if its name is exactly what was asked: some asked word stands in the head of the
//! description, and all that is unasked are states, kinds and neutral words, so that its rivals are either its
//! own preparations or other foods. Otherwise nothing is taken, and the cheapest few are shown.

use super::index::{Index, Token, WordId};
use super::lexicon::Class;
use super::state;
use crate::foods::table::{Food, Group};

/// What is asked of a description.
#[derive(Debug, Clone, Default)]
pub struct Wanted {
    /// Words that have to stand in the description.
    pub words: Vec<WordId>,
    /// States that it has to satisfy.
    pub states: Vec<String>,
}

/// A food that satisfies everything asked, and is not merely a dish or a brand that mentions it.
#[derive(Debug, Clone, Copy)]
pub struct Candidate {
    pub food: usize,
    pub cost: u32,
    /// Nothing is unasked but states, kinds and neutral words, and the head holds an asked word.
    pub named: bool,
    pub plain: bool,
}

const COST_OTHER_HEAD: u32 = 100;
const COST_ODDITY: u32 = 50;
const COST_NAME_IN_HEAD: u32 = 30;
const COST_NAME: u32 = 20;
const COST_KEPT: u32 = 35;
const COST_COOKED: u32 = 30;
const COST_KIND: u32 = 3;
const COST_OTHER_NAME: u32 = 2;
const COST_STAND_IN_STATE: u32 = 4;
const COST_SALTED: u32 = 6;
const COST_MADE_GROUP: u32 = 8;

/// Every food that satisfies what is asked, the cheapest first.
pub fn candidates(index: &Index, foods: &[Food], wanted: &Wanted) -> Vec<Candidate> {
    let mut found: Vec<Candidate> = index
        .holding(&wanted.words)
        .into_iter()
        .filter_map(|at| candidate(index, &foods[at], at, wanted))
        .collect();
    found.sort_by_key(|candidate| (!candidate.plain, candidate.cost, foods[candidate.food].code));
    found
}

fn candidate(index: &Index, food: &Food, at: usize, wanted: &Wanted) -> Option<Candidate> {
    let mut cost = 0;
    for asked in &wanted.states {
        cost += state::satisfies(index, at, food, asked)? as u32 * COST_STAND_IN_STATE;
    }
    let entry = index.entry(at);
    let tokens = index.tokens(at);
    let asked = |token: &Token| wanted.words.contains(&token.word);
    let stated = |token: &Token| {
        let word = index.spelling(token.word);
        wanted
            .states
            .iter()
            .any(|state| state::accepts(state, word))
    };
    let naming = |token: &Token| matches!(token.class, Class::Name | Class::Oddity);
    let in_head = |token: &&Token| token.part <= entry.head_part && asked(token);
    let head_asked = tokens.iter().filter(in_head).any(naming);
    let other_parts = parts_meant_otherwise(tokens, asked);
    let (mut named, mut odd) = (head_asked, false);
    for token in tokens
        .iter()
        .filter(|token| !asked(token) && !stated(token))
    {
        let is_class_word = entry.head_part > 0 && token.part == 0;
        cost += match token.class {
            _ if is_class_word => 0,
            Class::Name if token.other_name > 0 || other_parts.contains(&token.part) => {
                COST_OTHER_NAME
            }
            Class::Oddity if token.other_name > 0 => COST_OTHER_NAME,
            Class::Oddity => {
                odd = true;
                COST_ODDITY
            }
            Class::Name => {
                named = false;
                if token.part <= entry.head_part {
                    COST_NAME_IN_HEAD
                } else {
                    COST_NAME
                }
            }
            // "Candied fruit" is not fruit.
            Class::Cooked | Class::Kept if token.part == 0 => {
                named = false;
                COST_NAME_IN_HEAD
            }
            Class::Cooked if wanted.states.is_empty() => COST_COOKED,
            Class::Kept if wanted.states.is_empty() => COST_KEPT,
            Class::Kept => COST_KEPT / 3,
            Class::Cooked | Class::Raw => 0,
            Class::Kind => COST_KIND,
            Class::Neutral => 1,
        };
    }
    let brand_asked = tokens.iter().any(|token| token.brand && asked(token));
    let relevant = match entry.plain {
        true => head_asked || !odd,
        false => head_asked || brand_asked,
    };
    if !relevant {
        return None;
    }
    if !head_asked {
        cost += COST_OTHER_HEAD;
    }
    if index.has_phrase(at, "with", "salt") {
        cost += COST_SALTED;
    }
    let made = matches!(
        food.group,
        Group::SoupsAndSauces
            | Group::Sausages
            | Group::BreakfastCereals
            | Group::Beverages
            | Group::Baked
            | Group::Sweets
            | Group::Meals
            | Group::Snacks
    );
    if made {
        cost += COST_MADE_GROUP;
    }
    Some(Candidate {
        food: at,
        cost,
        named: named && !odd,
        plain: entry.plain,
    })
}

/// The parts of a description whose other name is asked: "Yambean (jicama)", "cos or romaine". Either name will do,
/// so the rest of such a part is not missing. All of the other name has to be asked: beans are not fava beans.
fn parts_meant_otherwise(tokens: &[Token], asked: impl Fn(&Token) -> bool) -> Vec<u8> {
    let by_name = |word| {
        tokens
            .iter()
            .any(|token| token.word == word && token.other_name == 0)
    };
    let is_met =
        |token: &Token| token.class != Class::Name || (asked(token) && !by_name(token.word));
    tokens
        .chunk_by(|one, two| (one.part, one.other_name) == (two.part, two.other_name))
        .filter(|name| name[0].other_name > 0 && name.iter().all(is_met) && name.iter().any(&asked))
        .map(|name| name[0].part)
        .collect()
}

/// The food that is clearly meant, if any.
pub fn decide(found: &[Candidate]) -> Option<Candidate> {
    found
        .first()
        .copied()
        .filter(|best| best.plain && best.named)
}

/// The naming words of a description, sorted.
pub fn names(index: &Index, food: usize) -> Vec<WordId> {
    let naming = |token: &&Token| matches!(token.class, Class::Name | Class::Oddity);
    let mut words: Vec<WordId> = index
        .tokens(food)
        .iter()
        .filter(naming)
        .map(|token| token.word)
        .collect();
    words.sort_unstable();
    words.dedup();
    words
}
