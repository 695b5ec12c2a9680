//! What the household chooses of time.

use chrono::NaiveTime;

use super::occurrence::{ClockSettings, NoteKind};
use super::prep_day::PrepDay;

/// One choice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ClockChoice {
    Prep(Option<PrepDay>),
    Morning(Option<NaiveTime>),
    Evening(Option<NaiveTime>),
    Quiet(Option<(NaiveTime, NaiveTime)>),
    PutAway(bool),
    PrepTold(bool),
}

impl ClockSettings {
    pub fn choose(&mut self, choice: ClockChoice) {
        match choice {
            ClockChoice::Prep(prep) => self.prep = prep,
            ClockChoice::Morning(morning) => self.morning = morning,
            ClockChoice::Evening(evening) => self.evening = evening,
            ClockChoice::Quiet(quiet) => self.quiet = quiet,
            ClockChoice::PutAway(told) => self.put_away = told,
            ClockChoice::PrepTold(told) => self.prep_told = told,
        }
    }
}

impl NoteKind {
    /// The stable word in the store and in the bridge's data.
    pub fn word(self) -> &'static str {
        match self {
            Self::Prep => "prep",
            Self::Morning => "morning",
            Self::Evening => "evening",
        }
    }
}
