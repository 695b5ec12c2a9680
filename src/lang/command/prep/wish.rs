//! What is to be eaten on days to come: "4 dinners for 2: dal and rice", "rice for 6 on Friday", "no rice this week".

use super::{before, is_phrase, phrase, whole};
use crate::lang::ahead::{Ahead, ahead, days};
use crate::lang::amount;
use crate::lang::command::only_marks;
use crate::lang::date::meal;
use crate::lang::lexer::folded_words;
use crate::lang::name::bare;
use crate::lang::number::number;
use crate::lang::person;
use crate::lang::syntax::{Command, Helping, MealName, Prep, Until, Wish, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;

/// More is no number of dinners or people, however it is meant.
const COUNT_MAX: f64 = 100_000.0;
/// A name of more words is a sentence.
const NAME_WORDS_MAX: usize = 5;
pub const SUNDAY: Ahead = Ahead::Weekday(6);

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let minus = is_minus(input);
    whole(input, |said| {
        let wish = meals(said)
            .map(|wish| if minus { for_none(wish) } else { wish })
            .or_else(|| of_a_dish(said))
            .or_else(|| as_usual(said))
            .or_else(|| is_phrase("wishes", said).then_some(Wish::Listed))?;
        Some(Prep::Wish(wish))
    })
}

/// "-2 dinners": it cannot be, and is said to be none.
fn is_minus(input: Tokens<'_>) -> bool {
    let led = input.slice.iter().position(|token| token.is('-'));
    let glued = |at: usize| {
        let next = input.get(at + 1);
        next.is_some_and(|next| next.is_numeric() && !next.spaced)
    };
    led.is_some_and(|at| input.range(0, at).trimmed().is_empty() && glued(at))
}

fn for_none(wish: Wish) -> Wish {
    match wish {
        Wish::Of {
            dishes,
            meal,
            people,
            from,
            ..
        } => Wish::Of {
            dishes,
            meal,
            people,
            from,
            until: Until::Days(0),
        },
        other => other,
    }
}

pub fn read_none(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| none_of_it(said).map(Prep::Wish))
}

/// "4 dinners for 2: dal and rice", "dinners Mon to Thu for Ana and me: dal"
fn meals(said: Tokens<'_>) -> Option<Wish> {
    let said = phrase("wish lead", said).unwrap_or(said);
    let counted = count(said);
    let (rest, count) = match counted {
        Some((rest, count)) => (rest, Some(count)),
        None => (said, None),
    };
    // "dinner Friday: 300 dal" was had.
    let several = count.is_some() || rest.norm(0).ends_with('s');
    let meal = meal(rest).ok().map(|(_, meal)| meal);
    let (mut people, mut days) = (None, None);
    let mut rest = phrase("meals", rest).filter(|_| several)?.trimmed_front();
    loop {
        if let Some((behind, told)) = eaters(rest).filter(|_| people.is_none()) {
            people = Some(told);
            rest = behind;
        } else if let Some((behind, told)) = begins(rest, count).filter(|_| days.is_none()) {
            days = Some(told);
            rest = behind;
        } else {
            break;
        }
    }
    // "4 dinners for 2, dal and rice, from tomorrow"
    let (rest, days) = match days {
        Some(_) => (rest, days),
        None => begins_behind(rest, count),
    };
    let (from, until) = match (days, count) {
        (Some((from, None)), Some(count)) => (from, Until::Days(count)),
        (None, Some(count)) => (Ahead::Today, Until::Days(count)),
        (Some((from, Some(until))), None) => (from, Until::Day(until)),
        _ => return None,
    };
    let marks = |token: &Token| {
        token.is(':') || token.is('-') || token.is(',') || token.kind == Kind::Newline
    };
    let dishes = match rest.first().is_some_and(marks) {
        true => dishes(rest.after(1).without_lead().trimmed())?,
        false => match phrase("with", rest) {
            Some(behind) => dishes(behind)?,
            // "4 dinners for 2 dal and rice"
            None => dishes(rest).filter(|all| all.iter().all(|one| is_known(said, &one.dish)))?,
        },
    };
    Some(Wish::Of {
        dishes,
        meal,
        people,
        from,
        until,
    })
}

