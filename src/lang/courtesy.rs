//! Thanks and talk that name somebody: "thanks to Ana", "sat beside Tom". Whoever is thanked has eaten nothing
//! by it, so the words are dropped before anything is read.
//!
//! ```text
//! courtesy := credit person
//! ```

use super::person::person;
use super::token::Token;
use super::tokens::Tokens;
use super::vocabulary::Vocabulary;
use super::words::cues;

/// Drop courtesies, in place.
pub fn drop(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let mut at = 0;
    while at < tokens.len() {
        let input = Tokens::unread(tokens, text, vocabulary);
        match courtesy(input.after(at)) {
            Some(length) => {
                tokens.drain(at..at + length);
            }
            None => at += 1,
        }
    }
}

fn courtesy(input: Tokens<'_>) -> Option<usize> {
    let credit = cues().longest_of(input.slice, "credit")?;
    let (name, _) = person(input.after(credit))?;
    Some(credit + name)
}
