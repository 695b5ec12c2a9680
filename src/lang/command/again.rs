//! A plate eaten again: "same as yesterday", "same again", "my usual", "usual breakfast".
//!
//! ```text
//! again := "same" [meal] "as" (day | "last time" | meal) | "same again" | ["my" | "the"] "usual" [meal]
//! ```

use nom::Parser;
use nom::combinator::opt;

use crate::lang::command::only_marks;
use crate::lang::date::{day, meal};
use crate::lang::syntax::{Again, AgainOf, Command, MealName};
use crate::lang::tokens::{Read, Tokens, word};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, _) = opt(word(&["had", "having", "i", "me"])).parse(input.trimmed())?;
    let (rest, _) = opt(word(&["had"])).parse(rest)?;
    let (rest, before) = opt(named_meal).parse(rest)?;
    let rest = rest.without_lead();
    let (rest, _) = opt(word(&["the", "my", "our"])).parse(rest)?;
    let (rest, said) = word(&["same", "usual", "repeat"])(rest)?;
    let (rest, meal) = opt(meal).parse(rest)?;
    let meal = before.or(meal);
    if said == "usual" {
        return whole(input, rest, AgainOf::Usual, meal);
    }
    if let Ok((rest, _)) = word(&["again"])(rest) {
        return whole(input, rest, AgainOf::Last, meal);
    }
    let (rest, _) = word(&["as"])(rest)?;
    if let Ok((rest, day)) = day(rest) {
        return whole(input, rest, AgainOf::Day(day), meal);
    }
    let (rest, _) = word(&["last", "before", "earlier"])(rest)?;
    let (rest, _) = opt(word(&["time", "plate", "meal"])).parse(rest)?;
    whole(input, rest, AgainOf::Last, meal)
}

/// "lunch:" or "for lunch" at the front.
fn named_meal(input: Tokens<'_>) -> Read<'_, MealName> {
    meal(input)
}

fn whole<'a>(
    input: Tokens<'a>,
    rest: Tokens<'a>,
    of: AgainOf,
    said: Option<MealName>,
) -> Read<'a, Command> {
    let (rest, after) = opt(meal).parse(rest)?;
    if !only_marks(rest) || input.slice.iter().any(|token| token.is('?')) {
        return input.no();
    }
    let meal = said.or(after);
    Ok((input.after(input.len()), Command::Again(Again { of, meal })))
}