/// The days at the end, behind a comma, and what stands before them.
fn begins_behind(
    rest: Tokens<'_>,
    count: Option<u32>,
) -> (Tokens<'_>, Option<(Ahead, Option<Ahead>)>) {
    let told = |at: usize| {
        let marked = rest.get(at)?.is(',');
        let (behind, days) = begins(rest.after(at + 1), count).filter(|_| marked)?;
        only_marks(behind).then_some((rest.range(0, at), Some(days)))
    };
    (1..rest.len()).find_map(told).unwrap_or((rest, None))
}

/// From when on so many meals are, or the days that they are for.
fn begins(rest: Tokens<'_>, count: Option<u32>) -> Option<(Tokens<'_>, (Ahead, Option<Ahead>))> {
    if count.is_some() {
        let from = rest.after(usize::from(matches!(rest.norm(0), "from" | "starting")));
        let (behind, from) = ahead(from).ok()?;
        return Some((behind, (from, None)));
    }
    let (behind, (from, until)) = these_days(rest)?;
    Some((behind, (from, Some(until))))
}

/// Some of the household's dishes is called so.
fn is_known(said: Tokens<'_>, dish: &Words) -> bool {
    let words = folded_words(&dish.text);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    said.vocabulary.is_batch(&words)
}

/// "rice for 6 on Friday", "180 g rice for 6 people for dinner on Friday", "plan dal for 2 until Sunday"
fn of_a_dish(said: Tokens<'_>) -> Option<Wish> {
    let said = said.after(usize::from(said.norm(0) == "plan"));
    let eaters = |at: &usize| people(said.after(*at)).is_some();
    let at = (1..said.len()).find(eaters)?;
    // "chilli on Friday for 2"
    let day = (1..at).find(|day| matches!(these_days(said.after(*day)), Some((rest, _)) if rest.len() == said.len() - at));
    let dishes = dishes(said.range(0, day.unwrap_or(at)))?;
    let (rest, people) = people(said.after(at))?;
    let (rest, meal) = for_meal(rest);
    let (rest, (from, until)) = match day {
        Some(day) => (rest, these_days(said.after(day))?.1),
        None => these_days(rest)?,
    };
    let (rest, meal) = match meal {
        Some(_) => (rest, meal),
        None => for_meal(rest),
    };
    only_marks(rest).then_some(Wish::Of {
        dishes,
        meal,
        people: Some(people),
        from,
        until: Until::Day(until),
    })
}

pub fn for_meal(rest: Tokens<'_>) -> (Tokens<'_>, Option<MealName>) {
    let behind = rest.after(usize::from(matches!(rest.norm(0), "for" | "at")));
    match meal(behind) {
        Ok((behind, meal)) => (behind, Some(meal)),
        Err(_) => (rest, None),
    }
}

/// "no rice this week"
/// "no rice this week"; "no, b4 Thursday" names no pot by its code.
fn none_of_it(said: Tokens<'_>) -> Option<Wish> {
    let rest = phrase("no dish", said)?;
    let most = rest.len().min(NAME_WORDS_MAX);
    let (dish, (from, until)) = (1..=most).find_map(|at| {
        let (behind, days) = these_days(rest.after(at))?;
        let dish = name(rest.range(0, at)).filter(|_| rest.norm(0) != "before")?;
        only_marks(behind).then_some((dish, days))
    })?;
    Some(Wish::None { dish, from, until })
}

fn as_usual(said: Tokens<'_>) -> Option<Wish> {
    // "drop the dal from the plan"
    if let Some(told) = phrase("off the plan", said).and_then(|rest| before("from the plan", rest))
    {
        return Some(Wish::AsUsual { dish: name(told)? });
    }
    if let Some(rest) = phrase("off the plan", said) {
        let rest = rest.without_lead();
        if is_phrase("wishes", rest) {
            return Some(Wish::Forget { meal: None });
        }
        if is_phrase("meals", rest) && rest.norm(0).ends_with('s') {
            let meal = meal(rest).ok().map(|(_, meal)| meal);
            return Some(Wish::Forget { meal });
        }
    }
    let at = (1..said.len()).find(|at| is_phrase("as usual", said.after(*at)))?;
    let dish = name(said.range(0, at))?;
    Some(Wish::AsUsual { dish })
}

