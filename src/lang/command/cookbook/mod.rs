//! Of dishes that were cooked before.
//!
//! ```text
//! again   := ["cook"] [times "the"] dish ["recipe" | "batch"] ["again"] [scale] { but }          again.rs
//!          | "same recipe" [scale] { but } | "same" { but }, of which one is "ghee for oil"
//! scale   := "x" number | number "x" | "for" mass ["cooked"]
//! but     := "with" amount name | "plus" amount name | "but" amount name | "without" name | [amount] name "for" name
//! show    := "recipe for" dish [scale] { but } | "show" dish "recipe" | "how do we make" dish    show.rs
//! compare := "compare the last" number dish | "how did the last" number dish "compare"           show.rs
//! pace    := "how fast do we go through" dish | "when does" dish "run out" | "who eats" dish     pace.rs
//! cost    := "what does" dish "cost" | "what did we spend on food" period                        cost.rs
//! ```
//! Every word of a message has its place, or it is none of these: people talk of recipes all day.

mod again;
mod cost;
mod pace;
mod show;

use super::Reader;
use crate::lang::name;
use crate::lang::syntax::{Command, Cookbook, Words};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::cookbook;

pub use again::{is_bidden, is_figured};

/// A dish is named in so many words at most.
const DISH_WORDS_MAX: usize = 5;

/// Above a plate that is eaten again, and what is asked of dates.
pub const READERS: &[(&str, i32, Reader)] = &[
    ("cook again", 962, again::read),
    ("recipe", 962, show::read),
    ("compare", 962, show::read_compare),
    ("pace", 1002, pace::read),
    ("cost", 962, cost::read),
];

/// The whole of the message as one of these.
fn whole<'a>(
    input: Tokens<'a>,
    read: impl Fn(Tokens<'a>) -> Option<Cookbook>,
) -> Read<'a, Command> {
    match read(input.trimmed()) {
        Some(said) => Ok((input.after(input.len()), Command::Cookbook(said))),
        None => input.no(),
    }
}

/// Without the question mark at its end.
fn asked(input: Tokens<'_>) -> Tokens<'_> {
    let marks = input
        .slice
        .iter()
        .rev()
        .take_while(|token| token.is('?'))
        .count();
    input.range(0, input.len() - marks).trimmed_end()
}

/// What follows a phrase of this part.
fn phrase<'a>(part: &str, input: Tokens<'a>) -> Option<Tokens<'a>> {
    let length = cookbook().longest_of(input.slice, part)?;
    Some(input.after(length))
}

/// What follows a phrase of this part, if there is one.
fn skip<'a>(part: &str, input: Tokens<'a>) -> Tokens<'a> {
    phrase(part, input).unwrap_or(input)
}

fn is_phrase(part: &str, input: Tokens<'_>) -> bool {
    !input.is_empty() && cookbook().longest_of(input.slice, part) == Some(input.len())
}

/// The whole is a dish of the household.
fn dish(said: Tokens<'_>) -> Option<Words> {
    name::of_batch(said).filter(|_| !said.is_empty())
}

/// A dish at the front, and what follows it.
fn dish_first(said: Tokens<'_>) -> Option<(Words, Tokens<'_>)> {
    let words = said.slice.iter().take(DISH_WORDS_MAX + 1);
    let words = words
        .take_while(|token| matches!(token.kind, Kind::Word(_)))
        .count();
    let found = (1..=words)
        .rev()
        .find_map(|length| Some((length, dish(said.range(0, length))?)));
    found.map(|(length, dish)| (dish, said.after(length)))
}

/// The same, where nothing but a dish can stand, whether there is one of that name or not.
fn dish_told(said: Tokens<'_>) -> Option<(Words, Tokens<'_>)> {
    let unknown = || {
        let name = name::bare(said.trimmed());
        let fits = name.is_wordy() && !name.is_empty() && name.len() <= DISH_WORDS_MAX;
        fits.then(|| (name.words(), said.after(said.len())))
    };
    dish_first(said).or_else(unknown)
}

/// What stands between a phrase of the first part and one of the second at the end is a dish.
fn between(before: &str, behind: &str, said: Tokens<'_>) -> Option<Words> {
    let rest = phrase(before, said)?;
    let at = (1..rest.len()).find(|at| is_phrase(behind, rest.after(*at)))?;
    dish(rest.range(0, at))
}

/// The same, whether there is one of that name or not.
fn between_any(before: &str, behind: &str, said: Tokens<'_>) -> Option<Words> {
    let known = between(before, behind, said);
    known.or_else(|| {
        let rest = phrase(before, said)?;
        let at = (1..rest.len()).find(|at| is_phrase(behind, rest.after(*at)))?;
        Some(dish_told(rest.range(0, at))?.0)
    })
}

#[cfg(test)]
mod tests;
