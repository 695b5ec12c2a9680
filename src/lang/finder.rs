//! What a plate is to hold, and of what it is to be made.

use super::personal::Aim;
use super::syntax::{Amount, Words};

/// "dal and rice for 600 kcal, 35 protein"
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Finder {
    pub parts: Vec<FinderPart>,
    /// Anything that stands ready may go with them.
    pub from_stock: bool,
    pub aims: Vec<Aim>,
    /// The aims are of the whole day: a plate of what is still missing is looked for.
    pub of_day: bool,
    pub limits: Vec<FinderLimit>,
    /// "for Ana": whose plate it is to be.
    pub who: Option<Words>,
}

/// "at most 200 dal"; "no rice": no amount.
#[derive(Debug, Clone, PartialEq)]
pub struct FinderLimit {
    pub name: Words,
    pub most: Option<Amount>,
}

/// "160 dal": so much is on the plate already; without an amount it is looked for.
#[derive(Debug, Clone, PartialEq)]
pub struct FinderPart {
    pub amount: Option<Amount>,
    pub name: Words,
}