/// Days, where they have to be told.
pub fn these_days(rest: Tokens<'_>) -> Option<(Tokens<'_>, (Ahead, Ahead))> {
    if let Some(behind) = phrase("this week", rest) {
        return Some((behind, (Ahead::Today, SUNDAY)));
    }
    let rest = rest.trimmed_front();
    days(rest).ok()
}

/// The same, or by name: "for nobody", "for Ana and me".
pub fn eaters(rest: Tokens<'_>) -> Option<(Tokens<'_>, u32)> {
    if let Some(behind) = phrase("for nobody", rest) {
        return Some((behind, 0));
    }
    if let Some((behind, count)) = people(rest) {
        return Some(match phrase("and guest", behind) {
            Some(behind) => (behind, count + 1),
            None => (behind, count),
        });
    }
    let named = phrase("for", rest)?;
    // No day and no dish begins with a person.
    let most = (1..=named.len()).rev();
    most.into_iter().find_map(|length| {
        let (count, _) = person::people(named.range(0, length))?;
        Some((named.after(length), count))
    })
}

/// "for 2", "for six people"
pub fn people(rest: Tokens<'_>) -> Option<(Tokens<'_>, u32)> {
    let (rest, people) = count(phrase("for", rest)?)?;
    // "for 3 days" counts no people.
    if matches!(
        rest.norm(0),
        "day"
            | "days"
            | "night"
            | "nights"
            | "week"
            | "weeks"
            | "month"
            | "months"
            | "year"
            | "years"
            | "g"
            | "kg"
            | "min"
            | "h"
    ) {
        return None;
    }
    Some((phrase("people", rest).unwrap_or(rest), people))
}

fn count(input: Tokens<'_>) -> Option<(Tokens<'_>, u32)> {
    let (rest, count) = number(input).ok()?;
    let whole = count.value.fract() == 0.0 && (0.0..=COUNT_MAX).contains(&count.value);
    whole.then_some((rest, count.value as u32))
}

/// Dishes with commas or "and" between them, each with what one eats of it if that is told.
pub fn dishes(said: Tokens<'_>) -> Option<Vec<Helping>> {
    let joins = |at: &usize| {
        let token = &said.slice[*at];
        matches!(token.norm(), "and" | "n") || [',', '+', '&'].iter().any(|mark| token.is(*mark))
    };
    // Where each part begins and ends.
    let mut parts = Vec::new();
    let mut from = 0;
    for at in (0..said.len()).filter(joins) {
        parts.push((from, at));
        from = at + 1;
    }
    parts.push((from, said.len()));
    let mut dishes = Vec::new();
    let mut at = 0;
    while at < parts.len() {
        // "mac and cheese" is one dish where there is such a dish.
        let joined = (at + 1..parts.len()).rev().find_map(|last| {
            let whole = said.range(parts[at].0, parts[last].1);
            let one = helping(whole).filter(|one| is_dish(said, &one.dish))?;
            Some((last, one))
        });
        let (last, one) = match joined {
            Some(joined) => joined,
            None => (at, helping(said.range(parts[at].0, parts[at].1))?),
        };
        dishes.push(one);
        at = last + 1;
    }
    Some(dishes)
}

fn is_dish(said: Tokens<'_>, dish: &Words) -> bool {
    let words = folded_words(&dish.text);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    said.vocabulary.is(Sense::Batch, &words)
}

fn helping(part: Tokens<'_>) -> Option<Helping> {
    let part = part.trimmed();
    if let Ok((rest, grams)) = amount::grams(part) {
        let grams = Some(grams);
        return Some(Helping {
            dish: name(rest)?,
            grams,
        });
    }
    Some(Helping {
        dish: name(part)?,
        grams: None,
    })
}

/// What a dish is called, and nothing beside it.
pub fn name(said: Tokens<'_>) -> Option<Words> {
    let name = bare(said.trimmed());
    let fits = name.is_wordy() && (1..=NAME_WORDS_MAX).contains(&name.len());
    fits.then(|| name.words())
}

#[cfg(test)]
#[path = "wish_tests.rs"]
mod tests;
