//! Buttons under what rang.

use super::super::ids::EntryId;

#[derive(Debug, Clone, PartialEq)]
pub enum ClockPress {
    /// Ring again after so many minutes.
    Again { reminder: EntryId, minutes: u32 },
}

impl ClockPress {
    pub fn encode(&self) -> String {
        match self {
            Self::Again { reminder, minutes } => format!("again {} {minutes}", reminder.0),
        }
    }

    pub fn decode(words: &[&str]) -> Option<Self> {
        match words {
            ["again", reminder, minutes] => Some(Self::Again {
                reminder: EntryId(reminder.parse().ok()?),
                minutes: minutes.parse().ok()?,
            }),
            _ => None,
        }
    }
}
