//! How people are listed: what joins two of them, and what is said of all.

use super::party::{is_eater, verb};
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::tokens::Tokens;

/// "both", "all three", "all of us"
pub fn all_of_them(rest: Tokens<'_>) -> Option<usize> {
    let length = match rest.norm(0) {
        "both" => 1,
        "all" => match number(rest.after(1)) {
            Ok((after, count)) if count.worded => rest.len() - after.len(),
            _ => 1,
        },
        _ => return None,
    };
    let of_us = rest.norm(length) == "of" && matches!(rest.norm(length + 1), "us" | "them");
    Some(length + if of_us { 2 } else { 0 })
}

/// "half went to him and ana & me got a quarter": those behind are told something of their own.
pub fn begins_list(rest: Tokens<'_>) -> bool {
    joint(rest).is_some_and(|(joint, comma)| {
        let behind = rest.after(joint);
        let length = match behind.norm(0) {
            "me" | "i" => Some(1),
            _ => person(behind).map(|(length, _)| length),
        };
        !comma && length.is_some_and(|length| verb(behind.after(length)).0 > 0)
    })
}

/// "me Ana and Tom": another name, and a word that joins the last.
pub fn goes_on(rest: Tokens<'_>) -> bool {
    let joins = |length: usize| {
        joint(rest.after(length))
            .is_some_and(|(joint, comma)| !comma && is_eater(rest.after(length + joint)))
    };
    person(rest).is_some_and(|(length, _)| joins(length))
}

/// Two more people, and nothing between them.
pub fn is_row(rest: Tokens<'_>) -> bool {
    let eater = |rest: Tokens<'_>| match rest.norm(0) {
        "me" => Some(1),
        _ => person(rest).map(|(length, _)| length),
    };
    eater(rest).is_some_and(|length| eater(rest.after(length)).is_some())
}

/// What joins two people of a list; whether it is a comma alone.
pub fn joint(rest: Tokens<'_>) -> Option<(usize, bool)> {
    let mut at = 0;
    let mut comma = false;
    if rest
        .first()
        .is_some_and(|token| token.is(',') || token.is('/'))
    {
        comma = true;
        at = 1;
    }
    let and = matches!(rest.norm(at), "and" | "n" | "plus" | "then")
        || rest
            .get(at)
            .is_some_and(|token| token.is('&') || token.is('+'));
    at += usize::from(and);
    (at > 0).then_some((at, comma && !and))
}
