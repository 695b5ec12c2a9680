//! Timers and reminders, one file for each way to speak of them.

mod away;
mod never;
pub mod remind;
mod setting;
mod timer;
mod waiting;

use super::Reader;
use crate::lang::lexer::folded_words;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::syntax::Words;
use crate::lang::tokens::Tokens;
use crate::lang::words::{clock, containers, pots};

pub use remind::nudged;

pub const READERS: &[(&str, i32, Reader)] = &[
    ("timer", 946, timer::read),
    ("dish first", 944, timer::read_dish_first),
    ("remind", 947, remind::read),
    ("away", 949, away::read),
    ("never", 1002, never::read),
    ("absences", 1000, away::read_absences),
    ("household time", 1000, setting::read),
    ("timers", 1000, waiting::read_pending),
    ("cancel timer", 1001, waiting::read_cancel),
    ("more time", 947, waiting::read_more),
    ("put off", 56, waiting::read_put_off),
];

/// What a timer is called: nobody calls it by more.
const WORDS_MAX: usize = 14;

/// What is to be done, without the words that lead up to it; nothing where nothing is told.
fn called(input: Tokens<'_>) -> Option<Words> {
    let told = without_leads(input);
    (told.len() <= WORDS_MAX).then(|| match told.is_empty() {
        true => Words::plain(""),
        false => told.words(),
    })
}

/// Without "to", "for the" in front and politeness behind.
fn without_leads(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input.trimmed().trimmed_end();
    while let Some(length) = clock().longest_of(rest.slice, "lead") {
        rest = rest.after(length).trimmed_front();
    }
    let polite = |rest: Tokens<'_>| {
        let last = rest.last().map(|token| token.norm());
        matches!(last, Some("please" | "pls" | "thanks"))
    };
    while polite(rest) {
        rest = rest.range(0, rest.len() - 1).trimmed_end();
    }
    rest
}

/// A dish, a food, or what it cooks in.
fn is_known(words: &Words, input: Tokens<'_>) -> bool {
    let folded = folded_words(&words.text);
    let Some(last) = folded.last() else {
        return false;
    };
    familiarity(&words.text, input) >= Familiarity::Food
        || folded.len() == 1 && (containers().has(last) || pots().has(last))
}
