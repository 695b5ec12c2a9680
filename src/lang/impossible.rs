//! What of time cannot be, or is over: "31 February", "25:00", "-5 min", "yesterday".

use nom::combinator::opt;
use nom::{Err, Parser};

use super::date;
use super::lasting::lasting;
use super::syntax::{Day, Words};
use super::token::Kind;
use super::tokens::{Tokens, word};
use super::words::clock;

/// What of time cannot be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Impossible {
    Day,
    Hour,
    Span,
    /// It has gone by.
    Gone,
    /// It comes again and again.
    Often,
}

/// What cannot be, wherever it stands: "31 February", "25:00", "-5 min".
pub fn impossible(input: Tokens<'_>) -> Option<(Words, Impossible)> {
    (0..input.len()).find_map(|at| {
        let rest = input.after(at);
        let no = |told: Option<Words>, what| told.map(|told| (told, what));
        no(no_date(rest), Impossible::Day)
            .or_else(|| no(no_hour(rest), Impossible::Hour))
            .or_else(|| no(no_span(rest), Impossible::Span))
    })
}

/// "every day", "every Sunday", "daily", "each morning": a reminder rings once.
pub fn often(input: Tokens<'_>) -> Option<Words> {
    let alone = |at: &usize| matches!(input.norm(*at), "daily" | "weekly" | "hourly" | "monthly");
    let each = |at: &usize| {
        let next = input.after(at + 1);
        let span = clock().longest_of(next.slice, "span").is_some();
        matches!(input.norm(*at), "every" | "each") && (span || date::day(next).is_ok())
    };
    let at = (0..input.len()).find(|at| alone(at) || each(at))?;
    let length = if alone(&at) { 1 } else { 2 };
    Some(input.range(at, at + length).words())
}

/// "yesterday", "last Sunday", "3 days ago", "last week": what is over when it is asked for.
pub fn gone(input: Tokens<'_>) -> Option<Words> {
    let (rest, lead) = opt(word(&["on", "from"])).parse(input).ok()?;
    let led = usize::from(lead.is_some());
    if (rest.norm(0), rest.norm(1)) == ("last", "week") {
        return Some(input.range(led, led + 2).words());
    }
    let (behind, day) = date::day(rest).ok()?;
    let over = matches!(day, Day::Yesterday | Day::DaysAgo(_)) || rest.norm(0) == "last";
    over.then(|| input.range(led, input.len() - behind.len()).words())
}

fn no_date(input: Tokens<'_>) -> Option<Words> {
    match date::day(input) {
        Err(Err::Failure(error)) => Some(Words::new(
            input.text[error.span.clone()].to_owned(),
            error.span,
        )),
        _ => None,
    }
}

fn no_hour(input: Tokens<'_>) -> Option<Words> {
    let whole = |at: usize| match input.get(at)?.kind {
        Kind::Number(number) if number.value.fract() == 0.0 => Some(number.value),
        _ => None,
    };
    let glued = |at: usize| input.get(at).is_some_and(|token| !token.spaced);
    let colon = input.get(1).is_some_and(|token| token.is(':')) && glued(1) && glued(2);
    let (hour, minute) = (whole(0)?, whole(2)?);
    (colon && (hour >= 24.0 || minute >= 60.0)).then(|| input.range(0, 3).words())
}

fn no_span(input: Tokens<'_>) -> Option<Words> {
    let sign = input.first()?.is('-') && input.get(1).is_some_and(|next| !next.spaced);
    let minus = sign || matches!(input.norm(0), "minus" | "negative");
    let (rest, _) = lasting(input.after(1)).ok().filter(|_| minus)?;
    Some(input.range(0, input.len() - rest.len()).words())
}
