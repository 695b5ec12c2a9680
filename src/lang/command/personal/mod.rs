//! What people choose for themselves and ask of what they ate.
//!
//! ```text
//! target  := [lead] [own] [daily] ["target" | field "target"] ["is"] aim { ("," | "and") aim } ["a day"]
//! aim     := [bound] number ["to" number] [unit] field [bound] | field [bound] number ["to" number] [unit]   target.rs
//! none    := "no" ([field] "target" | "target for" field)                                            target.rs
//! left    := "what do I still have" | "how much" field "is left" ["for me"] ["today"]                left.rs
//! week    := "week" | "last week" | "what did" who "have" ("this week" | "last week")                day.rs
//! day     := "my day" | "how was my" day                                                             day.rs
//! sources := "where did my" field "come from" [when] | ["chart of"] "my" field "by dish" [when]      sources.rs
//!          | ("how much" field "did I have" | "my" field) week                                        sources.rs
//! numbers := "no numbers for me" | "numbers on"                                                      chosen.rs
//! totals  := "my totals in private" | "my totals here"                                               chosen.rs
//! delete  := ("delete me" | "delete" who | "delete this household") ["for good"]                     delete.rs
//! ```

mod chosen;
mod day;
mod delete;
mod left;
mod sources;
pub mod target;

use super::Reader;
use crate::lang::syntax::{Aimed, Command, Personal};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::personal;

/// Above a plate, a fact and how much of a dish: every word of these has its place.
pub const READERS: &[(&str, i32, Reader)] = &[
    ("target", 962, target::read),
    ("no target", 1002, target::read_none),
    ("targets", 1002, target::read_asked),
    ("left for me", 1003, left::read),
    ("my day", 1001, day::read),
    ("week", 1001, day::read_week),
    ("sources", 1004, sources::read),
    ("chosen", 1003, chosen::read),
    ("delete", 1003, delete::read),
];

/// The whole of the message as one of these, asked or not.
fn whole<'a>(
    input: Tokens<'a>,
    read: impl Fn(Tokens<'a>) -> Option<Personal>,
) -> Read<'a, Command> {
    all_of_it(input, |body| read(body).map(Command::Personal))
}

/// The whole of the message as any command, asked or not.
fn all_of_it<'a>(
    input: Tokens<'a>,
    read: impl Fn(Tokens<'a>) -> Option<Command>,
) -> Read<'a, Command> {
    let body = input.trimmed();
    let asked = body.last().is_some_and(|token| token.is('?'));
    let body = body.range(0, body.len() - usize::from(asked)).trimmed();
    let polite = |body: &Tokens<'_>| {
        let last = body.slice.last().map_or("", |token| token.norm());
        body.len() > 1 && matches!(last, "please" | "pls" | "plz" | "thanks")
    };
    let body = match polite(&body) {
        true => body.range(0, body.len() - 1).trimmed(),
        false => body,
    };
    match read(body) {
        Some(said) => Ok((input.after(input.len()), said)),
        None => input.no(),
    }
}

/// What follows a phrase of this part.
fn phrase<'a>(part: &str, input: Tokens<'a>) -> Option<Tokens<'a>> {
    let length = personal().longest_of(input.slice, part)?;
    Some(input.after(length))
}

/// The same without it where it does not stand there.
fn maybe<'a>(part: &str, input: Tokens<'a>) -> Tokens<'a> {
    phrase(part, input).unwrap_or(input)
}

/// Whether the whole is a phrase of this part.
fn is_phrase(part: &str, input: Tokens<'_>) -> bool {
    personal().longest_of(input.slice, part) == Some(input.len())
}

/// In what a figure of it is told beside its own unit.
#[derive(Clone, Copy, PartialEq)]
enum Unit {
    Kcal,
    Kilojoule,
    Megajoule,
    Gram,
    Milligram,
    /// Of sodium: 2.5 times as much salt.
    Sodium,
}

const FIELDS: [(&str, Aimed); 9] = [
    ("kcal", Aimed::Energy),
    ("kj", Aimed::Energy),
    ("mj", Aimed::Energy),
    ("protein", Aimed::Protein),
    ("fat", Aimed::Fat),
    ("carbohydrate", Aimed::Carbohydrate),
    ("fibre", Aimed::Fibre),
    ("salt", Aimed::Salt),
    ("sodium", Aimed::Salt),
];

/// What is counted, and the unit that its name tells.
fn field(input: Tokens<'_>) -> Option<(Tokens<'_>, Aimed, Unit)> {
    FIELDS.into_iter().find_map(|(part, of)| {
        let rest = phrase(part, input)?;
        let unit = match part {
            "kcal" => Unit::Kcal,
            "kj" => Unit::Kilojoule,
            "mj" => Unit::Megajoule,
            "sodium" => Unit::Sodium,
            _ => Unit::Gram,
        };
        Some((rest, of, unit))
    })
}
