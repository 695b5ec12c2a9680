//! Days on which people do not eat here. From an absence on, the plans are for those who stay, and nobody is told notes
//! while all are away.

use chrono::{DateTime, NaiveDate, Utc};

use super::super::ids::{EntryId, MemberId};
use super::super::kitchen::{AtTable, Kitchen, Member};
use super::super::view;
use super::answer::Leaving;

/// So many days of plates tell who never has one.
const DAYS_TELL: u32 = 7;
/// A guest of fewer days is one.
const GUEST_DAYS_LEAST: u32 = 3;
/// Of so many days one.
const GUEST_SHARE: u32 = 3;

/// Somebody's days away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Absence {
    /// `None`: everybody.
    pub member: Option<MemberId>,
    pub from: NaiveDate,
    pub until: NaiveDate,
}

/// The same in the books.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptAbsence {
    pub entry: EntryId,
    pub tip: EntryId,
    pub told_at: DateTime<Utc>,
    pub absence: Absence,
}

impl Absence {
    pub fn covers(&self, member: MemberId, day: NaiveDate) -> bool {
        let theirs = self.member.is_none_or(|absent| absent == member);
        theirs && (self.from..=self.until).contains(&day)
    }
}

impl Kitchen {
    /// The member does not eat here on this day.
    pub fn away(&self, member: MemberId, day: NaiveDate) -> bool {
        let mut absences = self.clock.absences.iter();
        absences.any(|kept| kept.absence.covers(member, day))
    }

    /// Somebody who writes here eats here, unless weeks of plates tell that they do not; of guests only who is at the table
    /// on every third day.
    pub fn eats_here(&self, member: &Member) -> bool {
        let AtTable { days, of_days } = member.table;
        match member.chats {
            true => days > 0 || of_days < DAYS_TELL,
            false => days >= GUEST_DAYS_LEAST && days * GUEST_SHARE >= of_days,
        }
    }

    /// Who eats here on this day.
    pub fn eaters(&self, day: NaiveDate) -> Vec<MemberId> {
        let members = self
            .members()
            .iter()
            .filter(|member| self.eats_here(member));
        let members = members.map(|member| member.id);
        members.filter(|member| !self.away(*member, day)).collect()
    }

    /// What is due while nobody is here, or on the last day before: what may be frozen, and what has to be eaten.
    pub fn leaving(&self, (from, until): (NaiveDate, NaiveDate), today: NaiveDate) -> Leaving {
        let mut leaving = Leaving::default();
        let before = from.pred_opt().unwrap_or(from).max(today);
        for batch in self.open_batches() {
            let lots = batch.lots.iter().filter(|lot| lot.balance > batch.crumbs());
            for lot in lots.filter(|lot| !self.is_frozen(lot)) {
                let due = self.use_by(batch, lot).map(|due| due.on);
                if due.filter(|on| (before..=until).contains(on)).is_none() {
                    continue;
                }
                let view = view::lot(self, batch, lot);
                match self.due_if_frozen(batch, lot, today) {
                    Some(frozen) if frozen > until => leaving.freeze.push(view),
                    _ => leaving.finish.push(view),
                }
            }
        }
        leaving
    }

    /// There are people, and all of them are away.
    pub fn is_empty_on(&self, day: NaiveDate) -> bool {
        !self.members().is_empty() && self.eaters(day).is_empty()
    }
}
