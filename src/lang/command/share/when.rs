//! Days, meals and times between the plates of a table, and which day it was not.
//!
//! ```text
//! when   := moment [copula]
//! moment := clock | meal | ["for"] day [denial]
//! denial := [","] "not" day
//! ```

use super::mark::{Mark, parts};
use super::party::{self, Before};
use crate::lang::amount::grams;
use crate::lang::date::{clock, day, meal};
use crate::lang::syntax::MealName;
use crate::lang::token::Kind;
use crate::lang::tokens::Tokens;

/// A day, a meal or a time, where it begins or ends what is told.
pub fn when(rest: Tokens<'_>, begins: bool) -> Option<(usize, Mark)> {
    let (after, mark) = moment(rest)?;
    let length = rest.len() - after.len();
    let copula = usize::from(matches!(after.norm(0), "was" | "were" | "is"));
    let after = after.after(copula);
    let ends = after.first().is_none_or(parts)
        || moment(after).is_some()
        || party::said(after, &mut Before::default()).is_some();
    (begins || ends).then_some((length + copula, mark))
}

fn moment(rest: Tokens<'_>) -> Option<(Tokens<'_>, Mark)> {
    if rest.is_empty() {
        return None;
    }
    if let Ok((after, ())) = clock(rest) {
        return Some((after, Mark::When(None, None)));
    }
    if let Ok((after, meal)) = meal(rest) {
        return Some((after, Mark::When(None, Some(meal))));
    }
    // "tea" and "snack" are food as well, unless a day follows.
    if matches!(rest.norm(0), "tea" | "snack")
        && let Some((after, Mark::When(day, None))) = moment(rest.after(1)).or_else(|| {
            let told = matches!(rest.norm(1), "is" | "was");
            told.then_some((rest.after(1), Mark::When(None, None)))
        })
    {
        let meal = if rest.norm(0) == "tea" {
            MealName::Dinner
        } else {
            MealName::Snack
        };
        return Some((after, Mark::When(day, Some(meal))));
    }
    // "2/3" is a fraction before it is a date.
    if matches!(rest.slice[0].kind, Kind::Number(_))
        && rest.text[rest.slice[0].span.clone()].contains('/')
    {
        return None;
    }
    let lead = usize::from(matches!(rest.norm(0), "for" | "under"));
    let (after, said) = day(rest.after(lead)).ok()?;
    Some((without_denial(after), Mark::When(Some(said), None)))
}

/// "yesterday, not today", "the 11th, not yesterday": which day it was not tells nothing more.
fn without_denial(after: Tokens<'_>) -> Tokens<'_> {
    let skip = usize::from(
        after
            .first()
            .is_some_and(|token| token.is(',') || token.is('(')),
    );
    let rest = after.after(skip);
    match (rest.norm(0), day(rest.after(1))) {
        ("not", Ok((end, _))) => end.after(usize::from(
            skip > 0 && end.first().is_some_and(|token| token.is(')')),
        )),
        _ => after,
    }
}

/// "not today, yesterday": the day that it was not.
pub fn denied_day(rest: Tokens<'_>) -> Option<usize> {
    let (after, _) = day(rest.after(1)).ok()?;
    let next = after.after(usize::from(
        after.first().is_some_and(|token| token.is(',')),
    ));
    let next = next.after(usize::from(next.norm(0) == "but"));
    (rest.norm(0) == "not" && day(next).is_ok()).then_some(rest.len() - after.len())
}

/// "not 220": what it was instead is told beside it.
pub fn denied_amount(rest: Tokens<'_>) -> Option<usize> {
    let (behind, _) = grams(rest.after(1))
        .ok()
        .filter(|_| rest.norm(0) == "not")?;
    let ends = behind.first().is_none_or(parts);
    ends.then_some(rest.len() - behind.len())
}
