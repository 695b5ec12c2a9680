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

/// A food that satisfies everything asked.
#[derive(Debug, Clone, Copy)]
pub struct Candidate {
    pub food: usize,
    pub cost: u32,
    /// Nothing is unasked but states, kinds and neutral words, and the head holds an asked word.
    pub named: bool,
    /// Every naming word of the head is asked, though later parts may name more.
    pub head_complete: bool,
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
    let naming = |token: &Token| matches!(token.class, Class::Name | Class::Oddity);
    let head_asked = tokens
        .iter()
        .any(|token| token.part <= entry.head_part && asked(token) && naming(token));
    let (mut named, mut head_complete) = (head_asked, head_asked);
    for token in tokens.iter().filter(|token| !asked(token)) {
        // "Yambean (jicama)", "cos or romaine": either name will do, so the other is not missing.
        let has_other_name = token.other_name
            || tokens
                .iter()
                .any(|other| other.part == token.part && other.other_name && asked(other));
        let is_class_word = entry.head_part > 0 && token.part == 0;
        cost += match token.class {
            _ if is_class_word => 0,
            Class::Name | Class::Oddity if has_other_name => COST_OTHER_NAME,
            Class::Name | Class::Oddity => {
                named = false;
                head_complete &= token.part > entry.head_part;
                match token.class {
                    Class::Oddity => COST_ODDITY,
                    _ if token.part <= entry.head_part => COST_NAME_IN_HEAD,
                    _ => COST_NAME,
                }
            }
            Class::Cooked if wanted.states.is_empty() => COST_COOKED,
            Class::Kept if wanted.states.is_empty() => COST_KEPT,
            Class::Kept => COST_KEPT / 3,
            Class::Cooked | Class::Raw => 0,
            Class::Kind => COST_KIND,
            Class::Neutral => 1,
        };
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
        named,
        head_complete,
        plain: entry.plain,
    })
}

/// The food that is clearly meant, if any.
pub fn decide(index: &Index, found: &[Candidate]) -> Option<Candidate> {
    let best = *found.first().filter(|best| best.plain)?;
    if best.named {
        return Some(best);
    }
    // One name and no other: every plain food with this head is the same thing in another state or kind.
    let mut rivals = found
        .iter()
        .filter(|candidate| candidate.plain && candidate.head_complete);
    let alone = best.head_complete
        && rivals.all(|rival| names(index, rival.food) == names(index, best.food));
    alone.then_some(best)
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
