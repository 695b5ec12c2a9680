//! How fast a dish goes, when it runs out, and who eats it.

use super::{asked, between, between_any, dish_first, dish_told, is_phrase, phrase, whole};
use crate::lang::ahead::ahead;
use crate::lang::person::person;
use crate::lang::syntax::{Command, Cookbook, Pace, Words};
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let said = without_day(asked(said));
        let of = |asked: Pace| {
            move |dish: Words| Cookbook::Pace {
                dish: Some(dish),
                asked,
            }
        };
        let all = |part: &str, asked: Pace| {
            is_phrase(part, said).then_some(Cookbook::Pace { dish: None, asked })
        };
        all("all out", Pace::RunsOut)
            .or_else(|| all("all fast", Pace::Fast))
            .or_else(|| led("fast", said).map(of(Pace::Fast)))
            .or_else(|| between_any("fast before", "fast behind", said).map(of(Pace::Fast)))
            .or_else(|| between("much before", "much behind", said).map(of(Pace::Fast)))
            .or_else(|| led("out", said).map(of(Pace::RunsOut)))
            .or_else(|| days_left(said).map(of(Pace::RunsOut)))
            .or_else(|| between("out before", "out behind", said).map(of(Pace::RunsOut)))
            .or_else(|| led("who", said).map(of(Pace::Who)))
            .or_else(|| between("much before", "own behind", said).map(of(Pace::Who)))
            .or_else(|| had(said).map(of(Pace::Who)))
    })
}

/// Without "till Sunday": when it runs out tells whether it lasts so long.
fn without_day(said: Tokens<'_>) -> Tokens<'_> {
    let until = |word: &str| matches!(word, "until" | "till" | "til" | "before" | "by");
    let day = |at: &usize| {
        let told = ahead(said.after(at + 1));
        until(said.norm(*at)) && told.is_ok_and(|(rest, _)| rest.trimmed().is_empty())
    };
    match (1..said.len()).find(day) {
        Some(at) => said.range(0, at),
        None => said,
    }
}

fn led(part: &str, said: Tokens<'_>) -> Option<Words> {
    let (dish, rest) = dish_told(phrase(part, said)?)?;
    rest.trimmed().is_empty().then_some(dish)
}

/// "how much dal has Ana had this month", "how much dal did we each eat"
fn had(said: Tokens<'_>) -> Option<Words> {
    let (dish, rest) = dish_first(phrase("much before", said)?)?;
    let rest = phrase("has", rest)?;
    let behind = match phrase("each of us", rest) {
        Some(behind) => behind,
        None => {
            let (length, _) = person(rest)?;
            rest.after(length)
        }
    };
    let rest = phrase("had", behind)?.trimmed();
    (rest.is_empty() || is_phrase("lately", rest)).then_some(dish)
}

/// "how many days of rice do we have"
fn days_left(said: Tokens<'_>) -> Option<Words> {
    let (dish, rest) = dish_first(phrase("out", said)?)?;
    is_phrase("days left", rest).then_some(dish)
}
