//! One file per verb: its grammar, its reading, its tests.
//!
//! A reader takes the whole message and gives a command, "not mine" (nom's `Error`) or "mine, but
//! malformed" (nom's `Failure`, pointing at the words).

pub mod add;
pub mod again;
pub mod amend;
pub mod avoid;
pub mod batch;
pub mod bowl;
pub mod boxes;
pub mod choose;
pub mod claim;
pub mod clock;
pub mod container;
mod contents;
pub mod cookbook;
pub mod cooked_down;
pub mod count;
pub mod course;
pub mod eaten;
pub mod fact;
pub mod filled_up;
pub mod finder;
mod finder_day;
pub mod fix;
pub mod given;
pub mod help;
pub mod history;
pub mod how_much;
pub mod in_dish;
pub mod keeps;
pub mod kept_back;
mod kept_in;
pub mod label;
mod label_size;
pub mod left;
pub mod left_over;
pub mod made_pieces;
pub mod meant_for;
pub mod measure;
pub mod mix;
pub mod moved_items;
mod moved_more;
pub mod moving;
pub mod on_scale;
pub mod on_top;
pub mod packet;
mod packing;
pub mod people;
pub mod personal;
pub mod pieces;
pub mod place_is;
pub mod plate;
pub mod portion;
pub mod pour_off;
pub mod prep;
pub mod price;
pub mod receive;
pub mod relative;
pub mod reopen;
pub mod report;
pub mod scale;
pub mod scale_owner;
pub mod set_up;
pub mod setting;
pub mod share;
pub mod show;
pub mod spoken_of;
pub mod spread;
mod spread_part;
pub mod start;
pub mod stated;
pub mod stock;
pub mod take;
pub mod tares;
pub mod top_up;
pub mod undo;
pub mod use_by;
pub mod waste;
pub mod weigh;
pub mod whereabouts;
pub mod whither;
pub mod why;

use super::syntax::Command;
use super::tokens::{Read, Tokens};
use super::words::{verbs, whole};

pub type Reader = fn(Tokens<'_>) -> Read<'_, Command>;

/// Every command: its name, its rank among complete readings, its reader.
pub const COMMANDS: &[(&str, i32, Reader)] = &[
    ("undo", 1000, undo::read),
    ("undo lately", 1000, undo::read_lately),
    ("undo move", 1000, undo::read_move),
    ("undo count", 1000, undo::read_count),
    ("undo waste", 1000, undo::read_waste),
    ("redo", 1001, undo::read_redo),
    ("drop", 1000, undo::read_drop),
    ("stock", 1000, stock::read),
    ("help", 1000, help::read),
    ("setting", 1000, setting::read),
    ("set up", 1001, set_up::read),
    ("choose", 990, choose::read),
    ("plates", 100, choose::read_plates),
    ("eaten", 960, eaten::read),
    ("last plate", 1000, eaten::read_last),
    ("due", 1000, eaten::read_due),
    ("past date", 1000, eaten::read_past_date),
    ("thawing", 1000, eaten::read_thawing),
    ("why", 1000, why::read),
    ("done", 995, eaten::read_done),
    ("again", 960, again::read),
    ("again", 905, relative::read),
    ("label", 936, label::read),
    ("packet", 920, packet::read),
    ("batch", 910, batch::read),
    ("count", 900, count::read),
    ("sheet", 1000, count::read_sheet),
    ("left", 940, left::read),
    ("left over", 941, left_over::read),
    ("boxes", 937, boxes::read),
    ("amend", 900, amend::read),
    ("measure", 880, measure::read),
    ("container", 870, container::read),
    ("tares", 947, tares::read),
    ("holds", 870, container::read_holds),
    ("weigh", 880, weigh::read),
    ("weigh unnamed", 800, weigh::read_unnamed),
    ("add", 860, add::read),
    ("pour off", 850, pour_off::read),
    ("waste", 850, waste::read),
    ("move", 935, moving::read),
    ("stated", 200, stated::read),
    ("put there", 199, stated::read_put),
    ("spread", 938, spread::read),
    ("mix", 939, mix::read),
    ("take", 945, take::read),
    ("drift", 945, report::read_drift),
    ("course", 1001, course::read),
    ("wasted", 965, report::read_wasted),
    ("price", 945, price::read),
    ("claim", 945, claim::read),
    ("reopen", 945, reopen::read),
    ("found", 933, reopen::read_found),
    ("claim in passing", 90, claim::read_bare),
    ("receive", 934, receive::read),
    ("keeps", 945, keeps::read),
    ("use by", 951, use_by::read),
    ("place is", 872, place_is::read),
    ("pieces", 890, pieces::read),
    ("top up", 936, top_up::read),
    ("cooked down", 855, cooked_down::read),
    ("portions", 845, how_much::read_portions),
    ("history", 843, history::read),
    ("whereabouts", 842, whereabouts::read),
    ("how much", 840, how_much::read),
    ("fact", 850, fact::read),
    ("finder", 963, finder::read),
    ("show", 830, show::read),
    ("made pieces", 889, made_pieces::read),
    ("people", 1004, people::read),
    ("avoid", 1003, avoid::read),
    ("in dish", 1002, in_dish::read),
    ("contents", 1001, contents::read),
    ("made", 780, batch::read_made),
    ("headless batch", 770, batch::read_headless),
];

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
