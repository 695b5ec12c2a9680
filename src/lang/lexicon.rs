//! What counts as a food's name, where the household has no name of its own: the composition table decides.

use std::cell::RefCell;
use std::collections::HashMap;

use super::vocabulary::singular;
use super::words::{containers, number_words, ordinary, qualifiers, selectors, states, talk};
use crate::foods::{Found, table};

/// A name of more words than this is a sentence.
const WORDS_MAX: usize = 6;

/// Whether the words name a food of the table, with no word of talk among them.
pub fn is_food(words: &[&str]) -> bool {
    if words.len() > WORDS_MAX || words.iter().any(|word| talk().has(word)) {
        return false;
    }
    if words.len() == 1 && containers().has(words[0]) {
        return false;
    }
    if words
        .iter()
        .any(|word| matches!(*word, "a" | "an" | "the" | "is"))
    {
        return false;
    }
    let numbered = words.first() == Some(&"ndb");
    if !numbered && (!words.iter().any(|word| is_food_word(word)) || number_words().has(words[0])) {
        return false;
    }
    in_table(words) != Meant::Nothing
}

/// What words mean to the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Meant {
    Nothing,
    /// Any of several foods.
    Several,
    One,
}

/// Phrases that were looked up, so that a message which says one a hundred times costs one look-up.
const REMEMBERED_MAX: usize = 4096;

pub fn in_table(words: &[&str]) -> Meant {
    thread_local! {
        static SEEN: RefCell<HashMap<String, Meant>> = RefCell::new(HashMap::new());
    }
    let phrase = words.join(" ");
    SEEN.with_borrow_mut(|seen| {
        if let Some(known) = seen.get(&phrase) {
            return *known;
        }
        if seen.len() >= REMEMBERED_MAX {
            seen.clear();
        }
        let meant = match table().find(&phrase) {
            Found::Taken(_) => Meant::One,
            Found::Several(_) => Meant::Several,
            Found::Nothing => Meant::Nothing,
        };
        seen.insert(phrase, meant);
        meant
    })
}

/// Whether one word tells of food.
pub fn is_food_word(word: &str) -> bool {
    !talk().has(word) && table().knows_word(word)
}

/// Whether the words are one ordinary word that is no food: it is written as it is meant, and no slip of another.
pub fn is_ordinary(words: &[&str]) -> bool {
    matches!(words, [word] if ordinary().has(word) || ordinary().has(&singular(word)))
}

/// Words that describe a food and do not name one.
pub fn describes(word: &str) -> bool {
    qualifiers().has(word) || states().has(word) || selectors().has(word)
}
