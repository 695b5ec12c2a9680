//! A part of what is left of a dish: "half the remaining parsnips", "a third of what's left of the dal", "half of the dal
//! that's left". A part of a dish is always one of what is left of it, so the words that say so are dropped before
//! anything is read.
//!
//! ```text
//! part := fraction ["of"] remains dish | fraction ["of"] ["the"] dish left
//! ```
//! A message with another number may divide what that number tells: then nothing is dropped, and `composed/` reads it.

use super::number::number;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::Vocabulary;
use super::words::fates;

const NAME_WORDS_MAX: usize = 4;

/// Drop the words, in place.
pub fn drop(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let input = Tokens::unread(tokens, text, vocabulary);
    let Some(at) = fraction(input) else {
        return;
    };
    if let Some((from, to)) = before_its_dish(input, at).or_else(|| behind_its_dish(input, at)) {
        tokens.drain(from..to);
    }
}

/// Where the only number of the message ends, if it is a part of a whole.
fn fraction(input: Tokens<'_>) -> Option<usize> {
    let from = (0..input.len()).find(|&at| number(input.after(at)).is_ok())?;
    let (rest, said) = number(input.after(from)).ok()?;
    let percent = |token: &Token| matches!(token.kind, Kind::Percent(_));
    let others = rest.slice.iter().any(Token::is_numeric) || input.slice.iter().any(percent);
    let part = said.value > 0.0 && said.value < 1.0;
    (part && !others).then(|| input.len() - rest.len())
}

/// "what's left of", "the remaining"
fn before_its_dish(input: Tokens<'_>, at: usize) -> Option<(usize, usize)> {
    let of = usize::from(input.norm(at) == "of");
    let from = at + of;
    let length = fates().longest_of(input.after(from).slice, "what is left of")?;
    let to = from + length;
    // "half the remaining parsnips" is half the parsnips.
    let from = from + usize::from(input.norm(from) == "the" && input.norm(to) != "of");
    // The "of" between the words goes, unless it is the only one.
    let linked = usize::from(of > 0 && input.norm(to) == "of");
    is_dish(input, to + usize::from(input.norm(to) == "of")).then_some((from, to + linked))
}

/// "that's left"
fn behind_its_dish(input: Tokens<'_>, at: usize) -> Option<(usize, usize)> {
    let at = at + usize::from(input.norm(at) == "of");
    let end = dish(input, at)?;
    let length = fates().longest_of(input.after(end).slice, "that is left")?;
    Some((end, end + length))
}

fn is_dish(input: Tokens<'_>, at: usize) -> bool {
    dish(input, at).is_some()
}

/// Where the dish at this place ends.
fn dish(input: Tokens<'_>, at: usize) -> Option<usize> {
    let article = usize::from(matches!(input.norm(at), "the" | "our"));
    let from = at + article;
    let (length, ()) = input.after(from).longest_run(NAME_WORDS_MAX, |said| {
        let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
        said.vocabulary.is_batch(&words).then_some(())
    })?;
    Some(from + length)
}
