//! What stands around the items of a portion: the day, the meal, whose plate, how it is shared, and whether
//! it goes with the plate before.
//!
//! ```text
//! around := { label | day | meal | who | share | "another" } items { day | meal | "for" who | share | "with that" }
//! ```

use crate::lang::command::bowl::after_label;
use crate::lang::date::{day, meal};
use crate::lang::name::is_filler;
use crate::lang::person::{by_capital, person, stranger, unheard};
use crate::lang::syntax::{MealName, Portion};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;
use crate::lang::words::number_words;

/// Take the day, the meal and whose plate it is off both ends.
pub fn around<'a>(input: Tokens<'a>, portion: &mut Portion) -> Tokens<'a> {
    portion.with_last = goes_with_last(input);
    let mut rest = input.trimmed();
    while let Some(next) = front(rest, portion) {
        rest = next.without_lead();
    }
    while let Some(next) = back(rest, portion) {
        rest = next.trimmed_end();
    }
    rest
}

fn front<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    if input.is_empty() {
        return None;
    }
    let next = input.get(1);
    // "put Ana down for 140", "put me down for 140"
    if input.norm(0) == "put" && portion.who.is_none() {
        let at = input
            .slice
            .iter()
            .take(5)
            .position(|token| token.norm() == "down")?;
        let rest = input.after(at + 1 + usize::from(input.norm(at + 1) == "for"));
        if matches!(input.norm(1), "me" | "myself") && at == 2 {
            return Some(rest);
        }
        let (length, who) = person(input.after(1))?;
        portion.who = (length + 1 == at).then_some(who);
        return portion.who.is_some().then_some(rest);
    }
    let leads = next.is_some_and(|token| token.is(':') || token.is_numeric());
    if matches!(input.norm(0), "forgot" | "forgotten")
        || leads && matches!(input.norm(0), "me" | "i" | "mine")
    {
        return Some(input.after(1));
    }
    // "at 17:45", "6.30pm"
    let hour = usize::from(input.norm(0) == "at");
    match input.get(hour).map(|token| &token.kind) {
        Some(Kind::Clock) => {
            return Some(
                input.after(hour + 1 + usize::from(matches!(input.norm(hour + 1), "am" | "pm"))),
            );
        }
        Some(Kind::Number(_)) if matches!(input.norm(hour + 1), "am" | "pm") => {
            return Some(input.after(hour + 2));
        }
        _ => {}
    }
    // "pulled 720 of the stew": no pulled pork
    if input.norm(0) == "pulled" && next.is_some_and(Token::is_numeric) {
        return Some(input.after(1));
    }
    if matches!(input.norm(0), "had" | "ate")
        && (input.norm(1) == "at" || matches!(next.map(|token| &token.kind), Some(Kind::Clock)))
    {
        return Some(input.after(1));
    }
    if let Some(rest) = after_label(input) {
        return Some(rest);
    }
    // "tea tonight: 190 stew"
    if portion.meal.is_none()
        && input.norm(0) == "tea"
        && let Ok((rest, day)) = day(input.after(1))
        && rest.first().is_some_and(|token| token.is(':'))
    {
        portion.meal = Some(MealName::Dinner);
        portion.day = portion.day.take().or(Some(day));
        return Some(rest);
    }
    if portion.meal.is_none()
        && let Ok((rest, meal)) = meal(input)
    {
        portion.meal = Some(meal);
        let told = usize::from(matches!(rest.norm(0), "was" | "is"));
        return Some(rest.after(told));
    }
    let dated =
        || day(input).is_ok_and(|(rest, _)| rest.first().is_some_and(|token| token.is(':')));
    if portion.day.is_none()
        && (!input.slice[0].is_numeric() || dated())
        && let Ok((rest, day)) = day(input)
    {
        // "yesterday's dal", "Sunday dal 200": the day chooses the batch.
        let said = input.norm(0);
        let chooses = said.ends_with('s')
            && !matches!(said, "tues" | "thurs" | "this")
            && meal(rest).is_err();
        let ends = rest.is_empty()
            || rest
                .first()
                .is_some_and(|token| token.is(':') || token.is(',') || token.is_numeric())
            || meal(rest).is_ok()
            || person(rest).is_some()
            || is_filler(&rest.slice[0]);
        if !chooses && ends {
            portion.day = Some(day);
            return Some(rest);
        }
    }
    if portion.who.is_none()
        && let Some(rest) = who_front(input, portion)
    {
        return Some(rest);
    }
    None
}

