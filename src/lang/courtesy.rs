//! Thanks and talk that name somebody ("thanks to Ana", "sat beside Tom"), and who is called at the end ("what's
//! left, chef?"). Whoever is thanked or called has eaten nothing by it, so the words are dropped before anything
//! is read.
//!
//! ```text
//! courtesy := credit person
//! called   := [","] vocative { mark } end
//! ```

use super::person::person;
use super::token::Token;
use super::tokens::Tokens;
use super::vocabulary::{Sense, Vocabulary};
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
    if let Some(at) = called(Tokens::unread(tokens, text, vocabulary)) {
        let from = at - usize::from(tokens[at - 1].is(','));
        tokens.drain(from..=at);
    }
}

fn courtesy(input: Tokens<'_>) -> Option<usize> {
    let credit = cues().longest_of(input.slice, "credit")?;
    let (name, _) = person(input.after(credit))?;
    Some(credit + name)
}

/// Where the last word is somebody who is spoken to, and nobody's plate: "140 dal for chef" is.
fn called(input: Tokens<'_>) -> Option<usize> {
    let at = input
        .slice
        .iter()
        .rposition(|token| !token.norm().is_empty())?;
    let is = |at: usize, key| {
        cues()
            .longest_of(input.range(at, at + 1).slice, key)
            .is_some()
    };
    let known = || input.vocabulary.is(Sense::Person, &[input.norm(at)]);
    (at > 0 && is(at, "vocative") && !is(at - 1, "not called") && !known()).then_some(at)
}
