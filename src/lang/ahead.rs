//! Days and hours that are to come, and spans of time: "Sunday 10am", "tomorrow at 8", "35 min".
//!
//! ```text
//! ahead   := "today" | "tomorrow" | ["on" | "this" | "next"] weekday | date | "the" ordinal | "in" number ("days" | "weeks")
//! at      := ahead [part of the day] [hour] | hour [ahead]
//! days    := ["from"] ahead ("to" | "-") ahead | "until" ahead | ["for"] number "days" | "this weekend" | ahead
//! lasting := number unit [["and"] number unit] | number "h" number | ("half" | "an") ["an"] hour ["and a half"]
//! ```
//! A date is day before month. Seconds are rounded up to the minute.

use std::fmt::{self, Display, Formatter};

use nom::combinator::opt;
use nom::{Err, Parser};

use super::date;
use super::hour::{self, Hour};
use super::number::{and_a_half, number};
use super::syntax::{Day, Words};
use super::token::Kind;
use super::tokens::{Read, Tokens, symbol, word};
use super::words::{calendar, clock};

/// Further ahead nobody plans in days.
const DAYS_MAX: f64 = 400.0;

/// A day that has not gone by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ahead {
    Today,
    Tomorrow,
    /// 0 = Monday; the next one, today included.
    Weekday(u8),
    Date {
        day: u32,
        month: u32,
        year: Option<i32>,
    },
    /// "the 12th": the next one, today included.
    OfMonth(u32),
    InDays(u32),
}

/// When something is to happen, as far as it was told.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct At {
    pub day: Option<Ahead>,
    pub hour: Option<Hour>,
}

/// How long something takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lasting {
    pub minutes: u32,
}

impl Display for Ahead {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self.clone() {
            Self::Today => write!(f, "{}", Day::Today),
            Self::Tomorrow => write!(f, "{}", Day::Ahead),
            Self::Weekday(day) => write!(f, "{}", Day::Weekday(day)),
            Self::Date { day, month, year } => write!(f, "{}", Day::Date { day, month, year }),
            Self::OfMonth(day) => write!(f, "{}", Day::OfMonth(day)),
            Self::InDays(days) => write!(f, "{}", Day::InDays(days)),
        }
    }
}

impl Display for At {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if let Some(day) = &self.day {
            write!(f, "{day}")?;
        }
        if self.day.is_some() && self.hour.is_some() {
            f.write_str(" ")?;
        }
        self.hour.map_or(Ok(()), |hour| write!(f, "{hour}"))
    }
}

impl Display for Lasting {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "{} min", self.minutes)
    }
}

