//! Days on which people do not eat here. From an absence on, the plans are for those who stay, and nobody is told notes
//! while all are away.

use chrono::{DateTime, NaiveDate, Utc};

use super::super::ids::{EntryId, MemberId};
use super::super::kitchen::Kitchen;

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

    /// Who eats here on this day.
    pub fn eaters(&self, day: NaiveDate) -> Vec<MemberId> {
        let members = self.members.iter().map(|member| member.id);
        members.filter(|member| !self.away(*member, day)).collect()
    }

    /// There are people, and all of them are away.
    pub fn is_empty_on(&self, day: NaiveDate) -> bool {
        !self.members.is_empty() && self.eaters(day).is_empty()
    }
}
