//! What is left of a dish, told in a clause of its own: "dal 650 left", "650 g of dal remaining", "dal 1400
//! now", "no dal left", "the soup is all gone".
//!
//! ```text
//! left := [lead] (dish [":"] mass | mass ["of"] dish) ("left" | "now") | dish "now" mass
//!       | counted mass ["of"] dish | the same of pieces, where the dish is counted in them
//!       | "no" dish "left" | "out of" dish | dish "gone" | dish "left" [":"] "0"
//! ```
//! So little that it may be what stayed on a plate is a correction's to read (`fix/off.rs`).

use crate::lang::amount::grams;
use crate::lang::number::number;
use crate::lang::place;
use crate::lang::syntax::{Command, Span, Weighed, Weighing, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{containers, left, outros};

/// What stays on a plate is less.
const POT_GRAMS_MIN: f64 = 150.0;
/// What is on a plate is less.
const PLATE_GRAMS_MAX: f64 = 600.0;
/// Nobody counts more pieces by eye.
const PIECES_MAX: f64 = 99.0;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = without_echo(input.trimmed().trimmed_end());
    let (rest, place) = place_last(body);
    match none(rest).or_else(|| some(rest)) {
        // "560 rice left in the freezer"
        Some(weighed) if weighed.place.is_some() && place.is_some() => input.no(),
        Some(mut weighed) => {
            weighed.place = weighed.place.or(place);
            Ok((
                input.after(input.len()),
                Command::Count {
                    rest: None,
                    items: vec![weighed],
                    anyway: false,
                },
            ))
        }
        None => input.no(),
    }
}