/// "Ana had", "Ana:", "for Ana", "Ana's lunch", "Tom had"
fn who_front<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    let skip = usize::from(input.norm(0) == "for");
    let here = input.after(skip);
    let eats = |rest: Tokens<'_>| {
        matches!(
            rest.norm(0),
            "had"
                | "ate"
                | "has"
                | "is"
                | "gets"
                | "got"
                | "took"
                | "having"
                | "eats"
                | "says"
                | "said"
                | "grabbed"
                | "demolished"
                | "finished"
        )
    };
    let (length, who) = match person(here) {
        Some(found) => found,
        None if matches!(here.norm(1), "had" | "ate")
            || skip == 1 && here.get(1).is_some_and(|token| token.is(':')) =>
        {
            (1, stranger(here)?)
        }
        None if skip == 0 && begins_plate(here.after(1)) => {
            (1, by_capital(here).or_else(|| unheard(here))?)
        }
        None => return None,
    };
    let rest = here.after(length);
    let possessive =
        here.norm(length - 1) != who.text.to_lowercase() && here.norm(length - 1).ends_with('s');
    let begins = rest
        .first()
        .is_some_and(|token| token.is(':') || token.is_numeric() || token.is('-'));
    let worded = number_words().has(rest.norm(0)) || matches!(rest.norm(0), "half" | "a" | "an");
    if !(skip > 0 || possessive || eats(rest) || begins || worded) {
        return None;
    }
    portion.who = Some(who);
    // "Ana says she had 95"
    let rest = match (rest.norm(0), rest.norm(1)) {
        ("says" | "said", "she" | "he" | "they") => rest.after(2),
        ("grabbed" | "took" | "demolished" | "finished", _) => rest.after(1),
        _ => rest,
    };
    let verb = usize::from(matches!(rest.norm(0), "has" | "is" | "gets" | "eats"));
    let verb = verb + usize::from(verb == 1 && rest.norm(1) == "having");
    Some(rest.after(verb))
}

/// What stands behind somebody's name: a number, or what marks one.
fn begins_plate(rest: Tokens<'_>) -> bool {
    let marked = rest
        .first()
        .is_some_and(|token| token.is(':') || token.is('-'));
    rest.after(usize::from(marked))
        .first()
        .is_some_and(Token::is_numeric)
}

/// "20 cheddar on it too"
pub fn too_behind_that(input: Tokens<'_>) -> Option<Tokens<'_>> {
    let said = |back: usize| {
        input
            .len()
            .checked_sub(back)
            .map_or("", |at| input.norm(at))
    };
    let too = match (said(2), said(1)) {
        ("as", "well") => 2,
        (_, "too") => 1,
        _ => return None,
    };
    let behind = goes_onto(said(too + 2), said(too + 1)) && said(too + 1) != "mine";
    behind.then(|| input.range(0, input.len() - too))
}

/// "50 cheddar in it", with nothing else that it could be in.
fn is_one_amount(input: Tokens<'_>) -> bool {
    let numbers = input.slice.iter().filter(|token| token.is_numeric());
    let sides = |token: &Token| matches!(token.norm(), "with" | "has" | "had" | "is" | "was");
    numbers.count() == 1 && !input.slice.iter().any(sides)
}

/// "with that", "on it", "in it"
fn goes_onto(link: &str, what: &str) -> bool {
    match link {
        "with" | "to" | "on" | "over" | "onto" | "alongside" | "beside" => {
            matches!(what, "that" | "it" | "top" | "them" | "mine")
        }
        "in" | "into" => matches!(what, "that" | "it"),
        _ => false,
    }
}

fn said_at_end(input: Tokens<'_>, words: &[&str]) -> bool {
    let from = input.len() - words.len();
    words
        .iter()
        .enumerate()
        .all(|(at, word)| input.norm(from + at) == *word)
}

fn back<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    let length = input.len();
    let inside = length > 3 && matches!(input.norm(length - 2), "in" | "into");
    // "180 rice with 50 cheddar in it": in the rice.
    let apart = !inside || is_one_amount(input);
    let with_that =
        length > 3 && apart && goes_onto(input.norm(length - 2), input.norm(length - 1));
    if let Some(rest) = too_behind_that(input) {
        return Some(rest);
    }
    // "add 10 butter to my bowl"
    let in_bowl = length > 4
        && matches!(input.norm(length - 3), "to" | "on" | "in" | "into")
        && input.norm(length - 2) == "my"
        && matches!(input.norm(length - 1), "bowl" | "plate" | "one");
    if in_bowl && goes_with_last(input) {
        portion.with_last = true;
        return Some(input.range(0, length - 3));
    }
    // "20 cheddar over the top"
    if length > 4 && said_at_end(input, &["over", "the", "top"]) {
        portion.with_last = true;
        return Some(input.range(0, length - 3));
    }
    if with_that {
        portion.with_last = true;
        portion.with_that |= !matches!(input.norm(length - 1), "top" | "mine");
        return Some(input.range(0, length - 2));
    }
    if let Some(rest) = told_when(input, portion) {
        return Some(rest);
    }
    for take in (1..=4.min(length.saturating_sub(1))).rev() {
        let tail = input.after(length - take);
        if portion.meal.is_none()
            && !matches!(tail.norm(0), "tea" | "snack")
            && let Ok((rest, meal)) = meal(tail)
            && rest.is_empty()
        {
            portion.meal = Some(meal);
            return Some(input.range(0, length - take));
        }
        // "the stew from today": the day chooses the batch.
        let chooses = |norm: &str| matches!(norm, "from" | "made" | "cooked");
        let before = (length - take).saturating_sub(2)..length - take;
        // "not Sunday's": which it was is told elsewhere.
        let denied =
            take < length && matches!(input.norm(length - take - 1), "not" | "isnt" | "wasnt");
        let chooses =
            denied || chooses(tail.norm(0)) || before.into_iter().any(|at| chooses(input.norm(at)));
        if portion.day.is_none()
            && !chooses
            && let Ok((rest, day)) = day(tail)
            && rest.is_empty()
            && !tail.slice[0].is_numeric()
        {
            portion.day = Some(day);
            return Some(input.range(0, length - take));
        }
        if portion.who.is_none() && tail.norm(0) == "for" {
            let here = tail.after(1);
            let who = match person(here) {
                Some((length, who)) if length + 1 == take => Some(who),
                None if take == 2 => stranger(here),
                _ => None,
            };
            if who.is_some() {
                portion.who = who;
                return Some(input.range(0, length - take));
            }
        }
    }
    let last = input.last()?;
    let polite = matches!(
        last.norm(),
        "please" | "pls" | "plz" | "thanks" | "thx" | "now" | "me"
    ) || last.is('!');
    if polite && last.norm() == "me" && input.norm(length.saturating_sub(2)) == "for" {
        return Some(input.range(0, length - 2));
    }
    (polite && length > 1 && last.norm() != "me").then(|| input.range(0, length - 1))
}

