//! What the household chooses of time, as hours of its day.

use chrono::{NaiveDate, NaiveTime};

use super::super::super::change::SettingChange;
use super::super::super::clock::ahead::time_of;
use super::super::super::clock::choice::ClockChoice;
use super::super::super::clock::occurrence::ClockSettings;
use super::super::super::clock::prep_day::PrepDay;
use super::super::super::clock::problem::ClockProblem;
use super::super::super::problem::ProblemKind;
use super::super::Stop;
use crate::lang::syntax::{ClockSetting, Hour, Impossible, NoteName, Told};

/// "prep day Sunday", and no hour.
const PREP_HOUR: Hour = Hour::at(10, 0);

/// "prep day at 6" is in the evening, "at 8" in the morning.
const EARLIEST: u32 = 7;

/// What is chosen: of all notes at once, each.
pub fn choices(told: &ClockSetting, today: NaiveDate) -> Result<Vec<SettingChange>, Stop> {
    let usual = ClockSettings::default();
    let chosen = match told {
        ClockSetting::Prep(None) => vec![ClockChoice::Prep(None)],
        ClockSetting::Prep(Some(told)) => {
            let hour = told.hour.unwrap_or(PREP_HOUR);
            let at = time(hour, hour.hour < EARLIEST)?;
            let weekly = PrepDay::weekly(told.weekday, at);
            vec![ClockChoice::Prep(Some(PrepDay {
                every_other: told.every_other.then(|| weekly.from(today)),
                ..weekly
            }))]
        }
        ClockSetting::Note(NoteName::Prep, told) => vec![ClockChoice::PrepTold(*told != Told::Off)],
        ClockSetting::Note(NoteName::Morning, told) => vec![ClockChoice::Morning(match told {
            Told::Off => None,
            Told::On => usual.morning,
            Told::At(hour) => Some(time(*hour, false)?),
        })],
        ClockSetting::Note(NoteName::Evening, told) => vec![ClockChoice::Evening(match told {
            Told::Off => None,
            Told::On => usual.evening,
            Told::At(hour) => Some(time(*hour, true)?),
        })],
        ClockSetting::Note(NoteName::PutAway, told) => {
            vec![ClockChoice::PutAway(*told != Told::Off)]
        }
        ClockSetting::Notes(told) => vec![
            ClockChoice::PrepTold(*told),
            ClockChoice::Morning(usual.morning.filter(|_| *told)),
            ClockChoice::Evening(usual.evening.filter(|_| *told)),
            ClockChoice::PutAway(*told),
        ],
        ClockSetting::Quiet(None) => vec![ClockChoice::Quiet(None)],
        ClockSetting::Quiet(Some((from, to))) => {
            let late = from.hour >= EARLIEST;
            let hours = (time(*from, late)?, time(*to, false)?);
            if hours.0 == hours.1 {
                return Err(ProblemKind::Clock(ClockProblem::NoQuiet).into());
            }
            vec![ClockChoice::Quiet(Some(hours))]
        }
    };
    Ok(chosen.into_iter().map(SettingChange::Clock).collect())
}

fn time(hour: Hour, late: bool) -> Result<NaiveTime, Stop> {
    time_of(hour, late).ok_or_else(|| {
        let told = hour.to_string();
        ProblemKind::Clock(ClockProblem::impossible(told, Impossible::Hour)).into()
    })
}