/// "no beans left btw", "no beans left, tub is empty": what only says so again.
fn without_echo(body: Tokens<'_>) -> Tokens<'_> {
    let length = outros().length_at_end(body.slice);
    let body = body.range(0, body.len() - length).trimmed_end();
    let Some(at) = body.slice.iter().rposition(|token| token.is(',')) else {
        return body;
    };
    let Some((last, rest)) = body.slice[at + 1..].split_last() else {
        return body;
    };
    let says = |token: &Token| {
        let norm = token.norm();
        matches!(norm, "the" | "its" | "is" | "all" | "now") || containers().has(norm)
    };
    let empty = matches!(last.norm(), "empty" | "bare" | "clean") && rest.iter().all(says);
    match empty {
        true => body.range(0, at),
        false => body,
    }
}

/// A dish, and where it stands.
type Dish = (Words, Option<Words>);

/// Nothing is left of it.
fn none(body: Tokens<'_>) -> Option<Weighed> {
    if let Some(length) = left().longest_of(body.slice, "no more") {
        let (rest, _) = without_last(body.after(length), "left");
        return dish(rest).map(|name| weighed(name, 0.0, body.span()));
    }
    if let Some(length) = left().longest_of(body.slice, "no") {
        let (rest, told) = without_last(body.after(length), "left");
        let name = dish(rest).filter(|_| told)?;
        return Some(weighed(name, 0.0, body.span()));
    }
    if let Some(length) = left().longest_of(body.slice, "out") {
        return dish(body.after(length)).map(|name| weighed(name, 0.0, body.span()));
    }
    if let Some(length) = left().longest_of(body.slice, "last") {
        // "the last of the rice went", "thats the last of the rice"
        let bare =
            left().longest_of(body.slice, "thats").is_none() && !body.norm(0).starts_with("we");
        let (rest, gone) = without_last(body.after(length), "gone");
        return dish(rest)
            .filter(|_| gone || !bare)
            .map(|name| weighed(name, 0.0, body.span()));
    }
    let (rest, gone) = without_last(body, "gone");
    if gone {
        // "thats the parsnips gone"
        let lead = left().longest_of(rest.slice, "thats").unwrap_or(0);
        let rest = rest.after(lead);
        return dish(rest).map(|name| weighed(name, 0.0, body.span()));
    }
    let (last, rest) = body.slice.split_last()?;
    let zero = matches!(last.kind, Kind::Number(numeral) if numeral.value == 0.0);
    let rest = unmarked(body.with(rest));
    let (rest, told) = without_last(rest, "left");
    let name = (zero && told).then(|| dish(rest)).flatten()?;
    Some(weighed(name, 0.0, body.span()))
}

/// So much is left of it.
fn some(body: Tokens<'_>) -> Option<Weighed> {
    let (body, counted) = without_first(body);
    let (rest, told, now) = match without_last(body, "left") {
        (rest, true) => (rest, true, false),
        _ => {
            let (rest, now) = without_last(body, "now");
            (rest, now, now)
        }
    };
    // "240 soup now" may as well be on a plate.
    let least = if now { PLATE_GRAMS_MAX } else { POT_GRAMS_MIN };
    // "3 boxes" may as well be a measure.
    let pieces = || {
        let (after, count) = number(rest).ok()?;
        are_pieces(after, count.value).then_some((after, count.value))
    };
    if let Some((after, mass)) = grams(rest).ok().or_else(pieces) {
        let pieces = are_pieces(after, mass);
        let enough = told && (mass >= least || pieces && !now) || counted && pieces;
        let name = dish(after).filter(|_| enough)?;
        return Some(weighed(name, mass, body.span()));
    }
    let at = rest.find(Token::is_numeric)?;
    let (after, mass) = grams(rest.after(at)).ok()?;
    let (before, now) = without_last(unmarked(rest.range(0, at)), "now");
    // "soup is at 2500 now"
    let stands = |token: &&Token| matches!(token.norm(), "is" | "are" | "at" | "weighs");
    let links = before.slice.iter().rev().take_while(stands).count();
    let before = before.range(0, before.len() - links);
    let enough = mass >= POT_GRAMS_MIN || told && are_pieces(before, mass);
    let whole = after.is_empty() && (told || now) && enough;
    let name = whole.then(|| dish(before)).flatten()?;
    Some(weighed(name, mass, body.span()))
}

/// Without "there are only", "just counted," at the front, and whether somebody counted.
fn without_first(body: Tokens<'_>) -> (Tokens<'_>, bool) {
    let (mut rest, mut counted) = (body, false);
    loop {
        let lead = ["counted", "lead"]
            .into_iter()
            .find_map(|kind| Some((left().longest_of(rest.slice, kind)?, kind)));
        match lead {
            Some((length, kind)) => {
                counted |= kind == "counted";
                rest = rest.after(length).without_lead();
            }
            None => return (rest, counted),
        }
    }
}

/// So many pieces of what is counted in them.
fn are_pieces(said: Tokens<'_>, count: f64) -> bool {
    let few = count.fract() == 0.0 && count <= PIECES_MAX;
    let words = said.slice.iter().map(Token::norm);
    few && words.into_iter().any(|word| said.vocabulary.is_piece(word))
}

/// Without "in the freezer" at its end, where something is told to be left before it.
fn place_last(body: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let told = |at: usize| {
        let before = body.range(0, at);
        ["left", "gone", "now"]
            .iter()
            .any(|kind| without_last(before, kind).1)
            || left().longest_of(body.slice, "no").is_some()
            || left().longest_of(body.slice, "out").is_some()
    };
    for at in (1..body.len()).rev() {
        if let Some((rest, place)) = place::inside(body.after(at))
            && rest.is_empty()
            && told(at)
        {
            return (body.range(0, at), Some(place));
        }
    }
    (body, None)
}

/// Without a phrase of this kind at its end, and whether one stood there.
fn without_last<'a>(input: Tokens<'a>, kind: &'static str) -> (Tokens<'a>, bool) {
    let begins = (0..input.len())
        .find(|&at| left().longest_of(&input.slice[at..], kind) == Some(input.len() - at));
    match begins {
        Some(at) => (input.range(0, at), true),
        None => (input, false),
    }
}

fn unmarked(input: Tokens<'_>) -> Tokens<'_> {
    let marks = |token: &&Token| matches!(token.kind, Kind::Symbol(':' | '=' | '-' | ','));
    let marks = input.slice.iter().rev().take_while(marks).count();
    input.range(0, input.len() - marks)
}

/// A dish of the household, where it stands, and nothing else.
fn dish(input: Tokens<'_>) -> Option<Dish> {
    place::dish(unmarked(input))
}

fn weighed((name, place): Dish, grams: f64, span: Span) -> Weighed {
    Weighed {
        name,
        place,
        weighing: Weighing::net(grams, span),
    }
}