/// "140 dal, that was yesterday's lunch"
fn told_when<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    let from = input.len().saturating_sub(8).max(1);
    let at = (from..input.len()).find(|&at| {
        matches!(
            (input.norm(at), input.norm(at + 1)),
            ("that" | "it" | "this", "was")
        )
    })?;
    let mut rest = input.after(at + 2);
    let (mut said_day, mut said_meal) = (None, None);
    while !rest.is_empty() {
        if let Ok((next, found)) = day(rest) {
            said_day = Some(found);
            rest = next;
        } else if let Ok((next, found)) = meal(rest) {
            said_meal = Some(found);
            rest = next;
        } else {
            return None;
        }
    }
    portion.day = portion.day.take().or(said_day);
    portion.meal = portion.meal.take().or(said_meal);
    Some(input.range(0, at))
}

/// "another 60 rice", "+ 30 cheese", "forgot 20 cheese", "60 more rice".
pub fn goes_with_last(input: Tokens<'_>) -> bool {
    let first = input.first();
    let opens = matches!(
        input.norm(0),
        "another" | "forgot" | "forgotten" | "plus" | "and" | "also" | "add"
    ) || first.is_some_and(|token| token.is('+'));
    let more = input
        .slice
        .windows(2)
        .any(|pair| pair[0].is_numeric() && matches!(pair[1].norm(), "more" | "extra"));
    opens || more || matches!(input.norm(0), "more" | "extra")
}

/// Where another person's plate begins: "me 140 dal, Ana 120 dal".
pub fn plates(input: Tokens<'_>) -> Vec<Tokens<'_>> {
    let mut out = Vec::new();
    let mut from = 0;
    for at in 1..input.len() {
        let before = &input.slice[at - 1];
        let joined = before.norm() == "and";
        let apart = joined
            || matches!(
                before.kind,
                Kind::Newline | Kind::Symbol(',' | ';' | '.' | '&')
            );
        if apart && is_plate(input.after(at)) {
            out.push(input.range(from, at - usize::from(joined)));
            from = at;
        }
    }
    out.push(input.after(from));
    out
}

/// "Ana had", "me:", "Ana 120"
fn is_plate(input: Tokens<'_>) -> bool {
    let said = input.norm(0);
    let person = matches!(said, "me" | "i")
        || !said.is_empty() && input.vocabulary.is(Sense::Person, &[said])
        || by_capital(input).is_some();
    let next = input.get(1);
    person
        && (matches!(
            input.norm(1),
            "had" | "ate" | "has" | "got" | "gets" | "took"
        ) || next.is_some_and(|token| token.is(':') || token.is_numeric()))
}
