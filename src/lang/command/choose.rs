//! A short answer to an open question: "yes", "2", "the second".
//!
//! ```text
//! choose := yes | no | ["option" | "number" | "#"] n ["."] | ["the"] ordinal ["one"]
//! ```

use crate::lang::command::{only_marks, whole_phrase};
use crate::lang::syntax::{Choice, Command};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    if let Ok((rest, ())) = whole_phrase("yes", input) {
        return Ok((rest, Command::Choose(Choice::Yes)));
    }
    if let Ok((rest, ())) = whole_phrase("no", input) {
        return Ok((rest, Command::Choose(Choice::No)));
    }
    match nth(input) {
        Some(n) => Ok((input.after(input.len()), Command::Choose(Choice::Nth(n)))),
        None => input.no(),
    }
}

fn nth(input: Tokens<'_>) -> Option<u32> {
    let skip = input
        .slice
        .iter()
        .take_while(|token| {
            matches!(token.norm(), "option" | "number" | "no" | "the" | "choice")
                || token.is('#')
                || token.is('(')
        })
        .count();
    let rest = input.after(skip);
    let n = match &rest.first()?.kind {
        Kind::Number(numeral)
            if numeral.value.fract() == 0.0 && (1.0..=20.0).contains(&numeral.value) =>
        {
            numeral.value as u32
        }
        Kind::Ordinal(n) => *n,
        Kind::Word(word) => match word.as_str() {
            "first" | "one" => 1,
            "second" | "two" => 2,
            "third" | "three" => 3,
            "fourth" | "four" => 4,
            "fifth" | "five" => 5,
            _ => return None,
        },
        _ => return None,
    };
    let rest = rest.after(1);
    let rest = if rest.norm(0) == "one" {
        rest.after(1)
    } else {
        rest
    };
    only_marks(rest).then_some(n)
}
