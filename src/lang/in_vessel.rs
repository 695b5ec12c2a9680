//! What is called by the vessel that it stands in: "froze the one in the glass jar", "binned what was in the blue pot",
//! "how much is in the glass jar". The books tell which dish that is; here it is put behind its vessel, where every
//! reader looks for it: "froze the glass jar dal".
//!
//! ```text
//! told := ("the one" | "what's" | "what was" | ...) "in" ["the"] vessel
//!       | move "the" vessel                    at the end
//! ask  := ("what's" | "how much is" | ...) "in" ["the"] vessel
//! held := ["the"] vessel ["is" | "weighs" | "at" ...] number ["g"] ["now"]      and nothing else
//!       | ["the"] vessel { mark } number { mark } number { mark }               before and after
//! ```
//! The words stand in `data/in_hand.txt`.

use super::elided::said;
use super::token::Token;
use super::tokens::Tokens;
use super::words::{Phrases, at_scale, in_hand, losses, moves, top_ups};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 24;

/// The tokens with the dish behind its vessel, of those that stand in one alone; `None` where none is told so.
pub fn named(input: Tokens<'_>, standing: &[(String, String)]) -> Option<Vec<Token>> {
    if input.len() > TOKENS_MAX {
        return None;
    }
    let body = input.trimmed();
    let asked = in_hand().longest_of(body.slice, "asks what in");
    if let Some(length) = asked {
        let (end, dish) = vessel(body.after(length), standing)?;
        let behind = body.after(length + end);
        let ends = behind.slice.iter().all(|token| token.is('?'));
        let place = body.first()?.span.start;
        return ends.then(|| said(&format!("how much {dish}"), place));
    }
    if input.slice.iter().any(|token| token.is('?')) {
        return None;
    }
    if let Some(told) = weighed(body, standing).or_else(|| twice_weighed(body, standing)) {
        return Some(told);
    }
    (0..input.len()).find_map(|at| {
        let rest = input.after(at);
        let lead = in_hand()
            .longest_of(rest.slice, "one in")
            .or_else(|| bare(input, at))?;
        let (end, dish) = vessel(rest.after(lead), standing)?;
        let behind = rest.after(lead + end);
        let place = rest.slice[lead + end - 1].span.end;
        let mut told = input.slice[..at].to_vec();
        // A dish is topped up by its own name.
        if top_ups().longest_of(input.slice, "verb") == Some(at) {
            told.extend(said(dish, place));
            told.extend_from_slice(behind.slice);
            return Some(told);
        }
        let called = rest.slice[lead..lead + end].iter();
        let called = called.filter(|token| token.norm() != "the").cloned();
        let weighed = matches!(behind.norm(0), "is" | "weighs" | "has" | "was" | "at")
            || behind
                .first()
                .is_some_and(|token| token.is_numeric() || token.is(':'));
        if weighed {
            // "tomato sauce in the glass jar weighs 500"
            told.extend(said(&format!("{dish} in the"), place));
            let called: Vec<Token> = called.collect();
            told.extend(Token::said_at(&called, place));
            told.extend(said("weighs", place));
            let skip = usize::from(!behind.norm(0).is_empty() || behind.slice[0].is(':'));
            told.extend_from_slice(behind.after(skip).slice);
            return Some(told);
        }
        told.extend(called);
        told.extend(said(dish, place));
        told.extend_from_slice(behind.slice);
        Some(told)
    })
}

/// "the blue pot is 2300 now": what it weighs with the dish that stands in it.
fn weighed(body: Tokens<'_>, standing: &[(String, String)]) -> Option<Vec<Token>> {
    let (end, dish) = vessel(body, standing)?;
    let is = |token: &&Token| {
        matches!(
            token.norm(),
            "is" | "s" | "weighs" | "weighed" | "reads" | "says" | "at" | "now"
        ) || token.is(':')
            || token.is('=')
    };
    let said = body.after(end);
    let said = said.after(said.slice.iter().take_while(is).count());
    let behind = said.after(usize::from(said.first()?.is_numeric()));
    let unit = usize::from(matches!(behind.norm(0), "g" | "gram" | "grams"));
    let idle = |token: &Token| {
        token.norm().is_empty() && !token.is_numeric()
            || matches!(
                token.norm(),
                "now" | "rn" | "atm" | "today" | "on" | "the" | "scale" | "scales"
            )
    };
    let whole = said.len() > behind.len() && behind.after(unit).slice.iter().all(idle);
    let the = usize::from(matches!(body.norm(0), "the" | "our" | "my"));
    let place = body.first()?.span.start;
    let mut told = self::said(&format!("{dish} in the"), place);
    told.extend(Token::said_at(&body.slice[the..end], place));
    told.extend(self::said("weighs", place));
    told.extend_from_slice(&said.slice[..1]);
    whole.then_some(told)
}

/// "glass jar 1210 -> 1100", "the blue pot was 2300, now 2150": before and after, of the dish that stands in it.
fn twice_weighed(body: Tokens<'_>, standing: &[(String, String)]) -> Option<Vec<Token>> {
    let (end, dish) = vessel(body, standing)?;
    let readings = body.after(end);
    let mut rest = readings;
    let mut shown = 0;
    while let Some(first) = rest.first() {
        let said = at_scale().longest(rest.slice).map(|(length, _)| length);
        let unit = matches!(first.norm(), "g" | "gram" | "grams");
        let length = match said {
            Some(length) => length,
            None if first.is_numeric() || first.norm().is_empty() || unit => 1,
            None => return None,
        };
        shown += usize::from(first.is_numeric());
        rest = rest.after(length);
    }
    let place = body.first()?.span.start;
    let mut told = said(dish, place);
    told.extend_from_slice(readings.slice);
    (shown == 2).then_some(told)
}

/// "froze the glass jar": right behind what was done.
fn bare(input: Tokens<'_>, at: usize) -> Option<usize> {
    let before = at.checked_sub(1).map(|before| input.range(0, before + 1))?;
    let ends = |list: &Phrases| {
        list.longest(before.slice)
            .is_some_and(|(length, key)| length == at && key != "out")
    };
    let done =
        ends(moves()) || ends(losses()) || top_ups().longest_of(before.slice, "verb") == Some(at);
    (done && matches!(input.norm(at), "the" | "our")).then_some(1)
}

/// A vessel at the front, and what stands in it.
fn vessel<'s>(input: Tokens<'_>, standing: &'s [(String, String)]) -> Option<(usize, &'s str)> {
    let the = usize::from(matches!(input.norm(0), "the" | "our" | "my"));
    let said = input.after(the);
    // "the jar", where only one that is called so holds anything
    let short = |vessel: &str| vessel.rsplit(' ').next() == Some(said.norm(0));
    let mut called = standing.iter().filter(|(vessel, _)| short(vessel));
    let only = called.next().filter(|_| called.next().is_none());
    standing.iter().find_map(|told| {
        let (vessel, dish) = told;
        let whole = vessel.split(' ').count();
        let mut words = vessel.split(' ').enumerate();
        let named = words.all(|(at, word)| said.norm(at) == word);
        let length = if named { whole } else { 1 };
        let same = named || only == Some(told);
        // "the glass jar dal" is told already.
        let behind = said.norm(length);
        let ends = behind.is_empty() || !said.vocabulary.has_word(behind);
        (same && ends).then_some((the + length, dish.as_str()))
    })
}
