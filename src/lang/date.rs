//! Days and meals as people say them.
//!
//! ```text
//! day  := "today" | "yesterday" | ["last" | "on"] weekday | number "days" "ago" | date | ahead
//! ahead := "tomorrow" | "next" weekday | weekday "week" | "in" number ("hours" | "days" | "weeks")
//! date := "the" ordinal | day-number month [year] | month day-number [year] | d "/" m ["/" y] | d "." m "." | y "-" m "-" d
//! meal := ["for" | "at"] ["a" | "my" | "our"] ("breakfast" | "lunch" | "dinner" | "snack")
//! ```
//! Dates written with slashes are day/month. A day's name of some length may be spelled nearly so.

use nom::Parser;
use nom::combinator::opt;

use super::lexicon::is_food_word;
use super::number::number;
use super::syntax::{Day, ErrorKind, MealName};
use super::token::Kind;
use super::tokens::{Read, Tokens, phrase, symbol, word};
use super::words::{calendar, choosers, dates, meals, number_words};

/// A smaller ordinal beside a weight counts helpings.
const ORDINAL_DAY_MIN: u32 = 5;
/// No packet is good for longer.
const DAYS_AHEAD_MAX: f64 = 1000.0;

pub fn day(input: Tokens<'_>) -> Read<'_, Day> {
    let (rest, day) = of_pot(input)?;
    // "the sunday one" is a pot.
    let chooses = matches!(day, Day::Weekday(_))
        && choosers().longest_of(rest.slice, "thing").is_some()
        && !rest
            .get(1)
            .is_some_and(|next| next.is_numeric() || number_words().holds(next));
    if chooses {
        return input.no();
    }
    Ok((rest, day))
}

/// The same, also where it tells which pot is meant: "the sunday one".
pub fn of_pot(input: Tokens<'_>) -> Read<'_, Day> {
    if let Ok((rest, ())) = ahead(input) {
        return Ok((rest, Day::Ahead));
    }
    let (rest, on) = opt(word(&["on", "from", "last", "this"])).parse(input)?;
    if let Some(read) = dated(rest)? {
        return Ok(read);
    }
    if let Ok((after, day)) = of_month(rest, on.is_some()) {
        return Ok((after, day));
    }
    if let Ok((after, count)) = number(rest) {
        let (after, days) = word(&["days", "day", "nights", "night", "week", "weeks"])(after)?;
        let (after, _) = word(&["ago"])(after)?;
        let count = count.value * if days.starts_with("week") { 7.0 } else { 1.0 };
        if count.fract() != 0.0 || !(0.0..1000.0).contains(&count) {
            return input.no();
        }
        return Ok((after, Day::DaysAgo(count as u32)));
    }
    // "this morning" is one phrase.
    let (rest, key) = phrase(calendar())(input)
        .or_else(|_| phrase(calendar())(rest))
        .or_else(|_| misspelled(rest))?;
    // "finally sat down"
    if input.norm(0) == "sat"
        && matches!(
            rest.norm(0),
            "down" | "on" | "in" | "at" | "here" | "outside" | "up"
        )
    {
        return input.no();
    }
    let day = match key.split_once(' ') {
        Some(("weekday", number)) => number.parse().ok().map(Day::Weekday),
        None if key == "today" => Some(Day::Today),
        None if key == "yesterday" => Some(Day::Yesterday),
        None if key == "tomorrow" => Some(Day::Ahead),
        _ => None,
    };
    let Some(day) = day.or(match key {
        "day before yesterday" => Some(Day::DaysAgo(2)),
        _ => None,
    }) else {
        return input.no();
    };
    // "mon 12 oct" is the date, "monday night" the day.
    if matches!(day, Day::Weekday(_)) {
        if let Ok(Some(dated)) = dated(rest) {
            return Ok(dated);
        }
        let (rest, _) = opt(word(&[
            "night",
            "evening",
            "morning",
            "afternoon",
            "nights",
        ]))
        .parse(rest)?;
        return Ok((rest, day));
    }
    Ok((rest, day))
}

/// "use by 3 Dec", "best before March 2027": a date that is printed, and what follows it.
pub fn use_by(input: Tokens<'_>) -> Option<(Tokens<'_>, Day)> {
    let length = dates().longest_of(input.slice, "use by")?;
    let rest = input.after(length).without_lead();
    let skip = usize::from(matches!(
        rest.norm(0),
        "date" | "is" | "on" | "of" | "the end of"
    ));
    printed_day(rest.after(skip).without_lead())
}

/// A date as packets have it: a day, or a month and its year, which is its last day.
pub fn printed_day(input: Tokens<'_>) -> Option<(Tokens<'_>, Day)> {
    let skip = usize::from(input.norm(0) == "end") + usize::from(input.norm(1) == "of");
    let month_first = input.after(if input.norm(0) == "end" { skip } else { 0 });
    if let Some(month) = month(month_first)
        && let Ok((rest, year)) = year(month_first.take_one())
    {
        let last = match month {
            2 if year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) => 29,
            2 => 28,
            4 | 6 | 9 | 11 => 30,
            _ => 31,
        };
        let day = Day::Date {
            day: last,
            month,
            year: Some(year),
        };
        return Some((rest, day));
    }
    if let Some(read) = in_days(input) {
        return Some(read);
    }
    let (rest, day) = day(input).ok()?;
    let plain = match &day {
        Day::Today | Day::Weekday(_) | Day::Date { .. } | Day::OfMonth(_) => true,
        Day::InDays(_) | Day::Yesterday => true,
        // "in 3 hours" has lost how many.
        Day::Ahead => input.norm(0) == "tomorrow",
        Day::DaysAgo(_) | Day::LastWeek => false,
    };
    plain.then_some((rest, day))
}

/// "in 3 days", "another 2 days", "2 more days": from today on.
fn in_days(input: Tokens<'_>) -> Option<(Tokens<'_>, Day)> {
    let within = usize::from(input.norm(0) == "in");
    let other = usize::from(input.norm(within) == "another");
    let (rest, count) = number(input.after(within + other)).ok()?;
    let more = usize::from(rest.norm(0) == "more");
    let days = match rest.norm(more) {
        "day" | "days" => count.value,
        "week" | "weeks" => count.value * 7.0,
        _ => return None,
    };
    let told = within + other + more > 0 && count.other.is_none();
    let whole = days.fract() == 0.0 && (0.0..DAYS_AHEAD_MAX).contains(&days);
    (told && whole).then(|| (rest.after(more + 1), Day::InDays(days as u32)))
}

/// A day that has not come.
fn ahead(input: Tokens<'_>) -> Read<'_, ()> {
    let weekday = |input| match phrase(calendar())(input) {
        Ok((rest, key)) if key.starts_with("weekday") => Ok((rest, ())),
        Ok(_) | Err(_) => input.no(),
    };
    if let Ok((rest, _)) = word(&["next", "coming"])(input) {
        return weekday(rest);
    }
    if let Ok((rest, _)) = word(&["in"])(input) {
        let (rest, _) = number(rest)?;
        let (rest, _) = word(&["hour", "hours", "day", "days", "week", "weeks"])(rest)?;
        return Ok((rest, ()));
    }
    let (rest, _) = opt(word(&["on"])).parse(input)?;
    let (rest, ()) = weekday(rest)?;
    let (rest, _) = word(&["week"])(rest)?;
    Ok((rest, ()))
}

/// "yesteday", "Wensday": a long name of a day that was meant for no other word.
fn misspelled(input: Tokens<'_>) -> Read<'_, &'static str> {
    const LONG: [(&str, &str); 9] = [
        ("yesterday", "yesterday"),
        ("tomorrow", "tomorrow"),
        ("monday", "weekday 0"),
        ("tuesday", "weekday 1"),
        ("wednesday", "weekday 2"),
        ("thursday", "weekday 3"),
        ("friday", "weekday 4"),
        ("saturday", "weekday 5"),
        ("sunday", "weekday 6"),
    ];
    let norm = input.norm(0);
    let (first, last) = (norm.chars().next(), norm.chars().next_back());
    let looks = norm.len() >= 6 && matches!(last, Some('y' | 'w'));
    if !looks || input.vocabulary.has_word(norm) || is_food_word(norm) {
        return input.no();
    }
    let mut near = LONG.iter().filter(|(name, _)| {
        name.chars().next() == first && crate::foods::spelled_nearly(norm, name)
    });
    match (near.next(), near.next()) {
        (Some((_, key)), None) => Ok((input.take_one(), *key)),
        _ => input.no(),
    }
}

/// "on the 12th", "the 12th"
fn of_month(input: Tokens<'_>, on: bool) -> Read<'_, Day> {
    let (rest, the) = opt(word(&["the"])).parse(input)?;
    match rest.first().map(|token| &token.kind) {
        Some(Kind::Ordinal(day)) if (on || the.is_some()) && (1..=31).contains(day) => {
            Ok((rest.take_one(), Day::OfMonth(*day)))
        }
        // "13th 100 g, 14th 80 g"; "2nd 80 g" may be a second helping.
        Some(Kind::Ordinal(day))
            if (ORDINAL_DAY_MIN..=31).contains(day)
                && rest
                    .get(1)
                    .is_some_and(|next| next.is_numeric() || next.is(':')) =>
        {
            Ok((rest.take_one(), Day::OfMonth(*day)))
        }
        _ => input.no(),
    }
}

/// "at 17:45", "6.30pm", "around noon": when on the day it was eaten, which the books do not need.
pub fn clock(input: Tokens<'_>) -> Read<'_, ()> {
    let (rest, at) = opt(word(&["at", "around", "about", "by"])).parse(input)?;
    let rest = match rest.first().map(|token| &token.kind) {
        Some(Kind::Clock) => rest.take_one(),
        Some(Kind::Number(hour))
            if hour.value <= 12.0 && matches!(rest.norm(1), "am" | "pm" | "oclock") =>
        {
            rest.take_one()
        }
        _ => {
            let (rest, key) = phrase(calendar())(input).or_else(|_| phrase(calendar())(rest))?;
            let _ = at;
            return if key == "time" {
                Ok((rest, ()))
            } else {
                input.no()
            };
        }
    };
    let (rest, _) = opt(word(&["am", "pm", "oclock"])).parse(rest)?;
    Ok((rest, ()))
}

/// A date with its month.
fn dated(input: Tokens<'_>) -> Result<Option<(Tokens<'_>, Day)>, nom::Err<super::syntax::Error>> {
    let (rest, _) = opt(word(&["the"])).parse(input)?;
    match rest.first().map(|token| &token.kind) {
        Some(Kind::Date(day, month, year)) => {
            return checked(input, rest.take_one(), *day, *month, Some(*year)).map(Some);
        }
        Some(Kind::Ratio(..) | Kind::Number(_)) => {
            if let Some((day, month)) = slashed(rest) {
                return checked(input, rest.take_one(), day, month, None).map(Some);
            }
            if let Some((day, month)) = dotted(rest) {
                return checked(input, rest.after(2), day, month, None).map(Some);
            }
        }
        _ => {}
    }
    if let Some(day) = day_number(rest) {
        let (after, _) = opt(word(&["of"])).parse(rest.take_one())?;
        return match month(after) {
            Some(month) => {
                let (after, year) = opt(year).parse(after.take_one())?;
                checked(input, after, day, month, year).map(Some)
            }
            None => Ok(None),
        };
    }
    let (Some(month), Some(day)) = (month(rest), day_number(rest.after(1))) else {
        return Ok(None);
    };
    let (after, _) = opt(symbol(',')).parse(rest.after(2))?;
    let (after, year) = match year(after) {
        Ok((after, year)) => (after, Some(year)),
        Err(_) => (rest.after(2), None),
    };
    checked(input, after, day, month, year).map(Some)
}

/// "14/10", however the lexer took it.
fn slashed(input: Tokens<'_>) -> Option<(u32, u32)> {
    let text = &input.text[input.first()?.span.clone()];
    let (day, month) = text.split_once('/')?;
    Some((day.parse().ok()?, month.parse().ok()?))
}

/// "13.10.", with more behind it: a date, and no end of a sentence.
fn dotted(input: Tokens<'_>) -> Option<(u32, u32)> {
    let text = &input.text[input.first()?.span.clone()];
    let (day, month) = text.split_once('.')?;
    let stop = input.get(1).filter(|stop| stop.is('.') && !stop.spaced);
    let two =
        |part: &str| (1..=2).contains(&part.len()) && part.bytes().all(|it| it.is_ascii_digit());
    let (day, month): (u32, u32) =
        (two(day) && two(month)).then(|| Some((day.parse().ok()?, month.parse().ok()?)))??;
    let dated = (1..=31).contains(&day) && (1..=12).contains(&month);
    (dated && stop.is_some() && input.len() > 2).then_some((day, month))
}

fn day_number(input: Tokens<'_>) -> Option<u32> {
    match input.first()?.kind {
        Kind::Ordinal(n) => Some(n),
        Kind::Number(numeral)
            if numeral.value.fract() == 0.0 && (1.0..=31.0).contains(&numeral.value) =>
        {
            Some(numeral.value as u32)
        }
        _ => None,
    }
}

fn month(input: Tokens<'_>) -> Option<u32> {
    calendar()
        .get(input.norm(0))?
        .strip_prefix("month ")?
        .parse()
        .ok()
}

fn year(input: Tokens<'_>) -> Read<'_, i32> {
    match input.first().map(|token| &token.kind) {
        Some(Kind::Number(numeral))
            if numeral.value.fract() == 0.0 && (2000.0..2200.0).contains(&numeral.value) =>
        {
            Ok((input.take_one(), numeral.value as i32))
        }
        _ => input.no(),
    }
}

type Dated<'a> = Result<(Tokens<'a>, Day), nom::Err<super::syntax::Error>>;

fn checked<'a>(
    start: Tokens<'a>,
    rest: Tokens<'a>,
    day: u32,
    month: u32,
    year: Option<i32>,
) -> Dated<'a> {
    let longest = match month {
        2 => 29,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    let leap = year.is_none_or(|year| year % 4 == 0 && (year % 100 != 0 || year % 400 == 0));
    if day == 0 || day > longest || (month == 2 && day == 29 && !leap) {
        let said = start.range(0, start.len() - rest.len());
        return said.fail(ErrorKind::NoSuchDate(said.words().text));
    }
    Ok((rest, Day::Date { day, month, year }))
}

pub fn meal(input: Tokens<'_>) -> Read<'_, MealName> {
    let (rest, lead) = opt(word(&["for", "at", "as"])).parse(input)?;
    let (rest, _) = opt(word(&["a", "my", "our", "the"])).parse(rest)?;
    // "tea" and "snack" alone are food words as well.
    let plain = matches!(rest.norm(0), "tea" | "snack") && lead.is_none();
    let (rest, key) = phrase(meals())(rest)?;
    if plain && !rest.first().is_some_and(|token| token.is(':')) {
        return input.no();
    }
    let meal = match key {
        "breakfast" => MealName::Breakfast,
        "lunch" => MealName::Lunch,
        "dinner" => MealName::Dinner,
        _ => MealName::Snack,
    };
    Ok((rest, meal))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::lexer::lex;
    use crate::lang::vocabulary::Vocabulary;

    #[track_caller]
    fn reads(text: &str, expected: Option<Day>) {
        let tokens = lex(text);
        let vocabulary = Vocabulary::new();
        let input = Tokens::unread(&tokens, text, &vocabulary);
        let read = day(input)
            .ok()
            .filter(|(rest, _)| rest.is_empty())
            .map(|(_, day)| day);
        assert_eq!(read, expected, "{text:?}");
    }

    #[test]
    fn days() {
        let date = |day, month, year| Some(Day::Date { day, month, year });
        reads("yesterday", Some(Day::Yesterday));
        reads("last night", Some(Day::Yesterday));
        reads("this morning", Some(Day::Today));
        reads("on Sunday", Some(Day::Weekday(6)));
        reads("last Tue", Some(Day::Weekday(1)));
        reads("2 days ago", Some(Day::DaysAgo(2)));
        reads("three days ago", Some(Day::DaysAgo(3)));
        reads("3 October", date(3, 10, None));
        reads("3rd of Oct 2026", date(3, 10, Some(2026)));
        reads("October 3, 2026", date(3, 10, Some(2026)));
        reads("2026-10-14", date(14, 10, Some(2026)));
        reads("14/10", date(14, 10, None));
        reads("5/10", date(5, 10, None));
        reads("14/10/26", date(14, 10, Some(2026)));
        reads("31 February", None);
        reads("soon", None);
    }
}
