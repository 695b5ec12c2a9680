//! The clauses of a batch that are no ingredient: its weighing, its place, its day.

use nom::combinator::opt;
use nom::{Err, Parser};

use super::command::key_phrase;
use super::date::day;
use super::syntax::{Day, Weighing, Words};
use super::token::{Kind, Token};
use super::tokens::{Read, Tokens, symbol, word};
use super::vocabulary::Sense;
use super::weighing::{says_so, weighing};
use super::words::places;

/// A weighing clause: led by "cooked", "net", ..., or saying itself that it is one.
pub fn clause(input: Tokens<'_>) -> Read<'_, Weighing> {
    let led = key_phrase("weigh", input).ok();
    let start = match led {
        Some((rest, ())) => rest.without_lead(),
        None if says_so(input) => input,
        None => return input.no(),
    };
    let (rest, weighing) = weighing(start).map_err(|error| match error {
        Err::Failure(error) if led.is_none() => Err::Error(error),
        other => other,
    })?;
    let separated = rest.first().is_none_or(|token| {
        matches!(
            token.kind,
            Kind::Newline | Kind::Symbol(',' | ';' | '.' | '!')
        )
    });
    let next = rest.range(0, part_end(rest));
    if separated || place(next).is_some() || made(next).is_some() {
        Ok((rest, weighing))
    } else {
        input.no()
    }
}

/// A place, and nothing else.
pub fn place(input: Tokens<'_>) -> Option<Words> {
    let mut rest = input.trimmed();
    while matches!(
        rest.norm(0),
        "in" | "into"
            | "to"
            | "the"
            | "put"
            | "all"
            | "straight"
            | "goes"
            | "gone"
            | "went"
            | "now"
            | "it"
            | "is"
            | "stored"
            | "kept"
            | "our"
    ) || rest.first().is_some_and(|token| token.is('→'))
    {
        rest = rest.take_one();
    }
    if rest.is_empty() || rest.len() > 6 {
        return None;
    }
    let words: Vec<&str> = rest.slice.iter().map(Token::norm).collect();
    let length = (1..=words.len())
        .rev()
        .find(|&length| rest.vocabulary.is(Sense::Place, &words[..length]))
        .or_else(|| places().longest(rest.slice).map(|(length, _)| length))?;
    let idle = words[length..]
        .iter()
        .all(|word| matches!(*word, "please" | "now" | "today" | ""));
    idle.then(|| rest.range(0, length).words())
}

/// "made yesterday", "cooked on Sunday", "yesterday".
pub fn made(input: Tokens<'_>) -> Option<Day> {
    let (rest, _) = opt(word(&["made", "cooked", "prepared", "date", "dated"]))
        .parse(input)
        .ok()?;
    let (rest, _) = opt(symbol(':')).parse(rest).ok()?;
    let (rest, day) = day(rest).ok()?;
    rest.trimmed().is_empty().then_some(day)
}

/// Up to the next separator outside parentheses.
pub fn part_end(input: Tokens<'_>) -> usize {
    let mut depth = 0_i32;
    for (at, token) in input.slice.iter().enumerate() {
        match token.kind {
            Kind::Newline => return at,
            Kind::Symbol('(') => depth += 1,
            Kind::Symbol(')') => depth -= 1,
            Kind::Symbol(',' | ';') if depth <= 0 => return at,
            Kind::Symbol('.')
                if depth <= 0
                    && input.get(at + 1).is_none_or(|next| next.spaced)
                    && !token.spaced
                    && !abbreviates(input, at) =>
            {
                return at;
            }
            _ => {}
        }
    }
    input.len()
}

/// The full stop of "2 tbsp. oil" ends no sentence.
fn abbreviates(input: Tokens<'_>, at: usize) -> bool {
    let goes_on = input.get(at + 1).is_some_and(|next| {
        let text = &input.text[next.span.clone()];
        text.starts_with(|c: char| c.is_lowercase() || c.is_ascii_digit() || c == '(')
    });
    goes_on
        && at >= 2
        && input.slice[at - 2].is_numeric()
        && super::unit::unit(input.range(at - 1, at)).is_ok()
}
