//! Numbers that count something else than food: minutes, money, pages, an hour of the clock. They explain
//! themselves, and a clause that holds no other number tells of no weighing.

use super::aside::begins_name;
use super::command::share::ratio;
use super::number::{Number, number};
use super::rank::SCALE_GRAMS_MIN;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::unit;
use super::words::{counted_things, times};

/// A number that counts something else than food: how many tokens it and its thing take.
pub fn reckoned(clause: Tokens<'_>, at: usize) -> Option<usize> {
    let before = if at > 0 { clause.norm(at - 1) } else { "" };
    let token = &clause.slice[at];
    if token.is('$') && clause.get(at + 1).is_some_and(Token::is_numeric) {
        return Some(2);
    }
    // "50/30/20" divides something.
    let divides = ratio(clause.after(at)).is_some();
    if matches!(token.kind, Kind::Clock | Kind::Date(..)) && !divides {
        return Some(1 + usize::from(matches!(clause.norm(at + 1), "am" | "pm")));
    }
    // "quarter past 6", "half 7"
    if let Some((length, _)) = times().longest(&clause.slice[at..])
        && is_hour(clause.after(at + length))
    {
        return Some(length + 1);
    }
    let (rest, said) = number(clause.after(at))
        .ok()
        .filter(|(_, number)| !number.article)?;
    let length = clause.len() - at - rest.len();
    if rest.first().is_some_and(|next| next.is('$')) {
        return Some(length + 1);
    }
    let skip = usize::from(matches!(rest.norm(0), "more" | "other" | "whole" | "long"));
    if let Some((thing, _)) = counted_things().longest(rest.after(skip).slice)
        && !may_be_slip(&said, rest.after(skip))
    {
        return Some(length + skip + thing);
    }
    // "ten out of ten"
    if rest.norm(0) == "out" && rest.norm(1) == "of" {
        let whole = number(rest.after(2)).ok()?;
        return Some(clause.len() - at - whole.0.len());
    }
    let timed = times().has(before) && is_hour(clause.after(at));
    let numbered = counted_things().has(before) && unit(rest).is_err() && !before.ends_with('s');
    (timed || numbered).then_some(length)
}

/// "200 step": so many would be steps, and a stew is only a slip away.
fn may_be_slip(said: &Number, thing: Tokens<'_>) -> bool {
    let norm = thing.norm(0);
    said.value >= SCALE_GRAMS_MIN && !norm.ends_with('s') && thing.vocabulary.is_near_dish(norm)
}

/// "7", "6.30", "seven"
fn is_hour(input: Tokens<'_>) -> bool {
    let hour = |number: Number| (1.0..=24.0).contains(&number.value);
    let read = number(input);
    read.is_ok_and(|(rest, number)| {
        hour(number) && (rest.is_empty() || unit(rest).is_err() && !begins_name(rest))
    })
}
