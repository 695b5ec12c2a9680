//! What a thing was weighed in, wherever that is told: "dal 445 gross in the steel bowl", "rice in the steel
//! bowl gross 385".
//!
//! ```text
//! held := thing, and in it: ["gross"] ("in" | "with" | "including") container ["included" | "gross"]
//! ```
//! Only a container whose tare is known is taken out of the words; any other leaves them as they are.

use super::Named;
use super::pairing::items;
use crate::lang::lexer::folded_words;
use crate::lang::syntax::Words;
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;
use crate::lang::weighing::container;
use crate::lang::words::scale;

/// One thing with the container that its weight holds; nothing where no such container is told.
pub fn held(segment: Tokens<'_>) -> Option<Vec<Named>> {
    let (at, length, name) = (1..segment.len()).find_map(|at| known(segment, at))?;
    let mut tokens: Vec<Token> = segment.slice.to_vec();
    tokens.drain(at..at + length);
    let gross = tokens.iter().position(is_gross);
    if let Some(at) = gross {
        tokens.remove(at);
    }
    let named = items(segment.with_tokens(&tokens)).ok()?;
    let [mut one] = <[Named; 1]>::try_from(named).ok()?;
    if one.amount.is_none() || one.container.is_some() {
        return None;
    }
    one.container = Some(name);
    Some(vec![one])
}

/// "in the steel bowl" behind an amount: how many tokens, and the container.
fn known(segment: Tokens<'_>, at: usize) -> Option<(usize, usize, Words)> {
    let inside = scale().longest_of(segment.after(at).slice, "inside")?;
    let (rest, name) = container(segment.after(at + inside)).ok()?;
    let words = folded_words(&name.text);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let known = segment.vocabulary.is(Sense::Container, &words);
    let behind = usize::from(matches!(rest.norm(0), "included" | "incl" | "gross"));
    known.then(|| (at, segment.len() - at - rest.len() + behind, name))
}

fn is_gross(token: &Token) -> bool {
    scale().get(token.norm()) == Some("gross")
}
