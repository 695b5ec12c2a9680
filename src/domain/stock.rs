//! What stands where, as an answer shows it.

use chrono::NaiveDate;

use super::answer::PiecesView;
use super::keeping::UseBy;
use super::mass::Mass;
use super::origin::Origin;

#[derive(Debug, Clone, PartialEq)]
pub struct LotView {
    pub batch: Option<String>,
    pub name: String,
    pub place: Option<String>,
    /// What it stands in, if that has a name.
    pub vessel: Option<String>,
    /// `None` until the batch is weighed in, or all that it was reckoned to be is gone.
    pub mass: Option<Mass>,
    /// What the books hold, weighed or estimated.
    pub balance: Mass,
    pub frozen: bool,
    /// Since when it has been frozen without a break.
    pub frozen_on: Option<NaiveDate>,
    pub due: Option<UseBy>,
    /// What people usually take of its dish; `None` if nobody has eaten of it yet.
    pub usual: Option<Mass>,
    pub made_on: NaiveDate,
    /// Somebody knows that day.
    pub dated: bool,
    pub origin: Origin,
    /// Nobody has told what it is made of.
    pub nutrients_unknown: bool,
    /// Somebody took of it unweighed since it was counted: there is less.
    pub taken: bool,
    /// How many pieces are left of a batch that is counted.
    pub pieces: Option<PiecesView>,
}

impl LotView {
    pub fn use_by(&self) -> Option<NaiveDate> {
        self.due.map(|due| due.on)
    }

    /// From this day on it should be eaten before others, where its time is a range.
    pub fn best_by(&self) -> Option<NaiveDate> {
        self.due
            .map(|due| due.first_on)
            .filter(|first| Some(*first) != self.use_by())
    }

    /// What is not weighed in may hold anything.
    pub fn holds_any(&self) -> bool {
        self.mass.is_none() || self.balance.mg() > 0
    }
}

/// What was drawn from one lot.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnLot {
    pub place: Option<String>,
    pub frozen: bool,
    pub mass: Mass,
}

#[derive(Debug, Clone, PartialEq)]
pub struct StockAnswer {
    /// In the order of their dates, what is ready before what is frozen.
    pub lots: Vec<LotView>,
    pub asked: StockAsked,
    /// Questions that nobody has answered: what they were about is not booked yet.
    pub not_booked: Vec<String>,
    pub today: NaiveDate,
}

#[derive(Debug, Clone, PartialEq)]
pub enum StockAsked {
    All,
    Place(String),
    /// What stands unfrozen, and what has been frozen for long.
    Due,
    PastDate,
    /// What came out of a freezer.
    Thawing,
}

#[derive(Debug, Clone, PartialEq)]
pub struct HowMuchAnswer {
    pub name: String,
    /// Where the dates come from is told too.
    pub dates: bool,
    /// Where it stands is told even if nobody said so.
    pub places: bool,
    pub lots: Vec<LotView>,
    pub today: NaiveDate,
}

impl HowMuchAnswer {
    pub fn left(&self) -> Mass {
        self.lots.iter().map(|lot| lot.balance).sum()
    }

    /// Of one dish; of several, a portion of one is none of another.
    pub fn portions(&self) -> Option<u32> {
        let usual = self.lots.first()?.usual;
        let alike = self.lots.iter().all(|lot| lot.usual == usual);
        whole_portions(self.left(), usual.filter(|_| alike))
    }
}

/// How many usual portions there surely are: what is almost one more counts as one.
pub fn whole_portions(mass: Mass, usual: Option<Mass>) -> Option<u32> {
    const ALMOST: f64 = 0.1;
    let usual = usual?.grams();
    let count = (mass.grams() / usual + ALMOST).floor();
    (usual > 0.0).then_some(count.max(0.0) as u32)
}
