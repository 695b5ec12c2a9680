//! A part of a thing that is counted whole: "juice of 1 lime", "zest of 2 lemons", "2 limes, juice only".
//!
//! ```text
//! part-of := ["the"] { preparation } part [ "and" part ] ("of" | "from") amount name | amount name "," part ["only"]
//! ```
//! What is booked is the part ("lime juice"), by pieces of the whole. Of zest and juice the juice counts: a
//! zest weighs next to nothing.

use super::Named;
use crate::lang::amount::may_begin;
use crate::lang::syntax::Amount;
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::singular;
use crate::lang::words::{extracts, preparation};

/// Split off "juice of" before an amount.
pub fn split(input: Tokens<'_>) -> (Tokens<'_>, Option<&'static str>) {
    let input = input.trimmed();
    let mut rest = input;
    let mut found: Option<&'static str> = None;
    while let Some((length, _)) = preparation().longest(rest.slice) {
        rest = rest.after(length);
    }
    while let Some((length, part)) = extracts().longest(rest.slice) {
        found = Some(heavier(found, part));
        rest = rest.after(length);
        if matches!(rest.norm(0), "and") || rest.first().is_some_and(|token| token.is('&')) {
            rest = rest.take_one();
        }
    }
    let of = matches!(rest.norm(0), "of" | "from");
    let whole = rest.after(1);
    match found {
        Some(part) if of && may_begin(whole) => (whole, Some(part)),
        _ => (input, None),
    }
}

/// What a comment after a comma takes of the whole: "juiced", "zest and juice".
pub fn taken(comment: Tokens<'_>) -> Option<&'static str> {
    let mut rest = comment.trimmed();
    let mut found = None;
    while !rest.is_empty() {
        if let Some((length, part)) = extracts().longest(rest.slice) {
            found = Some(heavier(found, part));
            rest = rest.after(length);
        } else if let Some((length, _)) = preparation().longest(rest.slice) {
            rest = rest.after(length);
        } else if matches!(rest.norm(0), "only" | "just" | "of" | "grated" | "freshly")
            || rest.norm(0).is_empty() && !rest.slice[0].is_numeric()
        {
            rest = rest.take_one();
        } else {
            return None;
        }
    }
    found
}

fn heavier(before: Option<&'static str>, part: &'static str) -> &'static str {
    match before {
        Some("juice") => "juice",
        _ => part,
    }
}

/// The part in the place of the whole, counted by wholes. A weight is that of the part.
pub fn apply(named: &mut Named, part: &'static str) {
    let whole = named.name.text.to_lowercase();
    let (before, last) = whole
        .rsplit_once(' ')
        .map_or(("", whole.as_str()), |(before, last)| (before, last));
    let last = singular(last);
    if part == "flesh" || last == part {
        return;
    }
    named.name.text = format!("{before} {last} {part}").trim().to_owned();
    if let Some(Amount::Bare(count)) = named.amount {
        named.amount = Some(Amount::Pieces {
            count,
            measure: Vec::new(),
        });
    }
}
