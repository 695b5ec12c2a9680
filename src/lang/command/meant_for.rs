//! What is said behind food that is put elsewhere: when, what it is meant for, how it is packed, and please.
//!
//! ```text
//! tail := "please" | "now" | "as well" | day | "for" (day | meal) ... | "overnight" | "to thaw" | "vacuum packed"
//! ```

use crate::lang::date::{day, meal};
use crate::lang::syntax::Day;
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::words::{boxes, calendar, meals, moves, reports};

/// Without the "please" at the end.
pub fn without_please(input: Tokens<'_>) -> Tokens<'_> {
    let polite =
        |token: &&Token| matches!(token.norm(), "please" | "pls" | "plz" | "thanks" | "thx");
    let input = input.trimmed_end();
    let tail = input.slice.iter().rev().take_while(polite).count();
    input.range(0, input.len() - tail).trimmed_end()
}

/// "as well", "now" at the end.
pub fn without_idle(input: Tokens<'_>) -> Tokens<'_> {
    let input = input.trimmed_end();
    let idle = |token: &&Token| {
        matches!(
            token.norm(),
            "now" | "too" | "also" | "already" | "well" | "as"
        )
    };
    let tail = input.slice.iter().rev().take_while(idle).count();
    input
        .range(0, input.len() - tail.min(input.len().saturating_sub(1)))
        .trimmed_end()
}

/// Without "for tomorrow", "overnight", "for tomorrow's dinner" at the end.
pub fn without_when(input: Tokens<'_>) -> Tokens<'_> {
    let input = input.trimmed_end();
    let timed = |token: &Token| is_timed(token.norm()) || token.norm() == "overnight";
    let tail = input
        .slice
        .iter()
        .rev()
        .take_while(|token| timed(token))
        .count();
    if let Some(at) = for_a_while(input) {
        return input.range(0, at).trimmed_end();
    }
    let mut at = input.len() - tail;
    if tail > 0 && at > 0 && matches!(input.norm(at - 1), "for" | "until" | "till") {
        at -= 1;
    }
    input.range(0, at).trimmed_end()
}

/// Without what it is meant for, told last: "for tomorrow", "for friday night's pasta", "overnight".
pub fn for_when(input: Tokens<'_>) -> Tokens<'_> {
    let input = input.trimmed_end();
    let input = match input.last().map(Token::norm) {
        Some("overnight") => input.range(0, input.len() - 1).trimmed_end(),
        _ => input,
    };
    let begins = |at: &usize| {
        let led = matches!(input.norm(*at), "for" | "until" | "till");
        let meant = input.after(at + 1);
        let timed = day(meant).is_ok() || meal(meant).is_ok() || is_timed(meant.norm(0));
        let more = |token: &Token| token.is_numeric() || moves().get(token.norm()).is_some();
        led && timed && !meant.slice.iter().any(more)
    };
    let meant = for_a_while(input).or_else(|| (1..input.len()).find(begins));
    input.range(0, meant.unwrap_or(input.len())).trimmed_end()
}

/// Where "for next week" begins, at the end.
fn for_a_while(input: Tokens<'_>) -> Option<usize> {
    (1..input.len()).find(|&at| {
        let tail = input.after(at);
        boxes().longest_of(tail.slice, "when") == Some(tail.len())
    })
}

/// A day at the end; one that has not come tells what it is meant for, unless it was done then.
pub fn on_a_day(input: Tokens<'_>, done: bool) -> (Tokens<'_>, Option<Day>) {
    let ends = |at: usize| {
        let (rest, day) = day(input.after(at)).ok()?;
        rest.trimmed().is_empty().then_some((at, day))
    };
    if let Some(at) = (1..input.len()).find(|&at| is_last_week(input.after(at))) {
        return (input.range(0, at).trimmed_end(), Some(Day::LastWeek));
    }
    match (1..input.len()).find_map(ends) {
        Some((at, day)) => {
            let before = input.range(0, at).trimmed_end();
            let told = match day {
                Day::Today => false,
                Day::Ahead => done,
                _ => true,
            };
            (before, told.then_some(day))
        }
        None => (input, None),
    }
}

/// "last week", "some time last week"
fn is_last_week(input: Tokens<'_>) -> bool {
    reports().longest_of(input.slice, "some day last week") == Some(input.len())
}

/// "700 out of the freezer to thaw"
pub fn to_thaw(input: Tokens<'_>) -> (Tokens<'_>, bool) {
    let ends = |at: &usize| {
        let tail = input.after(*at);
        let ends = |key| moves().longest_of(tail.slice, key) == Some(tail.len());
        ends("to thaw") || input.range(0, *at).has_number() && ends("thawing now")
    };
    match (1..input.len()).find(ends) {
        Some(at) => (input.range(0, at).trimmed_end(), true),
        None => (input, false),
    }
}

/// Without "in the microwave" at the end, and whether that was said.
pub fn by_heat(input: Tokens<'_>) -> (Tokens<'_>, bool) {
    let ends = |at: &usize| {
        let tail = input.after(*at);
        moves().longest_of(tail.slice, "by heat") == Some(tail.len())
    };
    match (1..input.len()).find(ends) {
        Some(at) => (input.range(0, at).trimmed_end(), true),
        None => (input, false),
    }
}

/// Without how it is packed, told last, and whether that was said: "vacuum packed".
pub fn without_pack(input: Tokens<'_>) -> (Tokens<'_>, bool) {
    let ends = |at: &usize| {
        let tail = input.after(*at);
        moves().longest_of(tail.slice, "packed so") == Some(tail.len())
    };
    // Before it stands what was moved.
    match (1..input.len()).find(ends) {
        Some(at) => (input.range(0, at).trimmed_end(), true),
        None => (input, false),
    }
}

fn is_timed(norm: &str) -> bool {
    let day = norm.strip_suffix('s').unwrap_or(norm);
    calendar().has(norm) || calendar().has(day) || meals().has(norm)
}
