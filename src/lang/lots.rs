//! What is said of where food stands: put elsewhere, frozen, thawed, parted into bags.

use super::syntax::{Item, Words};

/// Food put elsewhere.
#[derive(Debug, Clone, PartialEq)]
pub struct Move {
    /// An item of which no amount was told is all of it.
    pub items: Vec<Item>,
    pub to: Destination,
    /// Where it was taken from, if that was said.
    pub from: Option<Words>,
    /// What each bag weighs, where it was parted.
    pub parts_grams: Vec<f64>,
}

/// What a batch is counted in.
#[derive(Debug, Clone, PartialEq)]
pub struct Pieces {
    pub count: u32,
    /// What one is called, in the singular; `None`: by the batch's own name.
    pub word: Option<String>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum Destination {
    /// "freezer", "fridge", or a place of the household's own.
    Place(Words),
    /// Out of the freezer, into the fridge.
    Thawed,
}
