//! One file per verb: its grammar, its reading, its tests.
//!
//! A reader takes the whole message and gives a command, "not mine" (nom's `Error`) or "mine, but
//! malformed" (nom's `Failure`, pointing at the words).

pub mod add;
pub mod again;
pub mod amend;
pub mod batch;
pub mod bowl;
pub mod boxes;
pub mod choose;
pub mod claim;
pub mod container;
pub mod cooked_down;
pub mod count;
pub mod eaten;
pub mod fact;
pub mod fix;
pub mod help;
pub mod history;
pub mod how_much;
pub mod keeps;
pub mod label;
pub mod left;
pub mod left_over;
pub mod made_pieces;
pub mod measure;
pub mod moving;
pub mod not_yet;
pub mod on_scale;
pub mod on_top;
pub mod packet;
pub mod pieces;
pub mod place_is;
pub mod plate;
pub mod portion;
pub mod pour_off;
pub mod price;
pub mod receive;
pub mod reopen;
pub mod report;
pub mod scale;
pub mod setting;
pub mod share;
pub mod show;
pub mod spoken_of;
pub mod start;
pub mod stock;
pub mod take;
pub mod top_up;
pub mod undo;
pub mod use_by;
pub mod waste;
pub mod weigh;
pub mod whereabouts;
pub mod why;

use super::tokens::{Read, Tokens};
use super::words::{verbs, whole};

/// A verb's phrase from `data/verbs.txt`.
pub fn key_phrase<'a>(key: &'static str, input: Tokens<'a>) -> Read<'a, ()> {
    match verbs().longest_of(input.slice, key) {
        Some(length) => Ok((input.after(length), ())),
        None => input.no(),
    }
}

/// A phrase from `data/whole.txt` that is the whole message.
pub fn whole_phrase<'a>(key: &'static str, input: Tokens<'a>) -> Read<'a, ()> {
    let input = input.trimmed_front();
    match whole().longest_of(input.slice, key) {
        Some(length) if only_marks(input.after(length)) => Ok((input.after(input.len()), ())),
        _ => input.no(),
    }
}

/// Whether the whole takes back what was said last, and whether nothing else is said so.
pub fn takes_back(input: Tokens<'_>) -> Option<bool> {
    let says = |key| whole_phrase(key, input).is_ok();
    says("undo")
        .then_some(true)
        .or(says("undo lately").then_some(false))
}

/// Nothing but marks and a word of politeness.
pub fn only_marks(input: Tokens<'_>) -> bool {
    input.slice.iter().all(|token| {
        matches!(
            token.kind,
            super::token::Kind::Symbol(_) | super::token::Kind::Newline
        ) || matches!(token.norm(), "please" | "pls" | "thanks" | "now" | "then")
    })
}

/// Split off "anyway" at the end.
pub fn anyway(input: Tokens<'_>) -> (Tokens<'_>, bool) {
    let trimmed = input.trimmed_end();
    match trimmed.last() {
        Some(last) if matches!(last.norm(), "anyway" | "anyhow") => {
            let body = trimmed.range(0, trimmed.len() - 1);
            (body.trimmed_end(), true)
        }
        _ => (input, false),
    }
}
