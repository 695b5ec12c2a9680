//! What is said of where food stands: put elsewhere, frozen, thawed, parted into bags, labelled.

use super::syntax::{Day, Item, Words};

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

/// What a count says of all that it does not name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rest {
    /// As the books have it.
    Same,
    Gone,
}

/// Food that somebody took and did not weigh.
#[derive(Debug, Clone, PartialEq)]
pub struct Taking {
    pub dishes: Vec<Words>,
    /// Where it was taken from, if that was said.
    pub place: Option<Words>,
    /// As it was said: "some", "a bit".
    pub amount: String,
    /// Who took it; `None`: whoever says so.
    pub who: Option<Words>,
    pub day: Option<Day>,
}

/// What a count found missing goes on somebody's plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Claim {
    /// Of which dish; `None`: of what was counted last.
    pub dish: Option<Words>,
    /// Whose it was; `None`: whoever says so.
    pub who: Option<Words>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum Destination {
    /// "freezer", "fridge", or a place of the household's own.
    Place(Words),
    /// Out of the freezer, into the fridge.
    Thawed,
}

/// Labels wanted: of what, how large, on what.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// The dish; without one, everything.
    pub name: Option<Words>,
    /// Only what stands there.
    pub place: Option<Words>,
    pub size: Option<LabelSize>,
    /// Several on such a page.
    pub page: Option<Page>,
    /// Of each.
    pub copies: usize,
}

/// How large a label is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LabelSize {
    Millimetres {
        width: f64,
        height: f64,
    },
    /// Of a printer that counts in them.
    Dots {
        width: u32,
        height: u32,
    },
}

/// A page for several labels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Page {
    A4,
    Letter,
}
