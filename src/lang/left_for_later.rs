//! What somebody means to have later beside what they had: "tonight only 150 chilli, will have more tomorrow", "had 200 dal,
//! the rest is for tomorrow". The clause is dropped before anything is read, so that its plan does not govern the plate.
//!
//! ```text
//! message := told mark later
//! later   := { word } ("more" | "the rest" | "another" ...) { word }, with a word of a plan and no number
//! ```
//! "150 chilli, will have it tomorrow" is all a plan: what is later must be something else.

use super::number::number;
use super::person::person;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::veto::governs;
use super::vocabulary::Vocabulary;
use super::words::fates;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 40;
const CLAUSE_TOKENS_MAX: usize = 12;

/// Drop the clause at the end, in place.
pub fn drop(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let input = Tokens::unread(tokens, text, vocabulary);
    if let Some(at) = begins(input) {
        tokens.truncate(at);
    }
}

fn begins(input: Tokens<'_>) -> Option<usize> {
    if input.len() > TOKENS_MAX || input.slice.iter().any(|token| token.is('?')) {
        return None;
    }
    let at = (1..input.len()).rev().find(|&at| parts(input, at))?;
    let (told, later) = (input.range(0, at), input.after(at).trimmed());
    let number = |at: usize| number(later.after(at)).is_ok_and(|(_, said)| !said.article);
    let says = |key| fates().stand_in(later.slice, key);
    // "will have it tomorrow": what was told is what is planned.
    let same = |token: &Token| matches!(token.norm(), "it" | "that" | "this" | "them" | "those");
    let other = later.len() <= CLAUSE_TOKENS_MAX
        && !(0..later.len()).any(|at| number(at) || person(later.after(at)).is_some())
        && !later.slice.iter().any(same)
        && says("some more")
        && says("some time");
    (other && told.has_number() && !governs(told)).then_some(at)
}

fn parts(input: Tokens<'_>, at: usize) -> bool {
    match input.slice[at].kind {
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '(') => true,
        Kind::Symbol('-') => input.slice[at].spaced,
        Kind::Word(ref norm) => norm == "but",
        _ => false,
    }
}
