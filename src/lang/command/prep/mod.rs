//! What is told ahead of cooking.
//!
//! ```text
//! good  := name mass "," "trimmed" mass | name "come in" mass pack | name "cost" money "a kilo"
//!        | ["we have"] mass name "in the cupboard" | "always have" name | "out of" name       goods.rs
//! par   := "keep" mass dish "ready" | "no par for" dish                                       kitchen.rs
//! pot   := ["big pot" | dish "pots"] "hold" mass                                              kitchen.rs
//! limit := number "burners" | number "trays" | "at most" number "pots a day"                  kitchen.rs
//! list  := "put" things "on the list" | "shopping list:" things | "take" things "off the list"
//!        | "got" things | "shopping list" | "new list" | "done shopping"                      shop.rs
//! wish  := number meals ["for" people] [ahead] ":" dishes | dish "for" people days | "no" dish days
//!        | dish "as usual" | "wishes"                                                         wish.rs
//! dinner := day meal ":" dishes ["for" people] | dishes "for" meal day                         dinner.rs
//! plan  := ("plan" | "what should I cook") { "for" people | days | dishes }                     plan.rs
//! why   := "why" ("this much" | amount) dish                                                    plan.rs
//! steps := dish "steps" ":" step { "," step } | "no steps for" dish                             steps.rs
//! lasts := dish verb ["takes"] lasting ["not" lasting]                                          steps.rs
//! sheet := "prep sheet" ["for" dishes] ["for" at]                                             sheet.rs
//! ```
//! Every word of a message has its place, or it is none of these.

mod dinner;
mod goods;
mod kitchen;
mod plan;
mod sheet;
mod shop;
mod steps;
mod wish;

pub use steps::timed_step;

use super::Reader;
use crate::lang::syntax::{Command, Prep};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::prep;

/// Above a plate, a price of a dish and what is shared: every word of these has its place.
pub const READERS: &[(&str, i32, Reader)] = &[
    ("trimmed", 938, goods::read_trimmed),
    ("pack", 938, goods::read_pack),
    ("good price", 938, goods::read_price),
    ("in the cupboard", 1001, goods::read_in_cupboard),
    ("cupboard", 938, goods::read_cupboard),
    ("par", 938, kitchen::read_par),
    ("pot holds", 938, kitchen::read_pot),
    ("limit", 938, kitchen::read_limit),
    ("shopping list", 1000, shop::read_asked),
    ("on the list", 1000, shop::read_listed),
    ("buy", 60, shop::read_buy),
    ("add", 55, shop::read_add),
    ("got", 939, shop::read_got),
    ("wish", 950, wish::read),
    ("dinner", 950, dinner::read),
    ("none of it", 937, wish::read_none),
    ("plan", 952, plan::read),
    ("why so much", 700, plan::read_why),
    ("steps", 953, steps::read),
    ("step lasts", 1010, steps::read_lasts),
    ("sheet of work", 953, sheet::read),
];

/// The whole of the message as one of these.
fn whole<'a>(input: Tokens<'a>, read: impl Fn(Tokens<'a>) -> Option<Prep>) -> Read<'a, Command> {
    let asked = input.slice.iter().any(|token| token.is('?'));
    match read(without_please(input.trimmed())).filter(|_| !asked) {
        Some(said) => Ok((input.after(input.len()), Command::Prep(said))),
        None => input.no(),
    }
}

fn without_please(input: Tokens<'_>) -> Tokens<'_> {
    let polite = |word: &str| matches!(word, "please" | "pls" | "plz" | "thanks" | "ta" | "cheers");
    let ends = input.last().is_some_and(|token| polite(token.norm()));
    match ends && input.len() > 1 {
        true => without_please(input.range(0, input.len() - 1).trimmed_end()),
        false => input,
    }
}

/// What follows a phrase of this part.
fn phrase<'a>(part: &str, input: Tokens<'a>) -> Option<Tokens<'a>> {
    let length = prep().longest_of(input.slice, part)?;
    Some(input.after(length))
}

/// Whether the whole is a phrase of this part.
fn is_phrase(part: &str, input: Tokens<'_>) -> bool {
    prep().longest_of(input.slice, part) == Some(input.len())
}

/// What stands before a phrase of this part that is the end.
fn before<'a>(part: &str, input: Tokens<'a>) -> Option<Tokens<'a>> {
    let at = (1..input.len()).find(|at| is_phrase(part, input.after(*at)))?;
    Some(input.range(0, at))
}
