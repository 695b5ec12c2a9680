//! A range in words: ["somewhere"] "between" term ("and" | "-") term ["of"], or the other end of one: ("or" | "to") number.

use nom::Parser;
use nom::combinator::opt;
use nom::sequence::preceded;

use super::term::{between, finished, term};
use super::{Stands, checked, counts, ends, weights};
use crate::lang::number::number;
use crate::lang::syntax::Amount;
use crate::lang::tokens::{Read, Tokens, word};

/// "between 200 and 250", "somewhere between 2 and 3"
pub fn from_to(input: Tokens<'_>, stands: Stands) -> Read<'_, Amount> {
    let (rest, _) = opt(word(&["somewhere", "anywhere", "anything"])).parse(input)?;
    let (rest, _) = word(&["between"])(rest)?;
    let start = rest;
    let (rest, low) = term(rest, Stands::AfterName)?;
    let (rest, _) = match rest.first() {
        Some(dash) if dash.is('-') => (rest.after(1), ""),
        _ => word(&["and", "to", "n", "or"])(rest).map(|(rest, _)| (rest, ""))?,
    };
    let (rest, high) = term(rest, stands)?;
    let range = match (weights(&low, &high), counts(&low, &high)) {
        (Some((less, more)), _) if less < more => ends(&low, &high),
        (None, Some((less, more))) if less < more => {
            let (low, high) = (high.with_count(less), high);
            between(finished(low), finished(high))
        }
        _ => return input.no(),
    };
    checked(start, rest, &range)?;
    let (rest, _) = opt(word(&["of"])).parse(rest)?;
    let (rest, _) = opt(word(&["the", "my", "our"])).parse(rest)?;
    Ok((rest, range))
}

/// "200 or 250 chili", "sixty or maybe seventy beans", "rice 110 or was it 120", "sixty to seventy".
pub fn otherwise(input: Tokens<'_>) -> Option<(char, Tokens<'_>)> {
    let (rest, _) = word(&["or", "to"])(input).ok()?;
    let doubt = word(&["maybe", "perhaps", "possibly", "like"]);
    let asked = preceded(word(&["was", "is"]), word(&["it"]));
    let (rest, _) = opt(doubt.or(asked)).parse(rest).ok()?;
    let (_, said) = number(rest).ok()?;
    (!said.article && said.value >= 1.0).then_some(('o', rest))
}
