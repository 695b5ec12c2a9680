//! Where food goes: a place, one that nobody has told of, or a vessel.

use crate::lang::lexicon::is_food_word;
use crate::lang::place::is_place;
use crate::lang::syntax::Words;
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;
use crate::lang::words::{containers, fillers, pots, talk, waste_tails};

/// "in the wine cave".
const STRANGE_WORDS_MAX: usize = 2;

/// A place behind one of these words, and what is left without it.
pub fn place<'a>(input: Tokens<'a>, behind: &[&str]) -> (Tokens<'a>, Option<Words>) {
    let input = input.trimmed_end();
    for at in (0..input.len()).rev() {
        if !behind.contains(&input.norm(at)) {
            continue;
        }
        let said = input.after(at + 1);
        let the = usize::from(matches!(said.norm(0), "the" | "our" | "my"));
        let said = said.after(the);
        if is_place(said) {
            return (input.range(0, at).trimmed_end(), Some(said.words()));
        }
    }
    (input, None)
}

/// "into the glass jar" at the end, of a vessel that the household knows. What stands "in" one with its weight was
/// weighed with it.
pub fn into_vessel(input: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let input = input.trimmed_end();
    for at in (1..input.len()).rev() {
        let leads = match input.norm(at) {
            "into" | "to" => true,
            "in" => !input.has_number(),
            _ => false,
        };
        let the = usize::from(matches!(input.norm(at + 1), "the" | "our" | "my"));
        let said = input.after(at + 1 + the);
        let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
        if leads && input.vocabulary.is(Sense::Container, &words) {
            return (input.range(0, at).trimmed_end(), Some(said.words()));
        }
    }
    (input, None)
}

/// "in the snug": a place that nobody has told of. What food is put into otherwise is none.
pub fn strange_place(input: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let input = input.trimmed_end();
    let behind = |at: usize| {
        matches!(input.norm(at), "to" | "into" | "in")
            && matches!(input.norm(at + 1), "the" | "our")
    };
    let Some(at) = (1..input.len().saturating_sub(2))
        .rev()
        .find(|&at| behind(at))
    else {
        return (input, None);
    };
    let said = input.after(at + 2);
    let strange = |token: &Token| {
        let norm = token.norm();
        let vessel = containers().has(norm) || pots().has(norm);
        let known = input.vocabulary.has_word(norm) || waste_tails().has(norm);
        !norm.is_empty() && !vessel && !known && !talk().has(norm) && !fillers().has(norm)
    };
    let short = said.is_wordy() && said.len() <= STRANGE_WORDS_MAX;
    // "the wine cave" is a place, "the bean soup" is none.
    let food = said.last().is_some_and(|last| is_food_word(last.norm()));
    match short && !food && said.slice.iter().all(strange) {
        true => (input.range(0, at).trimmed_end(), Some(said.words())),
        false => (input, None),
    }
}
