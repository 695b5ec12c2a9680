//! What is said of several pots of one dish and chooses none: "560 stew, finished sunday's and topped up from the new
//! one", which is how the books draw by themselves, and "620 stew, didn't look which pot".
//!
//! ```text
//! unsaid := emptied pot { "," | "and" } went-on pot | unknown "which" "pot"      (data/choosers.txt)
//! pot    := ["the" | "from the"] (age | day "'s") ["one" | "pot"]
//! ```

use std::ops::Range;

use crate::lang::token::Kind;
use crate::lang::tokens::Tokens;
use crate::lang::which::{is_end, last_dish, told_day};
use crate::lang::words::choosers;

/// Where it is said.
pub fn unsaid(input: Tokens<'_>) -> Option<Range<usize>> {
    unsaid_pot(input).or_else(|| both_pots(input))
}

/// "didn't look which pot": the books choose.
fn unsaid_pot(input: Tokens<'_>) -> Option<Range<usize>> {
    let part = |at: usize, key| choosers().longest_of(input.after(at).slice, key);
    (0..input.len()).find_map(|at| {
        let taken = part(at, "taken").unwrap_or(0);
        let lead = taken + part(at + taken, "unknown")?;
        let thing = part(at + lead, "pot").or_else(|| part(at + lead, "thing"))?;
        let end = at + lead + thing;
        // "dunno which one ate it"
        is_end(input.after(end)).then(|| with_comma(input, at)..end)
    })
}

/// "finished sunday's and topped up from the new one": of one dish, the older first, as the books draw.
fn both_pots(input: Tokens<'_>) -> Option<Range<usize>> {
    let part = |at: usize, key| choosers().longest_of(input.after(at).slice, key);
    (0..input.len()).find_map(|at| {
        let first = at + part(at, "emptied")?;
        let (length, older) = pot_of(input.after(first))?;
        let mut second = first + length;
        while joins(input, second) {
            second += 1;
        }
        second += part(second, "went on")?;
        let (length, newer) = pot_of(input.after(second))?;
        let in_order = older != "new" && newer != "old" && older != newer;
        let end = second + length;
        let told = last_dish(input.range(0, at)).is_some();
        (in_order && told).then(|| with_comma(input, at)..end)
    })
}

/// One of several pots, by its age or its day.
fn pot_of(input: Tokens<'_>) -> Option<(usize, String)> {
    let part = |at: usize, key| choosers().longest_of(input.after(at).slice, key);
    let lead = part(0, "taken").or_else(|| part(0, "lead")).unwrap_or(0);
    let age = ["old", "new"]
        .into_iter()
        .find_map(|age| Some((part(lead, age)?, age.to_owned())));
    let (length, word) = age.or_else(|| told_day(input.after(lead)))?;
    let end = lead + length;
    let thing = part(end, "thing").or_else(|| part(end, "pot")).unwrap_or(0);
    Some((end + thing, word))
}

fn joins(input: Tokens<'_>, at: usize) -> bool {
    let comma = input.get(at).is_some_and(|token| token.is(','));
    comma || matches!(input.norm(at), "and" | "n" | "then")
}

/// From the comma that leads to this place.
fn with_comma(input: Tokens<'_>, at: usize) -> usize {
    let comma = |at: &usize| matches!(input.slice[*at].kind, Kind::Symbol(',' | '-' | '.'));
    at.checked_sub(1).filter(comma).unwrap_or(at)
}
