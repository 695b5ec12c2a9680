//! Time to come: what somebody is to be told, and when. Pure: what it is now is passed in.
//!
//! A span is counted as it elapses; an hour that was told is the household's own, whatever the zone does until then.

pub mod absence;
pub mod ahead;
pub mod answer;
pub mod choice;
pub mod due;
pub mod hold;
pub mod occurrence;
pub mod prep_day;
pub mod press;
pub mod problem;
pub mod put_away;

use chrono::{DateTime, Duration, NaiveDateTime, Utc};

use absence::{Absence, KeptAbsence};
use occurrence::NoteKind;

use super::ids::{EntryId, MemberId};
use super::ledger::Entry;

/// What kind of thing rings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReminderKind {
    /// After a span.
    Timer,
    /// At an hour.
    Once,
}

/// What somebody asked to be told, as it was asked.
#[derive(Debug, Clone, PartialEq)]
pub struct NewReminder {
    pub kind: ReminderKind,
    /// What it is called by.
    pub number: u32,
    /// What for, as typed; may be empty.
    pub words: String,
    pub due_at: DateTime<Utc>,
    /// The household's own time, where an hour was told.
    pub wall: Option<NaiveDateTime>,
}

/// The same in the books.
#[derive(Debug, Clone, PartialEq)]
pub struct Reminder {
    pub entry: EntryId,
    /// The last link of the entry's chain of reversals.
    pub tip: EntryId,
    pub member: MemberId,
    /// When it was asked for.
    pub set_at: DateTime<Utc>,
    pub asked: NewReminder,
    /// When it rings: another zone moves what was told by the hour.
    pub due_at: DateTime<Utc>,
}

impl Reminder {
    /// A note that was put off, by what it is called: it says what it would say by then.
    pub fn note(&self) -> Option<NoteKind> {
        let mut kinds = NoteKind::ALL.into_iter();
        kinds.find(|kind| kind.name() == self.asked.words)
    }

    /// How long after it was asked for it rings.
    pub fn lasts(&self) -> Duration {
        self.asked.due_at - self.set_at
    }
}

/// What a fact of this kind is about.
#[derive(Debug, Clone, PartialEq)]
pub enum ClockDetail {
    Reminder(NewReminder),
    Absence(Absence),
}

/// Notes that were told in one message.
#[derive(Debug, Clone, PartialEq)]
pub struct ToldNotes {
    pub at: DateTime<Utc>,
    pub kinds: Vec<NoteKind>,
    /// What was said of hot food was among them.
    pub put_away: bool,
    /// The message that puts them off replies to them.
    pub pointed: bool,
}

/// What waits, as a decision sees it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ClockBooks {
    /// In the order in which they ring.
    pub waiting: Vec<Reminder>,
    /// What rang a moment ago, and may be put off; the last one last.
    pub rang: Vec<Reminder>,
    /// The notes that the chat was told last, and when, if they are asked for again.
    pub told: Option<ToldNotes>,
    /// Who does not eat here when, as it was told, oldest first.
    pub absences: Vec<KeptAbsence>,
}

impl ClockBooks {
    /// What was asked for begins to wait.
    pub(super) fn remember(&mut self, id: EntryId, entry: &Entry, detail: &ClockDetail) {
        let asked = match detail {
            ClockDetail::Reminder(asked) => asked,
            ClockDetail::Absence(absence) => {
                self.absences.push(KeptAbsence {
                    entry: id,
                    tip: entry.id,
                    told_at: entry.occurred_at,
                    absence: *absence,
                });
                self.absences.sort_by_key(|kept| kept.entry);
                return;
            }
        };
        self.waiting.push(Reminder {
            entry: id,
            tip: entry.id,
            member: entry.member,
            set_at: entry.occurred_at,
            due_at: asked.due_at,
            asked: asked.clone(),
        });
        self.waiting
            .sort_by_key(|reminder| (reminder.due_at, reminder.entry));
    }

    pub(super) fn put_off(&mut self, id: EntryId, due_at: DateTime<Utc>) {
        let mut waiting = self.waiting.iter_mut();
        if let Some(reminder) = waiting.find(|reminder| reminder.entry == id) {
            reminder.due_at = due_at;
        }
        self.waiting
            .sort_by_key(|reminder| (reminder.due_at, reminder.entry));
    }

    pub(super) fn forget(&mut self, id: EntryId) {
        self.waiting.retain(|reminder| reminder.entry != id);
        self.absences.retain(|kept| kept.entry != id);
    }

    /// The least number that nothing waiting is called by.
    pub fn free_number(&self) -> u32 {
        let taken = |number: &u32| {
            let mut waiting = self.waiting.iter();
            waiting.any(|reminder| reminder.asked.number == *number)
        };
        (1..)
            .find(|number| !taken(number))
            .expect("not all are taken")
    }
}
