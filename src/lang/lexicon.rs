//! What counts as a food's name, where the household has no name of its own.

use super::vocabulary::singular;
use super::words::{food_words, number_words, qualifiers, selectors, states, talk};

/// Whether the words name a food: the last one is a food word, and none is a word of talk.
pub fn is_food(words: &[&str]) -> bool {
    let Some((last, before)) = words.split_last() else {
        return false;
    };
    if words.len() == 2 && words[0] == "ndb" {
        return true;
    }
    words.len() <= 6
        && is_food_word(last)
        && before
            .iter()
            .all(|word| !talk().has(word) && !number_words().has(word))
}

/// Whether one word is a food's, a state's or a preparation's.
pub fn is_food_word(word: &str) -> bool {
    food_words().has(word) || food_words().has(&singular(word))
}

/// Words that describe a food and do not name one.
pub fn describes(word: &str) -> bool {
    qualifiers().has(word) || states().has(word) || selectors().has(word)
}
