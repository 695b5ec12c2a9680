//! How food that is put elsewhere is told in another order, put as a move says it: "leek soup into 3 tubs for the
//! freezer: 500, 480, 350", "put the sauce in the jam jar, reads 640, into the fridge".
//!
//! ```text
//! parted := words number vessel ("in" | "for") ["the"] place [mark] grams { sep grams }
//!        | verb grams { sep grams } ["of"] dish | words number vessel "of" grams
//! weighs := words "in" vessel "," ("reads" | "weighs" | ...) grams ["," words]
//! ```

use crate::lang::amount::grams;
use crate::lang::number::number;
use crate::lang::place::is_place;
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::{PLACE_WORDS_MAX, Sense};
use crate::lang::words::{containers, moves};

/// Words of a vessel's name.
const VESSEL_WORDS_MAX: usize = 3;
/// Less is a count.
const GRAMS_MIN: f64 = 20.0;

/// The same in the order of a move; `None`: it is told so already, or is none.
pub fn told_plainly(input: Tokens<'_>) -> Option<Vec<Token>> {
    if !input.has_number() {
        return None;
    }
    placed_bags(input)
        .or_else(|| bags_of(input))
        .or_else(|| parts_first(input))
        .or_else(|| weighed_behind(input))
}

fn word(text: &str, like: &Token) -> Token {
    let place = like.span.start;
    Token::new(Kind::Word(text.to_owned()), place..place, true)
}

fn is_vessel(token: &Token) -> bool {
    let norm = token.norm();
    containers().has(norm) || containers().has(norm.strip_suffix('s').unwrap_or(norm))
}

/// "dal: 3 bags in the freezer, 500, 480, 350": the place goes before the bags.
fn placed_bags(input: Tokens<'_>) -> Option<Vec<Token>> {
    let at = (1..input.len())
        .find(|&at| is_vessel(&input.slice[at]) && number(input.range(at - 1, at)).is_ok())?;
    let lead = input.norm(at + 1);
    if !matches!(lead, "in" | "for" | "into" | "to") {
        return None;
    }
    let the = usize::from(matches!(input.norm(at + 2), "the" | "our"));
    let from = at + 2 + the;
    let most = PLACE_WORDS_MAX.min(input.len().saturating_sub(from));
    let length = (1..=most)
        .rev()
        .find(|&length| is_place(input.range(from, from + length)))?;
    let end = from + length;
    let mut start = at - 1;
    if start > 0 && matches!(input.norm(start - 1), "in" | "into" | "as") {
        start -= 1;
    }
    let heads = |token: &&Token| token.is(':') || token.is(',') || token.is('-');
    let before = &input.slice[..start];
    let before = match before.split_last() {
        Some((last, rest)) if heads(&last) => rest,
        _ => before,
    };
    let behind = input.after(end);
    let marks = behind.slice.iter().take_while(heads).count();
    let anchor = &input.slice[at];
    let comma = || {
        Token::new(
            Kind::Symbol(','),
            anchor.span.start..anchor.span.start,
            false,
        )
    };
    let mut told = before.to_vec();
    told.extend([word("in", anchor), word("the", anchor)]);
    told.extend_from_slice(input.range(from, end).slice);
    told.push(comma());
    told.extend_from_slice(input.range(at - 1, at + 1).slice);
    told.push(comma());
    told.extend_from_slice(behind.after(marks).slice);
    (!before.is_empty() && behind.has_number()).then_some(told)
}

/// "froze the dal in 4 bags of 400": so many of each.
fn bags_of(input: Tokens<'_>) -> Option<Vec<Token>> {
    let at = (1..input.len())
        .find(|&at| is_vessel(&input.slice[at]) && number(input.range(at - 1, at)).is_ok())?;
    let (rest, full) = grams(input.after(at + 2)).ok()?;
    let of = input.norm(at + 1) == "of" && full >= GRAMS_MIN;
    let ends = rest.trimmed().is_empty() || rest.trimmed().norm(0) == "each";
    let anchor = &input.slice[at];
    (of && ends).then(|| {
        let end = input.len() - rest.len();
        let mut told = input.range(0, at + 1).slice.to_vec();
        told.push(Token::new(
            Kind::Symbol(','),
            anchor.span.end..anchor.span.end,
            false,
        ));
        told.extend_from_slice(input.range(at + 2, end).slice);
        told.push(word("each", anchor));
        told
    })
}

/// "froze 500, 480 and 350 of the dal": each of them apart.
fn parts_first(input: Tokens<'_>) -> Option<Vec<Token>> {
    let (length, _) = moves().longest(input.slice)?;
    let mut parts: Vec<Token> = Vec::new();
    let mut count = 0;
    let mut rest = input.after(length);
    while let Ok((after, part)) = grams(rest) {
        if part < GRAMS_MIN {
            return None;
        }
        parts.extend_from_slice(rest.range(0, rest.len() - after.len()).slice);
        count += 1;
        let joins = |token: &&Token| token.is(',') || token.is('+') || token.norm() == "and";
        let joined = after.slice.iter().take_while(joins).count();
        rest = after.after(joined);
        if joined == 0 {
            break;
        }
        let anchor = &input.slice[0];
        parts.push(Token::new(
            Kind::Symbol(','),
            anchor.span.start..anchor.span.start,
            false,
        ));
    }
    let of = usize::from(rest.norm(0) == "of");
    let dish = rest.after(of);
    let named = !dish.has_number() && !dish.is_empty();
    if count < 2 || !named {
        return None;
    }
    let anchor = input.slice.last()?;
    let mut told = input.range(0, length).slice.to_vec();
    told.extend_from_slice(dish.slice);
    let number = Kind::Number(crate::lang::numeral::Numeral {
        value: f64::from(count),
        other: None,
    });
    told.push(word("in", anchor));
    told.push(Token::new(number, anchor.span.end..anchor.span.end, true));
    told.push(word("bags", anchor));
    told.push(Token::new(
        Kind::Symbol(','),
        anchor.span.end..anchor.span.end,
        false,
    ));
    told.extend(parts);
    Some(told)
}

/// "put the sauce in the jam jar, reads 640, into the fridge": what was on the scale stands before the dish.
fn weighed_behind(input: Tokens<'_>) -> Option<Vec<Token>> {
    let (verb, _) = moves().longest(input.slice)?;
    let says = [
        "reads", "reading", "weighs", "weighing", "says", "shows", "showing", "at", "its", "now",
        "is", "total", "gross",
    ];
    let at = (verb..input.len()).find(|&at| input.slice[at].is(','))?;
    let mut from = at + 1;
    while says.contains(&input.norm(from))
        || matches!(input.norm(from), "it" | "scale" | "the" | "together")
    {
        from += 1;
    }
    let (rest, full) = grams(input.after(from)).ok()?;
    let before = input.range(0, at);
    // The vessel must be one that the household weighed.
    let known = (verb..at).any(|from| {
        let said = before.after(from);
        let run = said.longest_run(VESSEL_WORDS_MAX, |said| {
            let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
            said.vocabulary.is(Sense::Container, &words).then_some(())
        });
        run.is_some()
    });
    let alone = !before.has_number() && !rest.has_number() && full >= GRAMS_MIN;
    if !known || !alone {
        return None;
    }
    let the = usize::from(matches!(input.norm(verb), "the" | "our" | "my"));
    let mut told = input.range(0, verb).slice.to_vec();
    told.extend_from_slice(input.range(from, input.len() - rest.len()).slice);
    told.extend_from_slice(input.range(verb + the, at).slice);
    told.extend_from_slice(rest.slice);
    Some(told)
}
