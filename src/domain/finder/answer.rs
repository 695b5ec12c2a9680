//! What is told of a plate that was looked for.

use chrono::NaiveDate;

use crate::domain::ids::{MemberId, QuestionId};
use crate::domain::mass::Mass;
use crate::domain::nutrients::{Sum, Totals};
use crate::foods::Code;
use crate::lang::syntax::Aimed;

#[derive(Debug, Clone, PartialEq)]
pub struct FinderAnswer {
    pub lines: Vec<FoundLine>,
    pub totals: Totals,
    /// What was asked for, in the order in which it was.
    pub aims: Vec<FoundAim>,
    /// What the books know too little of.
    pub unknown: Vec<String>,
    /// Its answer books the plate.
    pub question: Option<QuestionId>,
    /// Whose plate it is to be.
    pub of: MemberId,
    /// What the day has so far, where it is to be filled up.
    pub day: Option<DaySoFar>,
    /// What it holds is told here.
    pub numbers: bool,
    pub today: NaiveDate,
}

impl FinderAnswer {
    /// The plate holds all that was asked for.
    pub fn is_met(&self) -> bool {
        self.aims.iter().all(|aim| aim.off == 0.0)
    }
}

/// A day that is to be filled up.
#[derive(Debug, Clone, PartialEq)]
pub struct DaySoFar {
    /// Of what was asked for.
    pub had: Vec<(Aimed, Sum)>,
    /// Even when it is filled it is one for which a clinician's advice is wanted.
    pub low: bool,
}

/// Something on the plate.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundLine {
    pub name: String,
    pub batch: Option<String>,
    pub food: Option<Code>,
    pub packet: Option<String>,
    pub mass: Mass,
    /// Its weight was told.
    pub told: bool,
    /// What stands ready of a batch, beside this.
    pub left: Option<Mass>,
    pub use_by: Option<NaiveDate>,
    /// It has to be thawed before.
    pub frozen: bool,
    /// Its nutrients are an estimate.
    pub estimated: bool,
    pub totals: Totals,
}

/// What was asked for, and what the plate holds of it; kcal, or grams.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoundAim {
    pub of: Aimed,
    pub least: Option<f64>,
    pub most: Option<f64>,
    pub holds: Sum,
    /// So much too little (negative) or too much; nothing, if it is near enough.
    pub off: f64,
}
