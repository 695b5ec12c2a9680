//! Days and hours that are to come: "Sunday 10am", "tomorrow at 8", "Thu to Sat".
//!
//! ```text
//! ahead   := "today" | "tomorrow" | ["on" | "this" | "next"] weekday ["next week"] | date | "the" ordinal
//!          | "in" number ("days" | "weeks")
//! at      := ahead [part of the day] [hour] | hour [ahead]
//! days    := ["from"] ahead ("to" | "-") ahead | "until" ahead | ["for"] number "days" | "this weekend" | ahead
//! ```
//! A date is day before month. "This evening at 6" is no morning, and "1:30 tonight" is of the night that comes.

pub use super::lasting::{Lasting, lasting};

use std::fmt::{self, Display, Formatter};

use nom::Parser;
use nom::combinator::opt;

use super::date;
use super::hour::{self, Hour};
use super::number::number;
use super::syntax::Day;
use super::token::Kind;
use super::tokens::{Read, Tokens, symbol, word};
use super::words::calendar;

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
    /// Of the calendar's next week, which begins on a Monday.
    NextWeek(u8),
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

impl Display for Ahead {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self.clone() {
            Self::Today => write!(f, "{}", Day::Today),
            Self::Tomorrow => write!(f, "{}", Day::Ahead),
            Self::Weekday(day) => write!(f, "{}", Day::Weekday(day)),
            Self::NextWeek(day) => write!(f, "{} next week", Day::Weekday(day)),
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
        Day::Weekday(day) if is_next_week(rest) => {
            return Ok((rest.after(2), Ahead::NextWeek(day)));
        }
        Day::Weekday(day) => Ahead::Weekday(day),
        Day::Date { day, month, year } => Ahead::Date { day, month, year },
        Day::OfMonth(day) => Ahead::OfMonth(day),
        Day::InDays(days) => Ahead::InDays(days),
        Day::Yesterday | Day::DaysAgo(_) | Day::LastWeek | Day::Ahead => return input.no(),
    };
    Ok((rest, day))
}

