//! Sizes that hang on somebody else's, or on what is left.
//!
//! ```text
//! relation := times [dish] [against] | "the same" [dish] "as" who | mass ("more" | "less") [dish] ["than" who]
//!           | fraction ["of"] "what" who "had" | fraction ["of"] "the rest" ["of" dish]
//! times    := "twice" | "double" | "half as much" | n "times"
//! against  := ("as" | "what" | "of" | "than") who ["had"]
//! ```

use super::party::{Before, reference};
use super::size::Size;
use crate::lang::amount::{Stands, amount};
use crate::lang::number::number;
use crate::lang::syntax::{Amount, Words};
use crate::lang::tokens::Tokens;
use crate::lang::words::at_table;

/// A size and the dish that is named within it.
pub struct Related {
    pub size: Size,
    pub dish: Option<Words>,
}

/// The relation at the front, and how many tokens it took.
pub fn relation(rest: Tokens<'_>, before: &Before) -> Option<(usize, Related)> {
    of_rest(rest)
        .or_else(|| compared(rest, before))
        .or_else(|| multiple(rest, before))
}

/// "half of what was left", "a third of the rest"
fn of_rest(rest: Tokens<'_>) -> Option<(usize, Related)> {
    let (after, share) = number(rest).ok()?;
    if share.value >= 1.0 || share.value <= 0.0 {
        return None;
    }
    let mut at = rest.len() - after.len();
    at += usize::from(rest.norm(at) == "of");
    let (length, key) = at_table().longest(rest.after(at).slice)?;
    if key != "rest" {
        return None;
    }
    at += length;
    let of = usize::from(rest.norm(at) == "of");
    let (length, dish) = dish(rest.after(at + of));
    let size = Size::OfRest(share.value);
    match (of, dish) {
        (1, None) => None,
        (_, dish) => Some((
            at + if dish.is_some() { of + length } else { 0 },
            Related { size, dish },
        )),
    }
}

/// "50 less than him", "30 more rice than me"
fn compared(rest: Tokens<'_>, before: &Before) -> Option<(usize, Related)> {
    let (after, said) = amount(rest, Stands::AfterName).ok()?;
    let (Amount::Bare(grams) | Amount::Mass(grams)) = said else {
        return None;
    };
    let mut at = rest.len() - after.len();
    let (named, mut known) = dish(rest.after(at));
    let sign = match rest.norm(at + named) {
        "more" | "extra" | "bigger" | "larger" | "heavier" => 1.0,
        "less" | "fewer" | "smaller" | "lighter" => -1.0,
        _ => return None,
    };
    at += named + 1;
    if known.is_none() {
        let of = usize::from(rest.norm(at) == "of");
        let (length, found) = dish(rest.after(at + of));
        known = found;
        at += if length > 0 { of + length } else { 0 };
    }
    let than = usize::from(rest.norm(at) == "than");
    let who = match than {
        1 if matches!(rest.norm(at + 1), "that" | "it") => Some((1, before.the_other())),
        1 => Some(reference(rest.after(at + 1), before)?),
        _ => None,
    };
    // "30 more rice" is more on the same plate.
    if who.is_none() && known.is_some() {
        return None;
    }
    let (length, who) = who.map_or((0, None), |(length, who)| (1 + length, Some(who)));
    let size = Size::More(sign * grams, who);
    Some((at + length, Related { size, dish: known }))
}

/// "twice what I had", "half as much rice as me", "the same as Ana", "half what we each had"
fn multiple(rest: Tokens<'_>, before: &Before) -> Option<(usize, Related)> {
    let (mut at, times, whole) = times(rest)?;
    let (length, dish) = dish(rest.after(at));
    at += length;
    let led = match rest.norm(at) {
        "as" | "what" | "than" => 1,
        "of" if rest.norm(at + 1) == "what" => 2,
        "of" => 1,
        _ => 0,
    };
    let summed = |length: usize| matches!(rest.norm(at + led + length), "together" | "combined");
    let against = reference(rest.after(at + led), before)
        .filter(|(length, _)| !summed(*length))
        .filter(|(length, _)| led > 0 || owns(rest.after(at).range(0, *length)));
    match against {
        // "half of what she left" is half of the rest.
        Some((length, _))
            if matches!(rest.norm(at + led + length), "left" | "leaves" | "didnt") =>
        {
            None
        }
        Some((length, who)) => {
            let size = Size::Against(times, who);
            Some((at + led + length, Related { size, dish }))
        }
        None if whole && dish.is_none() => {
            let size = Size::Times(times);
            Some((at, Related { size, dish }))
        }
        None => None,
    }
}

/// How many times; and whether nothing need follow ("twice that").
fn times(rest: Tokens<'_>) -> Option<(usize, f64, bool)> {
    let list = at_table();
    // "a portion twice the size of mine"
    let vessel = list.longest_of(rest.after(1).slice, "plate");
    if let ("a", Some(length)) = (rest.norm(0), vessel) {
        let (more, factor, whole) = times(rest.after(1 + length))?;
        return Some((1 + length + more, factor, whole));
    }
    let said = list
        .longest(rest.slice)
        .and_then(|(length, key)| match Size::named(key)? {
            // "weighed twice"
            Size::Times(times) => Some((length, times, rest.norm(length - 1) != "twice")),
            _ => None,
        });
    if said.is_some() {
        return said;
    }
    let (after, count) = number(rest).ok()?;
    let length = rest.len() - after.len();
    if matches!(after.norm(0), "times" | "x") && count.value > 1.0 {
        let more = 1 + list.longest_of(after.after(1).slice, "same").unwrap_or(0);
        return Some((length + more, count.value, false));
    }
    let what = usize::from(after.norm(0) == "of");
    (after.norm(what) == "what" && count.value < 1.0).then_some((length, count.value, false))
}

/// "Ana's", "mine"
fn owns(who: Tokens<'_>) -> bool {
    who.len() == 1 && (who.norm(0) == "mine" || who.norm(0).ends_with('s'))
}

/// A dish of the household, perhaps behind "of the".
fn dish(rest: Tokens<'_>) -> (usize, Option<Words>) {
    let skip = usize::from(matches!(rest.norm(0), "the" | "of"));
    let named = rest.after(skip).longest_run(4, |said| {
        let words: Vec<&str> = said.slice.iter().map(|token| token.norm()).collect();
        said.vocabulary.is_batch(&words).then(|| said.words())
    });
    match named {
        Some((length, words)) => (skip + length, Some(words)),
        None => (0, None),
    }
}
