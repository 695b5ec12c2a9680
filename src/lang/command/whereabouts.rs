//! Where a dish stands and when it was made: "where is the dal", "when was the stew made".
//!
//! ```text
//! whereabouts := "where is" batch ["?"] | "when was" batch ("made" | "cooked") ["?"]
//! ```
//! The same is asked of keys and people: only a dish of the household is answered.

use crate::lang::command::key_phrase;
use crate::lang::name;
use crate::lang::syntax::Command;
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let asked = input.last().is_some_and(|token| token.is('?'));
    let body = input.range(0, input.len() - usize::from(asked)).trimmed();
    let command = place(body).or_else(|| day(body));
    match command {
        Some(command) => Ok((input.after(input.len()), command)),
        None => input.no(),
    }
}

fn place(body: Tokens<'_>) -> Option<Command> {
    let (rest, ()) = key_phrase("where", body).ok()?;
    name::of_batch(rest.trimmed()).map(|name| Command::HowMuch { name })
}

fn day(body: Tokens<'_>) -> Option<Command> {
    let (rest, ()) = key_phrase("when", body).ok()?;
    let told = matches!(rest.last().map(Token::norm), Some("made" | "cooked"));
    let rest = match told {
        true => rest.range(0, rest.len() - 1),
        // "when did we make the dal"
        false if body.norm(1) == "did" => rest,
        false => return None,
    };
    name::of_batch(rest.trimmed()).map(|name| Command::Show { name })
}
