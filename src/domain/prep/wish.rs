//! What is wished for days to come: so much of a dish on each of them, or none of it. On those days it stands in the
//! place of what is usually eaten; of two wishes for one day the newer holds.

use chrono::{DateTime, NaiveDate, Utc};

use crate::domain::ids::{ComponentId, EntryId};
use crate::domain::mass::Mass;
use crate::lang::syntax::MealName;

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    pub dish: ComponentId,
    pub from: NaiveDate,
    pub until: NaiveDate,
    /// On each day; `None`: none of it.
    pub a_day: Option<Mass>,
    pub meal: Option<MealName>,
    /// So many eat of it; `None`: whoever is here.
    pub people: Option<u32>,
}

/// The same in the books.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptWish {
    pub entry: EntryId,
    pub tip: EntryId,
    pub told_at: DateTime<Utc>,
    pub wish: Wish,
}

impl Wish {
    pub fn covers(&self, day: NaiveDate) -> bool {
        (self.from..=self.until).contains(&day)
    }
}

/// What is wished of a dish on a day; the outer `None`: nothing.
pub fn wished(wishes: &[KeptWish], dish: ComponentId, day: NaiveDate) -> Option<Mass> {
    let mut newest = wishes.iter().rev().map(|kept| &kept.wish);
    let found = newest.find(|wish| wish.dish == dish && wish.covers(day))?;
    Some(found.a_day.unwrap_or(Mass::ZERO))
}

/// A wish as it is told.
#[derive(Debug, Clone, PartialEq)]
pub struct WishView {
    pub dish: String,
    pub from: NaiveDate,
    pub until: NaiveDate,
    pub a_day: Option<Mass>,
    pub meal: Option<MealName>,
    pub people: Option<u32>,
}
