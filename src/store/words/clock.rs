//! Words of what is to come.

use chrono::{NaiveDateTime, NaiveTime};

use super::unreadable;
use crate::domain::clock::ReminderKind;
use crate::domain::clock::choice::ClockChoice;
use crate::domain::clock::prep_day::PrepDay;
use crate::store::error::Result;

/// How a wall clock's time is kept.
const WALL: &str = "%Y-%m-%dT%H:%M";
const TIME: &str = "%H:%M";
const OFF: &str = "off";

pub fn wall_text(wall: NaiveDateTime) -> String {
    wall.format(WALL).to_string()
}

pub fn wall(text: &str) -> Result<NaiveDateTime> {
    NaiveDateTime::parse_from_str(text, WALL).map_err(|_| unreadable("a time of day", text))
}

pub fn reminder_kind(word: &str) -> Result<ReminderKind> {
    match word {
        "timer" => Ok(ReminderKind::Timer),
        "once" => Ok(ReminderKind::Once),
        _ => Err(unreadable("a kind of reminder", word)),
    }
}

pub fn reminder_word(kind: ReminderKind) -> &'static str {
    match kind {
        ReminderKind::Timer => "timer",
        ReminderKind::Once => "once",
    }
}

fn time(text: &str) -> Option<NaiveTime> {
    NaiveTime::parse_from_str(text, TIME).ok()
}

/// "6 10:00", and behind it one of its dates if it is every other week.
fn prep_day(told: &str) -> Option<PrepDay> {
    let mut parts = told.split(' ');
    let weekday = parts.next()?.parse().ok().filter(|day| *day < 7)?;
    let at = time(parts.next()?)?;
    let every_other = match parts.next() {
        None => None,
        Some(on) => Some(on.parse().ok()?),
    };
    Some(PrepDay {
        weekday,
        at,
        every_other,
    })
}

/// A choice of the household's times; the rest is no choice of them.
pub fn choice(key: &str, value: &str) -> Option<ClockChoice> {
    let told = Some(value).filter(|value| *value != OFF);
    Some(match key {
        "prep_day" => ClockChoice::Prep(match told {
            None => None,
            Some(told) => Some(prep_day(told)?),
        }),
        "morning" => ClockChoice::Morning(match told {
            None => None,
            Some(at) => Some(time(at)?),
        }),
        "evening" => ClockChoice::Evening(match told {
            None => None,
            Some(at) => Some(time(at)?),
        }),
        "quiet" => ClockChoice::Quiet(match told.map(|told| told.split_once('-')) {
            None => None,
            Some(parts) => {
                let (from, to) = parts?;
                Some((time(from)?, time(to)?))
            }
        }),
        "put_away" => ClockChoice::PutAway(told.is_some()),
        "prep_message" => ClockChoice::PrepTold(told.is_some()),
        _ => return None,
    })
}

pub fn choice_words(choice: ClockChoice) -> (&'static str, String) {
    let time = |time: NaiveTime| time.format(TIME).to_string();
    let (key, value) = match choice {
        ClockChoice::Prep(prep) => {
            let told = prep.map(|prep| {
                let every_other = prep.every_other;
                let behind = every_other.map_or(String::new(), |on| format!(" {on}"));
                format!("{} {}{behind}", prep.weekday, time(prep.at))
            });
            ("prep_day", told)
        }
        ClockChoice::Morning(morning) => ("morning", morning.map(time)),
        ClockChoice::Evening(evening) => ("evening", evening.map(time)),
        ClockChoice::Quiet(quiet) => {
            let told = quiet.map(|(from, to)| format!("{}-{}", time(from), time(to)));
            ("quiet", told)
        }
        ClockChoice::PutAway(told) => ("put_away", told.then(|| "on".to_owned())),
        ClockChoice::PrepTold(told) => ("prep_message", told.then(|| "on".to_owned())),
    };
    (key, value.unwrap_or_else(|| OFF.to_owned()))
}
