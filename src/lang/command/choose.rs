//! A short answer to an open question: "yes", "2", "the second".
//!
//! ```text
//! choose := yes | no | ["option" | "number" | "#"] n ["."] | ["the"] ordinal ["one"]
//! plates := words ("both" | "mine is separate" | "just the one" | "it sent twice") words
//! ```

use crate::lang::command::{only_marks, whole_phrase};
use crate::lang::syntax::{Choice, Command};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::one_or_two;

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

/// Longer answers are talk.
const PLATES_TOKENS_MAX: usize = 14;

/// "one, phone glitched", "yes that's my own bowl", "two, had seconds": what stands first counts.
pub fn read_plates(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    let counted = |token: &Token| token.is_numeric() && !is_one_or_two(token);
    if body.len() > PLATES_TOKENS_MAX
        || body
            .slice
            .iter()
            .any(|token| counted(token) || token.is('?'))
    {
        return input.no();
    }
    let found = (0..body.len()).find_map(|at| one_or_two().longest(&body.slice[at..]));
    match found {
        Some((_, "one")) => Ok((input.after(input.len()), Command::Choose(Choice::Plates(1)))),
        Some(_) => Ok((input.after(input.len()), Command::Choose(Choice::Plates(2)))),
        None => match nth(input) {
            Some(n @ 1..=2) => Ok((input.after(input.len()), Command::Choose(Choice::Plates(n)))),
            _ => input.no(),
        },
    }
}

fn is_one_or_two(token: &Token) -> bool {
    matches!(token.kind, Kind::Number(numeral) if numeral.value == 1.0 || numeral.value == 2.0)
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
