//! Ranking the foods that hold every asked word, and deciding whether one is clearly meant.
//!
//! A candidate's cost counts what its description says beyond what was asked: little for words that say nothing
//! ("all varieties"), more for cut and fat, much for cooking, keeping and words that make another food of it, most
//! for naming something else first ("Soup, onion").
//!
//! The cheapest is taken if its name is exactly what was asked: some asked word stands in the head of the
//! description, and all that is unasked are states, kinds and neutral words, so that its rivals are either its
//! own preparations or other foods. Otherwise nothing is taken, and the cheapest few are shown.

use super::index::{Entry, Index, Token, WordId};
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
/// Meat trimmed of all fat is not what is bought.
const COST_TRIMMED: u32 = 12;
const COST_MADE_GROUP: u32 = 8;

/// Every food that satisfies what is asked, the cheapest first.
pub fn candidates(index: &Index, foods: &[Food], wanted: &Wanted) -> Vec<Candidate> {
    let phrases = Phrases {
        with_salt: index.phrase("with", "salt"),
        lean_only: index.phrase("lean", "only"),
        separable_fat: index.phrase("separable", "fat"),
    };
    let mut found: Vec<Candidate> = index
        .holding(&wanted.words)
        .into_iter()
        .filter_map(|at| candidate(index, &foods[at], at, wanted, &phrases))
        .collect();
    found.sort_by_key(|candidate| (!candidate.plain, candidate.cost, foods[candidate.food].code));
    found
}

/// Phrases of descriptions that tell more than their words.
struct Phrases {
    with_salt: Option<(WordId, WordId)>,
    lean_only: Option<(WordId, WordId)>,
    separable_fat: Option<(WordId, WordId)>,
}

fn candidate(
    index: &Index,
    food: &Food,
    at: usize,
    wanted: &Wanted,
    phrases: &Phrases,
) -> Option<Candidate> {
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
    let is_mix = matches!(
        food.group,
        Group::SoupsAndSauces | Group::Beverages | Group::DairyAndEggs | Group::Sweets
    );
    let unasked = Unasked {
        index,
        entry,
        other_parts,
        is_mix,
        any_state: wanted.states.is_empty(),
    };
    let (mut named, mut odd) = (head_asked, false);
    for token in tokens
        .iter()
        .filter(|token| !asked(token) && !stated(token))
    {
        let (token_cost, verdict) = unasked.judge(token);
        cost += token_cost;
        named &= verdict == Verdict::Same;
        odd |= verdict == Verdict::Odd;
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
    if index.has_phrase(at, phrases.with_salt) {
        cost += COST_SALTED;
    }
    if index.has_phrase(at, phrases.lean_only) {
        cost += COST_TRIMMED;
    }
    if index.has_phrase(at, phrases.separable_fat) {
        named = false;
        cost += COST_ODDITY;
    }
    if is_made(food.group) {
        cost += COST_MADE_GROUP;
    }
    Some(Candidate {
        food: at,
        cost,
        named,
        plain: entry.plain,
    })
}

/// Groups of made things rather than ingredients.
fn is_made(group: Group) -> bool {
    matches!(
        group,
        Group::SoupsAndSauces
            | Group::Sausages
            | Group::BreakfastCereals
            | Group::Beverages
            | Group::Baked
            | Group::Sweets
            | Group::Meals
            | Group::Snacks
    )
}

/// What an unasked word makes of the food.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Verdict {
    /// The same food, more closely described.
    Same,
    /// A food of another name.
    Other,
    /// Another thing altogether: a dish, a part, a powder.
    Odd,
}

/// Judges the unasked words of one description.
struct Unasked<'a> {
    index: &'a Index,
    entry: &'a Entry,
    other_parts: Vec<u8>,
    /// Dry soup, gravy or milk is a mix, where dry rice is the plain kind.
    is_mix: bool,
    /// No state was asked, so the plain one is wanted.
    any_state: bool,
}

impl Unasked<'_> {
    fn judge(&self, token: &Token) -> (u32, Verdict) {
        let is_class_word = self.entry.head_part > 0 && token.part == 0;
        let in_head = token.part <= self.entry.head_part;
        match token.class {
            _ if is_class_word => (0, Verdict::Same),
            Class::Name if token.other_name > 0 || self.other_parts.contains(&token.part) => {
                (COST_OTHER_NAME, Verdict::Same)
            }
            Class::Oddity if token.other_name > 0 => (COST_OTHER_NAME, Verdict::Same),
            Class::Oddity => (COST_ODDITY, Verdict::Odd),
            Class::Name if in_head => (COST_NAME_IN_HEAD, Verdict::Other),
            Class::Name => (COST_NAME, Verdict::Other),
            // "Candied fruit" is not fruit.
            Class::Cooked | Class::Kept if token.part == 0 => (COST_NAME_IN_HEAD, Verdict::Other),
            Class::Cooked if self.any_state => (COST_COOKED, Verdict::Same),
            Class::Kept if self.any_state => (COST_KEPT, Verdict::Same),
            Class::Kept => (COST_KEPT / 3, Verdict::Same),
            Class::Raw if self.is_mix && self.index.spelling(token.word) == "dry" => {
                (COST_ODDITY, Verdict::Odd)
            }
            Class::Cooked | Class::Raw => (0, Verdict::Same),
            Class::Kind => (COST_KIND, Verdict::Same),
            Class::Neutral => (1, Verdict::Same),
        }
    }
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
