//! How much an amount is off: "make it 10 more", "i said 50 too much", "the rice is 20 too little", "bump it up
//! by 20".
//!
//! ```text
//! by    := [opens | tells | line ("is" | "was" | "needs")] amount (way [tail] | way ["of"] name)
//!        | turn line ["up" | "down"] "by" amount
//!        | "both" ("are" | "should be") amount way         each of what was booked
//! way   := "more" | "too little" | "less" | "too much"
//! tail  := "than that" | "there"
//! ```
//! What was too much is put back, what was too little is had besides.

use super::off::{item, with_last};
use super::{after, before, line, said, without_closing};
use crate::lang::amount::{Stands, amount};
use crate::lang::syntax::{Amount, Command, Fix, Line, Words};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;

/// Less is a count of something else.
const GRAMS_MIN: f64 = 5.0;

pub fn read(body: Tokens<'_>) -> Option<Command> {
    each(body).or_else(|| turned(body)).or_else(|| told(body))
}

/// "both of those are 20 too high"
fn each(body: Tokens<'_>) -> Option<Command> {
    let rest = after("both", body)?;
    let rest = after("is off by", rest).unwrap_or(rest);
    let by = after("by", rest).unwrap_or(rest);
    let (rest, by) = weight(by)?;
    let (way, rest) = way(rest)?;
    let more = is_more(way);
    rest.is_empty()
        .then_some(Command::Fix(Fix::Each { by, more }))
}

/// "make it 10 more", "the rice is 20 too much"
fn told(body: Tokens<'_>) -> Option<Command> {
    let at = body.find(Token::is_numeric)?;
    let (rest, by) = weight(body.after(at))?;
    let (way, rest) = way(rest)?;
    // "50 too many there" needs nothing before it.
    let of = match at == 0 && way.starts_with("too") {
        true => None,
        false => subject(body.range(0, at))?,
    };
    let rest = after("than that", rest).unwrap_or(rest);
    let rest = rest.after(usize::from(rest.norm(0) == "of"));
    let name = match (of, rest.is_empty()) {
        (of, true) => of,
        (None, false) => item(by.clone(), rest).map(|item| item.name),
        (Some(_), false) => return None,
    };
    let more = is_more(way);
    (rest.is_empty() || name.is_some()).then(|| changed(by, name, more))?
}

/// Which way it is off, and what is behind that.
fn way(rest: Tokens<'_>) -> Option<(&'static str, Tokens<'_>)> {
    const WAYS: [&str; 4] = ["more", "too little", "too much", "less"];
    WAYS.iter().find_map(|way| Some((*way, after(way, rest)?)))
}

fn is_more(way: &str) -> bool {
    matches!(way, "more" | "too little")
}

/// What the words before the amount are about: of nothing that is named, or of a line.
fn subject(input: Tokens<'_>) -> Option<Option<Words>> {
    let whole = |part| said(part, input) == Some(input.len());
    if whole("opens") || whole("tells") {
        return Some(None);
    }
    let told = after("turns", input).or_else(|| before("is off by", input))?;
    named(told)
}

fn named(input: Tokens<'_>) -> Option<Option<Words>> {
    match line(input)? {
        Line {
            name, owner: None, ..
        } => Some(name),
        _ => None,
    }
}

/// "bump it up by 20", "reduce the rice by 30"
fn turned(body: Tokens<'_>) -> Option<Command> {
    let rest = after("turns", body)?;
    let at = rest.find(|token| token.norm() == "by")?;
    let (left, by) = weight(rest.after(at + 1))?;
    let up = |input: Tokens<'_>| said("raises", input).is_some();
    let told = rest.range(0, at);
    let end = at - usize::from(at > 0 && matches!(rest.norm(at - 1), "up" | "down"));
    let direction = [told.after(end), body];
    let more = direction.into_iter().find_map(|input| {
        up(input)
            .then_some(true)
            .or_else(|| said("lowers", input).map(|_| false))
    })?;
    let name = named(told.range(0, end))?;
    left.is_empty().then(|| changed(by, name, more))?
}

fn weight(input: Tokens<'_>) -> Option<(Tokens<'_>, Amount)> {
    let (rest, said) = amount(input, Stands::AfterName).ok()?;
    let enough = matches!(said, Amount::Bare(grams) | Amount::Mass(grams) if grams >= GRAMS_MIN);
    enough.then(|| (without_closing(rest.trimmed()), said))
}

fn changed(by: Amount, name: Option<Words>, more: bool) -> Option<Command> {
    Some(match (more, name) {
        (true, None) => Command::Fix(Fix::More(by)),
        (true, Some(name)) => with_last(by, name),
        (false, name) => {
            let name = name.unwrap_or_default();
            Command::Fix(Fix::PutBack(vec![crate::lang::syntax::Item::new(by, name)]))
        }
    })
}
