//! What somebody eats: bowls, and what is on them.

use chrono::{DateTime, NaiveDate, Utc};

use super::ids::*;
use super::ledger::Account;
use super::mass::Mass;
use crate::lang::syntax::MealName;

/// One bowl of one person. Bowls of one person, day and meal are one sitting.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    pub id: AccountId,
    pub member: MemberId,
    pub day: NaiveDate,
    pub meal: Option<MealName>,
    /// The message that opened it, whose answer grows with it.
    pub message: MessageId,
    /// Said to be done: nothing more goes on it by itself.
    pub closed: bool,
    /// What is on it and stands, in the order in which it was written down.
    pub portions: Vec<PlatePortion>,
}

/// One thing on a plate.
#[derive(Debug, Clone, PartialEq)]
pub struct PlatePortion {
    pub entry: EntryId,
    /// The last link of its chain of reversals.
    pub tip: EntryId,
    pub occurred_at: DateTime<Utc>,
    pub recorded_at: DateTime<Utc>,
    /// Where it came from: a lot, or bought.
    pub from: Account,
    pub mass: Mass,
    pub batch: Option<BatchId>,
    pub profile: Option<ProfileId>,
    pub estimated: bool,
}

impl Plate {
    /// When it was last touched, if it is this person's.
    pub fn touched_by(&self, member: MemberId) -> Option<DateTime<Utc>> {
        self.touched_at().filter(|_| self.member == member)
    }

    /// When something was last put on it.
    pub fn touched_at(&self) -> Option<DateTime<Utc>> {
        self.portions
            .iter()
            .map(|portion| portion.recorded_at)
            .max()
    }
}
