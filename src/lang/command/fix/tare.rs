//! The vessel that was in a weight that stands: "that was with the plate, plate is 388".
//!
//! ```text
//! tare  := [excuse] with vessel [","] ["the"] [vessel] [is] mass
//! with  := "that was with" | "forgot to take off" | ...
//! ```
//! What the vessel weighs was never eaten. The words stand in `data/corrections.txt`.

use super::{said, without_closing, without_excuse};
use crate::lang::amount::grams;
use crate::lang::syntax::{Amount, Command, Fix, Item, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::containers;

pub fn read(body: Tokens<'_>) -> Option<Command> {
    let body = without_excuse(body);
    let told = said("with a vessel", body);
    let (rest, noun) = vessel(body.after(told.unwrap_or(0)))?;
    let on = said("was on", rest);
    // "the bowl was still on"
    if told.is_none() && on.is_none_or(|length| length < 2) {
        return None;
    }
    let rest = rest.after(on.unwrap_or(0));
    let mark = |token: &Token| {
        matches!(
            token.kind,
            Kind::Newline | Kind::Symbol(',' | ';' | '.' | '(')
        )
    };
    let marked = rest.first().is_some_and(mark) || matches!(rest.norm(0), "and" | "which");
    let rest = rest.after(usize::from(marked));
    let (rest, again) = match vessel(rest) {
        Some((rest, again)) => (rest, Some(again)),
        None => (rest, None),
    };
    let rest = rest.after(said("that", rest).filter(|_| again.is_none()).unwrap_or(0));
    let is = |token: &Token| {
        matches!(token.norm(), "is" | "its" | "was" | "weighs" | "at")
            || token.is('=')
            || token.is(':')
    };
    let rest = rest.after(usize::from(rest.first().is_some_and(is)));
    let (rest, tare) = grams(rest).ok()?;
    let rest = rest.after(usize::from(rest.first().is_some_and(|token| token.is(')'))));
    let rest = rest.after(usize::from(matches!(rest.norm(0), "empty" | "alone")));
    let same = again.is_none_or(|again| again == noun);
    let span = body.span();
    let item = Item::new(Amount::Mass(tare), Words::new("", span));
    let whole = without_closing(rest.trimmed()).is_empty();
    (whole && same).then(|| Command::Fix(Fix::PutBack(vec![item])))
}

/// "the plate": what is behind it, and which it is.
fn vessel(input: Tokens<'_>) -> Option<(Tokens<'_>, &str)> {
    let article = usize::from(matches!(input.norm(0), "the" | "my" | "its" | "a"));
    let said = input.norm(article);
    // "the bowl's 240"
    let noun = said
        .strip_suffix('s')
        .filter(|noun| containers().has(noun))
        .unwrap_or(said);
    containers()
        .has(noun)
        .then(|| (input.after(article + 1), noun))
}