fn is_next_week(rest: Tokens<'_>) -> bool {
    (rest.norm(0), rest.norm(1)) == ("next", "week")
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

/// "Sunday 10am", "tomorrow at 8", "at half six", "8pm on Sunday", "tonight", "6 this evening".
pub fn at(input: Tokens<'_>) -> Read<'_, At> {
    moment(input, false)
}

/// The same where a moment is expected: a bare number is an hour as well.
pub fn moment(input: Tokens<'_>, led: bool) -> Read<'_, At> {
    if let Ok((rest, day)) = ahead(input) {
        let told = input.range(0, input.len() - rest.len());
        let (rest, part) = part_of_day(told, rest);
        let (after, _) = opt(symbol(',')).parse(rest)?;
        return Ok(match hour::expected(after, true) {
            Some((rest, hour)) => (rest, of_part(day, hour, part)),
            None => {
                let hour = part.map(Part::hour);
                let day = Some(day);
                (rest, At { day, hour })
            }
        });
    }
    let Some((rest, hour)) = hour::expected(input, led) else {
        return input.no();
    };
    let Ok((after, day)) = ahead(rest) else {
        let (day, hour) = (None, Some(hour));
        return Ok((rest, At { day, hour }));
    };
    let told = rest.range(0, rest.len() - after.len());
    let (after, part) = part_of_day(told, after);
    Ok((after, of_part(day, hour, part)))
}

/// A part of the day that was told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Morning,
    Afternoon,
    Evening,
    Night,
}

impl Part {
    /// The hour that is meant where none is told.
    fn hour(self) -> Hour {
        match self {
            Self::Morning => Hour::at(8, 0),
            Self::Afternoon => Hour::at(15, 0),
            Self::Evening | Self::Night => Hour::at(19, 0),
        }
    }
}

/// The hour as the part of the day has it: "1:30 tonight" comes after midnight.
fn of_part(day: Ahead, hour: Hour, part: Option<Part>) -> At {
    let at = |clock| Hour::at(clock, hour.minute);
    let night = part == Some(Part::Night);
    let (day, hour) = match part {
        Some(_) if hour.hour == 12 && night && day == Ahead::Today => (None, at(0)),
        Some(Part::Night) if hour.either && hour.hour < 5 && day == Ahead::Today => {
            (None, at(hour.hour))
        }
        Some(Part::Morning) if hour.either => (Some(day), at(hour.hour)),
        Some(_) if hour.either => (Some(day), at(hour.hour + 12)),
        _ => (Some(day), hour),
    };
    let hour = Some(hour);
    At { day, hour }
}

/// "tonight", "tomorrow morning": told within the day or behind it.
fn part_of_day<'a>(told: Tokens<'a>, rest: Tokens<'a>) -> (Tokens<'a>, Option<Part>) {
    let part = |word: &str| match word {
        "morning" | "mornin" => Some(Part::Morning),
        "afternoon" | "arvo" => Some(Part::Afternoon),
        "evening" => Some(Part::Evening),
        "night" | "nite" | "tonight" | "tonite" | "2nite" => Some(Part::Night),
        _ => None,
    };
    match part(rest.norm(0)) {
        Some(part) => (rest.take_one(), Some(part)),
        None => (rest, told.last().and_then(|token| part(token.norm()))),
    }
}

/// A run of days: "Thu to Sat", "15 to 17 Oct", "until Sunday", "3 days", "this weekend", "on Friday".
pub fn days(input: Tokens<'_>) -> Read<'_, (Ahead, Ahead)> {
    let (rest, (first, last)) = run(input)?;
    let last = last.unwrap_or_else(|| first.clone());
    Ok((rest, (first, last)))
}

/// The same, with the last day where one was told: "Sunday to Sunday" is a week, and "on Sunday" a day.
pub fn run(input: Tokens<'_>) -> Read<'_, (Ahead, Option<Ahead>)> {
    let (rest, from) = opt(word(&["from", "between"])).parse(input)?;
    if from.is_none() {
        if let Ok((rest, _)) = word(&["until", "till", "til", "through"])(rest) {
            let (rest, until) = ahead(rest)?;
            return Ok((rest, (Ahead::Today, Some(until))));
        }
        let read = counted(rest).or_else(|| weekend(rest));
        if let Some((rest, (first, last))) = read.or_else(|| next_week(rest)) {
            return Ok((rest, (first, Some(last))));
        }
    }
    // "15 to 17 Oct": the month is told once.
    if let Some((rest, (first, last))) = of_one_month(rest) {
        return Ok((rest, (first, Some(last))));
    }
    let (rest, first) = ahead(rest)?;
    let dash = rest.first().is_some_and(|token| token.is('-'));
    let joins = ["to", "until", "till", "til", "and", "through"].contains(&rest.norm(0)) || dash;
    if joins && let Ok((rest, last)) = ahead(rest.take_one()) {
        // "Tue to Thu next week" is all of it there.
        let first = match (&first, &last) {
            (Ahead::Weekday(day), Ahead::NextWeek(_)) => Ahead::NextWeek(*day),
            _ => first,
        };
        return Ok((rest, (first, Some(last))));
    }
    // "Thu-Sat" is two words in a row.
    if let (Ahead::Weekday(_), Ok((after, Ahead::Weekday(last)))) = (&first, ahead(rest)) {
        return Ok((after, (first, Some(Ahead::Weekday(last)))));
    }
    match joins {
        true => input.no(),
        false => Ok((rest, (first, None))),
    }
}

/// "next week", "all next week"
fn next_week(input: Tokens<'_>) -> Option<(Tokens<'_>, (Ahead, Ahead))> {
    let rest = input.after(usize::from(matches!(input.norm(0), "all" | "for")));
    let days = (Ahead::NextWeek(0), Ahead::NextWeek(6));
    is_next_week(rest).then(|| (rest.after(2), days))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::spelled::whole;

    #[test]
    fn moments_in_many_spellings() {
        for (text, printed) in [
            ("Sunday 10am", "Sunday at 10:00am"),
            ("on Sunday at 10", "Sunday at 10:00"),
            ("sun 18:00", "Sunday at 18:00"),
            ("next Sunday at half six", "Sunday at 6:30"),
            ("tomorrow at 8", "tomorrow at 8:00"),
            ("tomorrow morning", "tomorrow at 08:00am"),
            ("tomorrow evening at 7", "tomorrow at 19:00"),
            ("tomorrow morning at 6", "tomorrow at 06:00am"),
            ("tonight", "today at 19:00"),
            ("at 8 tonight", "today at 20:00"),
            ("1:30 tonight", "at 01:30am"),
            ("at 12 tonight", "at 00:00am"),
            ("at 6 this evening", "today at 18:00"),
            ("at 8 in the morning", "at 08:00am"),
            ("Tuesday next week at 9", "Tuesday next week at 9:00"),
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