/// "today", "on Sunday", "3 October", "the 12th", "in 3 days".
pub fn ahead(input: Tokens<'_>) -> Read<'_, Ahead> {
    if let Some(read) = in_days(input) {
        return Ok(read);
    }
    let (rest, lead) = opt(word(&["on", "this", "next", "coming"])).parse(input)?;
    if calendar().get(rest.norm(0)) == Some("tomorrow") {
        return Ok((rest.take_one(), Ahead::Tomorrow));
    }
    if matches!(rest.norm(0), "last" | "from") {
        return input.no();
    }
    // "this evening" is one phrase, and "on the 12th" tells that it is a day.
    let read = match lead {
        Some("next" | "coming") => date::day(rest),
        _ => date::day(input).or_else(|_| date::day(rest)),
    };
    let (rest, day) = match read {
        Ok(read) => read,
        // A date that is in no calendar is said to be none elsewhere.
        Err(_) => return input.no(),
    };
    let day = match day {
        Day::Today => Ahead::Today,
        Day::Weekday(day) => Ahead::Weekday(day),
        Day::Date { day, month, year } => Ahead::Date { day, month, year },
        Day::OfMonth(day) => Ahead::OfMonth(day),
        Day::InDays(days) => Ahead::InDays(days),
        Day::Yesterday | Day::DaysAgo(_) | Day::Ahead => return input.no(),
    };
    Ok((rest, day))
}

/// "in 3 days", "in a week"
fn in_days(input: Tokens<'_>) -> Option<(Tokens<'_>, Ahead)> {
    let (rest, _) = word(&["in"])(input).ok()?;
    let (rest, count) = number(rest).ok()?;
    let days = match rest.norm(0) {
        "day" | "days" => count.value,
        "week" | "weeks" => count.value * 7.0,
        _ => return None,
    };
    let whole = days.fract() == 0.0 && (0.0..=DAYS_MAX).contains(&days);
    whole.then(|| (rest.take_one(), Ahead::InDays(days as u32)))
}

/// "Sunday 10am", "tomorrow at 8", "at half six", "8pm on Sunday", "tonight".
pub fn at(input: Tokens<'_>) -> Read<'_, At> {
    if let Ok((rest, day)) = ahead(input) {
        let told = input.range(0, input.len() - rest.len());
        let (rest, part) = part_of_day(told, rest);
        let (after, _) = opt(symbol(',')).parse(rest)?;
        let (rest, hour) = match hour::expected(after, true) {
            Some((rest, hour)) => (rest, Some(hour)),
            None => (rest, part),
        };
        let day = Some(day);
        return Ok((rest, At { day, hour }));
    }
    let Some((rest, hour)) = hour::expected(input, false) else {
        return input.no();
    };
    let (rest, day) = match ahead(rest) {
        Ok((rest, day)) => (rest, Some(day)),
        Err(_) => (rest, None),
    };
    let hour = Some(hour);
    Ok((rest, At { day, hour }))
}

/// "tonight", "tomorrow morning": the hour that is meant where none is told.
fn part_of_day<'a>(told: Tokens<'a>, rest: Tokens<'a>) -> (Tokens<'a>, Option<Hour>) {
    let part = |word: &str| match word {
        "morning" | "mornin" => Some(Hour::at(8, 0)),
        "afternoon" | "arvo" => Some(Hour::at(15, 0)),
        "evening" | "night" | "nite" | "tonight" | "tonite" | "2nite" => Some(Hour::at(19, 0)),
        _ => None,
    };
    match part(rest.norm(0)) {
        Some(hour) => (rest.take_one(), Some(hour)),
        None => (rest, told.last().and_then(|token| part(token.norm()))),
    }
}

/// A run of days: "Thu to Sat", "15 to 17 Oct", "until Sunday", "3 days", "this weekend", "on Friday".
pub fn days(input: Tokens<'_>) -> Read<'_, (Ahead, Ahead)> {
    let (rest, from) = opt(word(&["from", "between"])).parse(input)?;
    if from.is_none() {
        if let Ok((rest, _)) = word(&["until", "till", "til", "through"])(rest) {
            let (rest, until) = ahead(rest)?;
            return Ok((rest, (Ahead::Today, until)));
        }
        if let Some(read) = counted(rest).or_else(|| weekend(rest)) {
            return Ok(read);
        }
    }
    // "15 to 17 Oct": the month is told once.
    if let Some(read) = of_one_month(rest) {
        return Ok(read);
    }
    let (rest, first) = ahead(rest)?;
    let dash = rest.first().is_some_and(|token| token.is('-'));
    let joins = ["to", "until", "till", "til", "and", "through"].contains(&rest.norm(0)) || dash;
    if joins && let Ok((rest, last)) = ahead(rest.take_one()) {
        return Ok((rest, (first, last)));
    }
    // "Thu-Sat" is two words in a row.
    if let (Ahead::Weekday(_), Ok((after, Ahead::Weekday(last)))) = (&first, ahead(rest)) {
        return Ok((after, (first, Ahead::Weekday(last))));
    }
    match joins {
        true => input.no(),
        false => Ok((rest, (first.clone(), first))),
    }
}

/// "3 days", "for a week": from today on.
fn counted(input: Tokens<'_>) -> Option<(Tokens<'_>, (Ahead, Ahead))> {
    let rest = input.after(usize::from(input.norm(0) == "for"));
    let (rest, count) = number(rest).ok()?;
    let days = match rest.norm(0) {
        "day" | "days" | "night" | "nights" => count.value,
        "week" | "weeks" => count.value * 7.0,
        _ => return None,
    };
    let whole = days.fract() == 0.0 && (1.0..=DAYS_MAX).contains(&days);
    whole.then(|| {
        (
            rest.take_one(),
            (Ahead::Today, Ahead::InDays(days as u32 - 1)),
        )
    })
}

fn weekend(input: Tokens<'_>) -> Option<(Tokens<'_>, (Ahead, Ahead))> {
    let lead = usize::from(input.norm(0) == "for");
    let lead = lead + usize::from(matches!(input.norm(lead), "this" | "the" | "at"));
    let lead = lead + usize::from(input.norm(lead) == "the");
    let told = input.norm(lead) == "weekend";
    told.then(|| {
        (
            input.after(lead + 1),
            (Ahead::Weekday(5), Ahead::Weekday(6)),
        )
    })
}

fn of_one_month(input: Tokens<'_>) -> Option<(Tokens<'_>, (Ahead, Ahead))> {
    let first = match input.first()?.kind {
        Kind::Number(number) if number.value.fract() == 0.0 => number.value,
        Kind::Ordinal(number) => f64::from(number),
        _ => return None,
    };
    let dash = input.get(1).is_some_and(|token| token.is('-'));
    let joins = ["to", "until", "till", "through"].contains(&input.norm(1)) || dash;
    let (rest, last) = ahead(input.after(2)).ok()?;
    let Ahead::Date { month, year, .. } = last else {
        return None;
    };
    let day = (joins && (1.0..=31.0).contains(&first)).then_some(first as u32)?;
    Some((rest, (Ahead::Date { day, month, year }, last)))
}

/// What cannot be, wherever it stands: "31 February", "25:00", "-5 min".
pub fn impossible(input: Tokens<'_>) -> Option<Words> {
    (0..input.len()).find_map(|at| {
        let rest = input.after(at);
        no_date(rest)
            .or_else(|| no_hour(rest))
            .or_else(|| no_span(rest))
    })
}

fn no_date(input: Tokens<'_>) -> Option<Words> {
    match date::day(input) {
        Err(Err::Failure(error)) => Some(Words::new(
            input.text[error.span.clone()].to_owned(),
            error.span,
        )),
        _ => None,
    }
}

fn no_hour(input: Tokens<'_>) -> Option<Words> {
    let whole = |at: usize| match input.get(at)?.kind {
        Kind::Number(number) if number.value.fract() == 0.0 => Some(number.value),
        _ => None,
    };
    let glued = |at: usize| input.get(at).is_some_and(|token| !token.spaced);
    let colon = input.get(1).is_some_and(|token| token.is(':')) && glued(1) && glued(2);
    let (hour, minute) = (whole(0)?, whole(2)?);
    (colon && (hour >= 24.0 || minute >= 60.0)).then(|| input.range(0, 3).words())
}

fn no_span(input: Tokens<'_>) -> Option<Words> {
    let minus = input.first()?.is('-') && input.get(1).is_some_and(|next| !next.spaced);
    let (rest, _) = lasting(input.after(1)).ok().filter(|_| minus)?;
    Some(input.range(0, input.len() - rest.len()).words())
}

/// "35 min", "2 h", "1h30", "1 hour and 20 min", "an hour and a half", "90 seconds".
pub fn lasting(input: Tokens<'_>) -> Read<'_, Lasting> {
    let (rest, (seconds, unit)) = span(input)?;
    let and = usize::from(rest.norm(0) == "and" || rest.first().is_some_and(|token| token.is('&')));
    if let Ok((after, half)) = and_a_half(rest) {
        return Ok((after, whole_minutes(seconds + half * unit)));
    }
    if let Ok((after, (more, smaller))) = span(rest.after(and))
        && smaller < unit
    {
        return Ok((after, whole_minutes(seconds + more)));
    }
    // "1h30", "1 h 30 m"
    if unit == HOUR
        && let Ok((after, minutes)) = number(rest)
        && minutes.value.fract() == 0.0
        && (1.0..60.0).contains(&minutes.value)
    {
        let short = clock().longest_of(after.slice, "short minute");
        let joined = rest.first().is_some_and(|token| !token.spaced);
        if joined || short.is_some() {
            let after = after.after(short.unwrap_or(0));
            return Ok((after, whole_minutes(seconds + minutes.value * MINUTE)));
        }
    }
    Ok((rest, whole_minutes(seconds)))
}

const MINUTE: f64 = 60.0;
const HOUR: f64 = 3600.0;
/// Longer than any that is taken: it is said to be too long, whatever was typed.
const MINUTES_MAX: f64 = 1e6;

fn whole_minutes(seconds: f64) -> Lasting {
    let minutes = (seconds / MINUTE).ceil().clamp(0.0, MINUTES_MAX) as u32;
    Lasting { minutes }
}

/// A number with its unit: its seconds, and those of the unit.
fn span(input: Tokens<'_>) -> Read<'_, (f64, f64)> {
    let (rest, count) = number(input)?;
    // "half an hour", "three quarters of an hour"
    let part = count.value < 1.0;
    let rest = match part {
        true => rest.after(usize::from(rest.norm(0) == "of")),
        false => rest,
    };
    let rest = match part && matches!(rest.norm(0), "a" | "an") {
        true => rest.take_one(),
        false => rest,
    };
    for (key, seconds) in [("second", 1.0), ("minute", MINUTE), ("hour", HOUR)] {
        if let Some(length) = clock().longest_of(rest.slice, key) {
            return Ok((rest.after(length), (count.value * seconds, seconds)));
        }
    }
    input.no()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::token::lex;
    use crate::lang::vocabulary::Vocabulary;

    fn whole<T: Display>(
        text: &str,
        read: impl for<'a> Fn(Tokens<'a>) -> Read<'a, T>,
    ) -> Option<String> {
        let tokens = lex(text);
        let vocabulary = Vocabulary::new();
        let input = Tokens::unread(&tokens, text, &vocabulary);
        let (rest, read) = read(input).ok()?;
        rest.is_empty().then(|| read.to_string())
    }

    #[test]
    fn spans_in_many_spellings() {
        for (text, minutes) in [
            ("35 min", 35),
            ("35min", 35),
            ("35 minutes", 35),
            ("thirty five mins", 35),
            ("2 h", 120),
            ("2 hours", 120),
            ("1h30", 90),
            ("1h 30m", 90),
            ("1 h 30 min", 90),
            ("1 hour and 20 minutes", 80),
            ("an hour", 60),
            ("an hour and a half", 90),
            ("half an hour", 30),
            ("half hour", 30),
            ("1.5 h", 90),
            ("1 1/2 hours", 90),
            ("two and a half hours", 150),
            ("a quarter of an hour", 15),
            ("three quarters of an hour", 45),
            ("90 seconds", 2),
            ("45 sec", 1),
            ("a minute", 1),
            ("0 min", 0),
        ] {
            let expected = Lasting { minutes }.to_string();
            assert_eq!(whole(text, lasting), Some(expected), "{text}");
        }
        for text in ["35", "35 g", "min", "2 h 30 g", "35 m"] {
            assert_eq!(whole(text, lasting), None, "{text}");
        }
    }

    #[test]
    fn moments_in_many_spellings() {
        for (text, printed) in [
            ("Sunday 10am", "Sunday at 10:00am"),
            ("on Sunday at 10", "Sunday at 10:00"),
            ("sun 18:00", "Sunday at 18:00"),
            ("next Sunday at half six", "Sunday at 6:30"),
            ("tomorrow at 8", "tomorrow at 8:00"),
            ("tomorrow morning", "tomorrow at 08:00am"),
            ("tomorrow evening at 7", "tomorrow at 7:00"),
            ("tonight", "today at 19:00"),
            ("at 18", "at 18:00"),
            ("at 8", "at 8:00"),
            ("8pm", "at 20:00"),
            ("8pm tomorrow", "tomorrow at 20:00"),
            ("at noon", "at 12:00"),
            ("3 October", "3 October"),
            ("3 October at 6.30pm", "3 October at 18:30"),
            ("the 12th at 9", "on the 12th at 9:00"),
            ("in 3 days", "in 3 days"),
            ("in a week at 9", "in 7 days at 9:00"),
        ] {
            assert_eq!(whole(text, at).as_deref(), Some(printed), "{text}");
            assert_eq!(whole(printed, at).as_deref(), Some(printed), "{printed}");
        }
        for text in [
            "8",
            "yesterday at 8",
            "last Sunday",
            "in 2 h",
            "soon",
            "31 February",
        ] {
            assert_eq!(whole(text, at), None, "{text}");
        }
    }
}
