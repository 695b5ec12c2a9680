//! A short answer to an open question: "yes", "2", "the second".
//!
//! ```text
//! choose := yes | no | ["option" | "number" | "#"] n ["."] | ["the"] ordinal ["one"]
//! plates := words ("both" | "mine is separate" | "just the one" | "it sent twice") words
//!         | lead ("one" | "two" | n) ["," words | politeness]      "one sec" and "no one" are talk
//! ```

use crate::lang::command::{only_marks, whole_phrase};
use crate::lang::syntax::{Choice, Command};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{one_or_two, outros};
use crate::lang::{aside, segment};

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
    let found = (0..body.len()).find_map(|at| {
        let (length, which) = one_or_two().longest(&body.slice[at..])?;
        let counts = length > 1 || !is_number(&body.slice[at]) || stands_alone(body, at);
        counts.then_some((length, which))
    });
    match found {
        Some((_, "one")) => Ok((input.after(input.len()), Command::Choose(Choice::Plates(1)))),
        Some(_) => Ok((input.after(input.len()), Command::Choose(Choice::Plates(2)))),
        None => match nth(input) {
            Some(n @ 1..=2) => Ok((input.after(input.len()), Command::Choose(Choice::Plates(n)))),
            _ => input.no(),
        },
    }
}

fn is_number(token: &Token) -> bool {
    token.is_numeric() || matches!(token.norm(), "one" | "two")
}

/// A number answers at the front, behind nothing but words that lead up to it, and with nothing behind it
/// that it could count.
fn stands_alone(body: Tokens<'_>, at: usize) -> bool {
    let led = aside::without_leads(segment::without_fillers(body));
    let leads = led
        .first()
        .is_some_and(|first| first.span == body.slice[at].span);
    let said = body.range(0, at);
    let agreed = ["yes", "no"]
        .iter()
        .any(|key| !said.is_empty() && whole_phrase(key, said).is_ok());
    let marked = said
        .slice
        .last()
        .is_some_and(|mark| matches!(mark.kind, Kind::Symbol(_)));
    let rest = body.after(at + 1);
    let ends = rest
        .first()
        .is_none_or(|next| matches!(next.kind, Kind::Symbol(_)))
        || only_marks(rest)
        || outros().length_at_end(rest.slice) == rest.len();
    // "no one" is nobody.
    let nobody = said.slice.last().is_some_and(|word| word.norm() == "no");
    ends && !nobody && (at == 0 || leads || agreed || marked)
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
