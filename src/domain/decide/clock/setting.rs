//! What the household chooses of time, as hours of its day.

use chrono::NaiveTime;

use super::super::super::change::SettingChange;
use super::super::super::clock::ahead::time_of;
use super::super::super::clock::choice::ClockChoice;
use super::super::super::clock::occurrence::ClockSettings;
use super::super::super::clock::problem::ClockProblem;
use super::super::super::problem::ProblemKind;
use super::super::Stop;
use crate::lang::syntax::{ClockSetting, Hour, NoteName, Told};

/// "prep day Sunday", and no hour.
const PREP_HOUR: Hour = Hour::at(10, 0);

/// "prep day at 6" is in the evening, "at 8" in the morning.
const EARLIEST: u32 = 7;

pub fn choice(told: &ClockSetting) -> Result<SettingChange, Stop> {
    let choice = match told {
        ClockSetting::Prep(None) => ClockChoice::Prep(None),
        ClockSetting::Prep(Some((weekday, hour))) => {
            let hour = hour.unwrap_or(PREP_HOUR);
            ClockChoice::Prep(Some((*weekday, time(hour, hour.hour < EARLIEST)?)))
        }
        ClockSetting::Note(NoteName::Morning, told) => ClockChoice::Morning(match told {
            Told::Off => None,
            Told::On => ClockSettings::default().morning,
            Told::At(hour) => Some(time(*hour, false)?),
        }),
        ClockSetting::Note(NoteName::Evening, told) => ClockChoice::Evening(match told {
            Told::Off => None,
            Told::On => ClockSettings::default().evening,
            Told::At(hour) => Some(time(*hour, true)?),
        }),
        ClockSetting::Note(NoteName::PutAway, told) => ClockChoice::PutAway(*told != Told::Off),
        ClockSetting::Quiet(None) => ClockChoice::Quiet(None),
        ClockSetting::Quiet(Some((from, to))) => {
            let late = from.hour >= EARLIEST;
            ClockChoice::Quiet(Some((time(*from, late)?, time(*to, false)?)))
        }
    };
    Ok(SettingChange::Clock(choice))
}

fn time(hour: Hour, late: bool) -> Result<NaiveTime, Stop> {
    time_of(hour, late).ok_or_else(|| {
        let told = hour.to_string();
        ProblemKind::Clock(ClockProblem::ImpossibleTime { told }).into()
    })
}
