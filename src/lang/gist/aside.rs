//! Numbers that are no weights: a time, a price, a heat, a distance, a count of something else.
//!
//! ```text
//! aside := clock | date | percent | ratio | ordinal | currency number | number unit-of-something-else
//!        | number ("a" | "per") unit | number ["out"] "in" number | label number | ("at" | "til" | ...) hour
//! ```

use crate::lang::amount::{Stands, amount};
use crate::lang::number::number;
use crate::lang::syntax::Amount;
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::unit::unit;
use crate::lang::veto::ratio;
use crate::lang::words::asides;

const HOUR_MAX: f64 = 24.0;
/// "in 1987"
const YEARS: std::ops::Range<f64> = 1900.0..2100.0;
/// What stands behind such a number.
const BEHIND: [&str; 6] = ["time", "price", "heat", "distance", "people", "times"];

/// In how many vessels a dish is told to stand: "it is in 2 tubs now".
pub fn vessels(input: Tokens<'_>) -> Option<usize> {
    (1..input.len()).find_map(|at| {
        let (after, said) = number(input.after(at)).ok()?;
        let vessels = asides().longest_of(after.slice, "vessels").is_some();
        (input.norm(at - 1) == "in" && vessels).then_some(said.value as usize)
    })
}

/// How many tokens such a number takes here, with the words that explain it.
pub fn aside(input: Tokens<'_>, at: usize) -> Option<usize> {
    let rest = input.after(at);
    match rest.first()?.kind {
        // "1% of the dal" is an amount.
        Kind::Percent(_) | Kind::Ratio(..) if names_next(rest.after(1)) => return None,
        Kind::Ratio(one, other) if is_share(one, other) => return None,
        Kind::Clock | Kind::Date(..) | Kind::Percent(_) | Kind::Ratio(..) | Kind::Ordinal(_) => {
            return Some(1 + behind(rest.after(1)).unwrap_or(0));
        }
        Kind::Symbol('$') => {
            let (after, _) = number(rest.after(1)).ok()?;
            return Some(rest.len() - after.len());
        }
        _ => {}
    }
    if let Some(length) = ratio(input, at).or_else(|| past_the_hour(input, at)) {
        return Some(length);
    }
    let (after, said) = number(rest).ok()?;
    let length = rest.len() - after.len();
    // "1.29 a kilo" is a price, and neither number a weight.
    if !said.worded
        && said.value > 1.0
        && matches!(after.norm(0), "a" | "per")
        && let Ok((behind, _)) = unit(after.after(1))
    {
        return Some(rest.len() - behind.len());
    }
    let before = |key| {
        (1..=3.min(at))
            .any(|back| asides().longest_of(&input.slice[at - back..at], key) == Some(back))
    };
    if after.first().is_some_and(|token| token.is('$')) {
        return Some(length + 1);
    }
    // "for 0 people": whatever it is, it is not explained.
    let nobody = said.value == 0.0 && asides().longest_of(after.slice, "people").is_some();
    if let Some(more) = behind(after).filter(|_| !nobody) {
        return Some(length + more);
    }
    // "it is in 2 tubs now"
    if at > 0
        && input.norm(at - 1) == "in"
        && let Some(more) = asides().longest_of(after.slice, "vessels")
        && !names_next(after.after(more))
    {
        return Some(length + more);
    }
    // "1 plate: 300 soup" counts plates, "1 plate of soup" is an amount.
    if let Some(more) = asides().longest_of(after.slice, "plates")
        && !names_next(after.after(more))
    {
        return Some(length + more);
    }
    let bare = matches!(amount(rest, Stands::AfterName), Ok((_, Amount::Bare(_))));
    if !bare {
        return None;
    }
    // "220 for 12 mins" is an oven.
    let timed = number(after.after(1))
        .is_ok_and(|(behind, _)| asides().longest_of(behind.slice, "time").is_some());
    if after.norm(0) == "for" && timed {
        return Some(length);
    }
    let dated = YEARS.contains(&said.value) && at > 0 && input.norm(at - 1) == "in";
    if dated && !names_next(after) {
        return Some(length);
    }
    // "new line 45 bread" is bread.
    let labelled = before("before");
    let hour = before("clock") && said.value <= HOUR_MAX;
    ((labelled || hour) && !names_next(after)).then_some(length)
}

/// "70/40": nobody says so of anything but how a dish was divided.
fn is_share(one: f64, other: f64) -> bool {
    one % 5.0 == 0.0 && other % 5.0 == 0.0 && one.max(other) >= 30.0
}

fn behind(after: Tokens<'_>) -> Option<usize> {
    let mark = usize::from(after.first().is_some_and(|token| token.is('°')));
    BEHIND
        .iter()
        .find_map(|key| asides().longest_of(after.after(mark).slice, key))
        .map(|length| length + mark)
        .or((mark > 0).then_some(mark))
}

/// "quarter past 6", "half seven" behind "at".
fn past_the_hour(input: Tokens<'_>, at: usize) -> Option<usize> {
    let rest = input.after(at);
    // "at half 5" is no half of anything.
    let led = at > 0 && asides().longest_of(&input.slice[at - 1..at], "clock") == Some(1);
    if led
        && rest.norm(0) == "half"
        && let Ok((after, said)) = number(rest.after(1))
        && (1.0..=HOUR_MAX / 2.0).contains(&said.value)
        && !names_next(after)
    {
        return Some(rest.len() - after.len());
    }
    // "it's 5 past 8"
    let minutes = |token: &Token| matches!(token.kind, Kind::Number(said) if said.value < 60.0 && said.value % 5.0 == 0.0);
    let digits = rest.first().is_some_and(minutes) && rest.norm(1) == "past";
    let part = digits || matches!(rest.norm(0), "half" | "quarter" | "ten" | "twenty" | "five");
    if !part || !matches!(rest.norm(1), "past" | "to" | "after" | "til" | "till") {
        return None;
    }
    let (after, said) = number(rest.after(2)).ok()?;
    (said.value <= HOUR_MAX / 2.0).then_some(rest.len() - after.len())
}

/// A name follows, so the number before it is an amount.
fn names_next(after: Tokens<'_>) -> bool {
    let norm = after.norm(super::mark::links(after));
    !norm.is_empty()
        && (after.vocabulary.has_word(norm) || crate::lang::lexicon::is_food_word(norm))
}
