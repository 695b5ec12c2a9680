//! Which act a correction is of, if its words say that it put nothing on a plate: "make the binned ones 120" is of a loss,
//! "the recount was 650" of a count.
//!
//! ```text
//! of := article lost (dish | stand-in) | article (binning | counting)
//! ```
//! The words stand in `data/reopen.txt`. What is left of the message is the correction: "make that 120".

use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::Vocabulary;
use super::words::reopening;
use super::{Parsed, address, read, readable, tokens};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 20;

/// What an act did that put nothing on a plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfStock {
    Loss,
    Count,
}

/// What it is of, and the message with a word in the place of that.
pub fn corrected(text: &str, vocabulary: &Vocabulary) -> Option<(OfStock, Parsed)> {
    let text = readable(text);
    let mut tokens = tokens(text, vocabulary);
    address::drop_mention(&mut tokens);
    if tokens.len() > TOKENS_MAX {
        return None;
    }
    let input = Tokens::unread(&tokens, text, vocabulary);
    let (of, at, length, named) = (0..input.len()).find_map(|at| told(input, at))?;
    let (place, spaced) = (tokens[at].span.clone(), tokens[at].spaced);
    // "the binned beans": the dish says which of them.
    let word = if named { "the" } else { "that" };
    let word = Token::new(Kind::Word(word.to_owned()), place, spaced);
    tokens.splice(at..at + length, [word]);
    Some((of, read(&mut tokens, text, vocabulary)))
}

/// What it is of, where and in how many words that is said, and whether a dish follows.
fn told(input: Tokens<'_>, at: usize) -> Option<(OfStock, usize, usize, bool)> {
    let of = |at: usize, part| reopening().longest_of(input.after(at).slice, part);
    if !matches!(
        input.norm(at),
        "the" | "those" | "that" | "my" | "our" | "these"
    ) {
        return None;
    }
    if let Some(lost) = of(at + 1, "lost") {
        let behind = at + 1 + lost;
        if let Some(stand_in) = of(behind, "stand in") {
            return Some((OfStock::Loss, at, 1 + lost + stand_in, false));
        }
        let dish = input.vocabulary.is_batch(&[input.norm(behind)]);
        return dish.then_some((OfStock::Loss, at, 1 + lost, true));
    }
    let named = |part, of_stock| Some((of_stock, at, 1 + of(at + 1, part)?, false));
    named("binning", OfStock::Loss).or_else(|| named("counting", OfStock::Count))
}
