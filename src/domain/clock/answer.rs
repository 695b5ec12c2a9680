//! What is said of time to come, as values.

use chrono::{DateTime, Duration, LocalResult, NaiveDate, NaiveDateTime, TimeZone, Utc};

use super::super::ids::{EntryId, MessageId};
use super::super::kitchen::Kitchen;
use super::super::stock::LotView;
use super::occurrence::{ClockSettings, NoteKind};
use super::{Reminder, ReminderKind};
use crate::domain::mass::Mass;

#[derive(Debug, Clone, PartialEq)]
pub enum ClockAnswer {
    Set {
        timer: ReminderView,
        message: MessageId,
    },
    Cancelled {
        timers: Vec<ReminderView>,
        message: MessageId,
    },
    /// What waits, in the order in which it rings, and the notes that come by themselves, if they are asked for.
    Pending {
        waiting: Vec<ReminderView>,
        notes: Option<ClockSettings>,
    },
    /// It is time.
    Rang(RungView),
    Note(NoteView),
    /// It is time to put them away.
    PutAway {
        /// They stand where it is not cold.
        out: Vec<LotView>,
        /// Nobody told where they stand.
        unplaced: Vec<LotView>,
        /// When the first of those has been out for two hours, if it is.
        by: NaiveDateTime,
        /// That time has gone by.
        over: bool,
    },
    Away(AwayAnswer),
    /// Who is away from today on.
    Absences(Vec<AbsenceView>),
    Back {
        /// `None`: everybody.
        member: Option<String>,
        on: NaiveDate,
        today: NaiveDate,
        message: MessageId,
    },
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AbsenceView {
    /// `None`: everybody.
    pub member: Option<String>,
    pub from: NaiveDate,
    pub until: NaiveDate,
}

#[derive(Debug, Clone, PartialEq)]
pub struct AwayAnswer {
    /// `None`: everybody.
    pub member: Option<String>,
    pub from: NaiveDate,
    pub until: NaiveDate,
    pub today: NaiveDate,
    /// What is due meanwhile and may be frozen before, and what may not.
    pub freeze: Vec<LotView>,
    pub finish: Vec<LotView>,
    pub message: MessageId,
}

#[derive(Debug, Clone, PartialEq)]
pub struct ReminderView {
    pub entry: EntryId,
    pub kind: ReminderKind,
    pub number: u32,
    pub words: String,
    pub lasts: Duration,
    pub due_at: DateTime<Utc>,
    /// The household's own time.
    pub wall: NaiveDateTime,
    /// What it is there now.
    pub now: NaiveDateTime,
    /// The clock shows that time twice; whether it is the second.
    pub second: Option<bool>,
    /// The time that was asked for, which the clock leaps over.
    pub leapt: Option<NaiveDateTime>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct RungView {
    pub reminder: ReminderView,
    /// So much later than it should have been.
    pub late: Option<Duration>,
}

impl ReminderView {
    pub fn of(kitchen: &Kitchen, reminder: &Reminder, now: DateTime<Utc>) -> Self {
        let zone = kitchen.settings().zone;
        let wall = reminder.due_at.with_timezone(&zone).naive_local();
        let second = match zone.from_local_datetime(&wall) {
            LocalResult::Ambiguous(first, _) => Some(first.to_utc() != reminder.due_at),
            LocalResult::Single(_) | LocalResult::None => None,
        };
        let asked = reminder.asked.wall;
        let leaps = |asked: &NaiveDateTime| zone.from_local_datetime(asked) == LocalResult::None;
        Self {
            entry: reminder.entry,
            kind: reminder.asked.kind,
            number: reminder.asked.number,
            words: reminder.asked.words.clone(),
            lasts: reminder.lasts(),
            due_at: reminder.due_at,
            wall,
            now: now.with_timezone(&zone).naive_local(),
            second,
            leapt: asked.filter(leaps),
        }
    }
}

/// What a household is told of the bot's own accord.
#[derive(Debug, Clone, PartialEq)]
pub struct NoteView {
    pub kind: NoteKind,
    /// The date that it is for, the day that it tells of, and earlier dates that it speaks for as well.
    pub on: NaiveDate,
    pub about: NaiveDate,
    pub also_for: Vec<NaiveDate>,
    pub due_at: DateTime<Utc>,
    pub late: Option<Duration>,
    /// The household's own time, then and now.
    pub wall: NaiveDateTime,
    pub now: NaiveDateTime,
    pub today: NaiveDate,
    pub past: Vec<LotView>,
    pub due_today: Vec<LotView>,
    pub due_tomorrow: Vec<LotView>,
    /// Out of the freezer this evening, and so much of each will be eaten tomorrow.
    pub take_out: Vec<(String, Mass)>,
    /// What has no day left once it is thawed: out on the day itself.
    pub on_the_day: Vec<(String, Mass)>,
    /// On the last evening before all are away: what would pass its date meanwhile.
    pub leaving: Leaving,
}

/// What is due while nobody is here.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Leaving {
    pub freeze: Vec<LotView>,
    /// It keeps no longer frozen, or is not frozen.
    pub finish: Vec<LotView>,
}

impl Leaving {
    pub fn is_empty(&self) -> bool {
        self.freeze.is_empty() && self.finish.is_empty()
    }
}
