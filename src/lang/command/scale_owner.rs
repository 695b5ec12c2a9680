//! Whose plate is on the scale: "Tom's plate 402, rice 552", "me plate 398 rice 578", "the soup went from 2400 to 2130,
//! that was Ana".
//!
//! ```text
//! owner := who vessel ...                      in front of the vessel
//!        | ... sep { "that" | "was" | "all" } who     behind the readings, and nothing else
//! ```

use crate::lang::jars::is_vessel;
use crate::lang::person::person;
use crate::lang::syntax::Words;
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;

/// Somebody; the sender is `None`.
pub type Owner = Option<Words>;

/// What is left of the message, and whose it is if that was told.
pub fn owner(input: Tokens<'_>) -> (Tokens<'_>, Option<Owner>) {
    if let Some((length, who)) = in_front(input) {
        return (input.after(length), Some(who));
    }
    match behind(input) {
        Some((at, who)) => (input.range(0, at), Some(who)),
        None => (input, None),
    }
}

/// "Tom's plate", "me plate", "my bowl": how many tokens go before the vessel, and who it is.
pub fn in_front(input: Tokens<'_>) -> Option<(usize, Owner)> {
    let skip = usize::from(input.norm(0) == "for");
    let (length, who) = somebody(input.after(skip), &["me", "my", "mine", "i"])?;
    let mut at = skip + length;
    at += usize::from(
        input
            .get(at)
            .is_some_and(|token| token.is(':') || token.is(',')),
    );
    is_vessel(input.norm(at)).then_some((at, who))
}

/// ", that was Ana", ", all me": where it begins, and who it is.
fn behind(input: Tokens<'_>) -> Option<(usize, Owner)> {
    let opens = |token: &Token| {
        matches!(
            token.kind,
            Kind::Newline | Kind::Symbol(',' | '.' | ';' | '-')
        )
    };
    let at = (1..input.len()).rev().find(|&at| opens(&input.slice[at]))?;
    let mut rest = input.after(at + 1).trimmed();
    while matches!(
        rest.norm(0),
        "that" | "thats" | "it" | "its" | "was" | "is" | "were" | "all" | "just" | "only" | "this"
    ) {
        rest = rest.take_one();
    }
    let (length, who) = somebody(rest, &["me", "mine", "myself"])?;
    rest.after(length).trimmed().is_empty().then_some((at, who))
}

fn somebody(input: Tokens<'_>, sender: &[&str]) -> Option<(usize, Owner)> {
    match sender.contains(&input.norm(0)) {
        true => Some((1, None)),
        false => person(input).map(|(length, who)| (length, Some(who))),
    }
}
