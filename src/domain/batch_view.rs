//! A batch, as an answer shows it.

use chrono::NaiveDate;

use super::allergen::Allergens;
use super::assumption::Assumption;
use super::avoid::Avoided;
use super::batch::{LineState, PourKind};
use super::estimate::Spread;
use super::ids::BatchId;
use super::mass::Mass;
use super::nutrients::Totals;
use super::origin::Origin;
use super::stock::LotView;
use crate::foods;

#[derive(Debug, Clone, PartialEq)]
pub struct BatchView {
    pub id: BatchId,
    pub code: String,
    pub name: String,
    pub estimated: bool,
    /// Its weight comes from spoons and pieces, or is estimated.
    pub about: bool,
    pub raw: bool,
    pub origin: Origin,
    pub made_on: NaiveDate,
    /// Somebody knows that day.
    pub dated: bool,
    /// How many pieces the whole of it is.
    pub pieces: Option<PiecesView>,
    pub raw_mass: Mass,
    pub net_mass: Mass,
    /// While it is not weighed: how far the household's own pots of it lie apart.
    pub expected: Option<Spread>,
    pub left: Mass,
    pub lines: Vec<LineView>,
    pub poured: Vec<PouredView>,
    pub totals: Totals,
    pub per_100g: Totals,
    pub allergens: Allergens,
    /// What of it somebody at the table avoids.
    pub avoided: Vec<Avoided>,
    /// Energy and nutrients are told.
    pub numbers: bool,
    pub lots: Vec<LotView>,
}

impl BatchView {
    /// Net over raw; `None` for a pot without weighed ingredients.
    pub fn yield_factor(&self) -> Option<f64> {
        (self.raw_mass.mg() > 0).then(|| self.net_mass.grams() / self.raw_mass.grams())
    }
}

#[derive(Debug, Clone, PartialEq)]
pub struct LineView {
    pub number: u32,
    /// As typed.
    pub text: String,
    pub part: Option<String>,
    pub state: LineState,
    /// What it was taken to be, in the table's or the household's words.
    pub taken_as: Option<String>,
    pub food: Option<foods::Code>,
    pub batch: Option<String>,
    pub packet: Option<String>,
    /// `None` where nothing tells how much.
    pub mass: Option<Mass>,
    pub estimated: bool,
    pub assumptions: Vec<Assumption>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct PouredView {
    pub kind: PourKind,
    pub mass: Mass,
    /// What of that part stayed in the pot: an estimate, by difference.
    pub absorbed: Option<Mass>,
    /// The lines that the part was taken to be, when they were not marked as one.
    pub guessed_lines: Vec<String>,
}

/// So many pieces, by the grams that there are.
#[derive(Debug, Clone, PartialEq)]
pub struct PiecesView {
    pub count: f64,
    /// What one is called, in the singular; `None`: by the batch's own name.
    pub word: Option<String>,
}
