//! Lines added to a batch that is already open: "dal + 1 tsp cumin", "add 1 tsp cumin to the dal".
//!
//! ```text
//! add := batch [":"] "+" lines | "add" lines "to" ["the"] batch | ["add"] "to" batch ":" lines | batch "add" lines
//! ```

use crate::lang::amount::{Stands, amount};
use crate::lang::body::body;
use crate::lang::command::key_phrase;
use crate::lang::line::has_amount;
use crate::lang::name;
use crate::lang::syntax::{Command, ErrorKind};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::weighing::container;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    plus(input)
        .or_else(|error| keep_failure(error, || add_to(input)))
        .or_else(|error| keep_failure(error, || named_add(input)))
}

fn keep_failure<'a, T>(
    error: nom::Err<crate::lang::syntax::Error>,
    next: impl FnOnce() -> Read<'a, T>,
) -> Read<'a, T> {
    match error {
        nom::Err::Error(_) => next(),
        failure => Err(failure),
    }
}

/// "dal + 1 tsp cumin", "dal: + 500 g lentils, 1 onion"
fn plus(input: Tokens<'_>) -> Read<'_, Command> {
    let Some(at) = input.find(|token| token.is('+')) else {
        return input.no();
    };
    let name = name::bare(input.range(0, at).trimmed());
    if !is_name(name) {
        return input.no();
    }
    lines(input.after(at + 1), name)
}

/// "add 1 tsp cumin to the dal", "add to dal: 1 tsp cumin"
fn add_to(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = key_phrase("add", input)?;
    if rest.norm(0) == "to" {
        let Some(end) = rest.find(|token| {
            token.is(':') || token.is(',') || token.kind == Kind::Newline || token.is_numeric()
        }) else {
            return input.no();
        };
        let name = name::bare(rest.range(1, end));
        if !is_name(name) {
            return input.no();
        }
        return lines(rest.after(end), name);
    }
    let last_to = rest
        .slice
        .iter()
        .rposition(|token| matches!(token.norm(), "to" | "into" | "in"));
    let Some(at) = last_to else {
        return input.no();
    };
    let name = name::bare(rest.after(at + 1).trimmed());
    if !is_name(name) || name.norm(0) == "taste" {
        return input.no();
    }
    let (_, command) = lines(rest.range(0, at), name)?;
    Ok((rest.after(rest.len()), command))
}

/// "dal add 1 tsp cumin", "dal plus 1 tsp cumin"
fn named_add(input: Tokens<'_>) -> Read<'_, Command> {
    for at in 1..input.len().min(6) {
        let name = name::bare(input.range(0, at));
        if !is_name(name) {
            break;
        }
        let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
        let here = input.after(at).trimmed();
        if matches!(here.norm(0), "add" | "plus") && input.vocabulary.is_batch(&words) {
            return lines(here.take_one(), name);
        }
    }
    input.no()
}

fn is_name(name: Tokens<'_>) -> bool {
    name.is_wordy() && name.len() <= 6
}

fn lines<'a>(input: Tokens<'a>, name: Tokens<'a>) -> Read<'a, Command> {
    let known = {
        let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
        input.vocabulary.is_batch(&words)
    };
    // "soup + bowl = 640": a vessel is on the scale with it, and nothing is added.
    let weighed = |(rest, _): (Tokens<'_>, _)| {
        let next = rest.first();
        next.is_some_and(|next| next.is('=') || next.is(':') || next.is_numeric())
    };
    // "ladle of dal + 120 g rice" has an amount of its own.
    if container(input.trimmed()).is_ok_and(weighed) || amount(name, Stands::BeforeName).is_ok() {
        return input.no();
    }
    let body = body(input, input.range(0, 0));
    let plain = body.weighings.is_empty()
        && body.poured.is_empty()
        && body.places.is_empty()
        && body.made.is_none()
        && body.pieces.is_none()
        && !body.raw;
    if !plain || body.lines.is_empty() {
        return if known {
            input.fail(ErrorKind::Malformed {
                form: "dal + 1 tsp cumin",
            })
        } else {
            input.no()
        };
    }
    let has_amount = input.slice.iter().any(Token::is_numeric) || body.lines.iter().any(has_amount);
    if !known && !has_amount {
        return input.no();
    }
    Ok((
        input.after(input.len()),
        Command::Add {
            batch: name.words(),
            lines: body.lines,
        },
    ))
}
