//! What stands on the label of a bag or a box, as values.

use chrono::NaiveDate;

use super::allergen::Allergens;
use super::avoid::Avoided;
use super::batch::{Batch, Lot};
use super::composition::Composition;
use super::keeping::{Region, UseBy};
use super::kitchen::Kitchen;
use super::mass::Mass;
use super::nutrients::Totals;
use super::origin::Origin;
use crate::lang::syntax::{LabelSize, Page};

/// Labels, and the paper that they are wanted on.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelAnswer {
    pub labels: Vec<LabelView>,
    pub size: LabelSize,
    pub page: Option<Page>,
    /// Of each.
    pub copies: usize,
    /// Tells which paper lies in the printer.
    pub region: Region,
}

/// The label of one lot.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelView {
    pub code: String,
    pub name: String,
    pub place: Option<String>,
    pub origin: Origin,
    /// When it was made; what nobody cooked here, when it came into the books.
    pub made_on: NaiveDate,
    /// Since when it has been in the freezer, if it stands there and anybody knows.
    pub frozen_on: Option<NaiveDate>,
    pub due: Option<UseBy>,
    /// `None` until the batch is weighed in.
    pub mass: Option<Mass>,
    /// Its weight comes from spoons and pieces.
    pub about: bool,
    /// The batch is not weighed in: what is in it is an estimate.
    pub estimated: bool,
    pub per_100g: Totals,
    pub allergens: Allergens,
    /// What of it somebody at the table avoids.
    pub avoided: Vec<Avoided>,
}

impl LabelView {
    pub fn of(kitchen: &Kitchen, batch: &Batch, lot: &Lot) -> Self {
        let place = lot.place.and_then(|id| kitchen.place(id));
        let frozen = kitchen.is_frozen(lot);
        // What was bought frozen, or stood there before, was frozen on some other day.
        let elsewhere = matches!(batch.origin, Origin::Bought | Origin::Before);
        let known = lot.came_from.is_some() || !elsewhere;
        Self {
            code: batch.code.clone(),
            name: batch.name.clone(),
            place: place.map(|place| place.name.clone()),
            origin: batch.origin,
            made_on: batch.made_on,
            frozen_on: (frozen && known).then(|| lot.since.unwrap_or(batch.made_on)),
            due: kitchen.use_by(batch, lot),
            mass: (!batch.estimated()).then_some(lot.balance),
            about: batch.is_about(),
            estimated: batch.estimated(),
            per_100g: Composition::new(kitchen).portion(batch.id, Mass::from_mg(100_000)),
            allergens: kitchen.allergens(batch),
            avoided: kitchen.avoided_in(batch),
        }
    }

    /// The same of a bag that holds so much of it.
    pub fn holding(self, mass: Mass) -> Self {
        Self {
            mass: Some(mass),
            ..self
        }
    }
}

/// Why there is no label.
#[derive(Debug, Clone, PartialEq)]
pub enum LabelProblem {
    /// Nothing of it stands there.
    Nothing {
        what: Option<String>,
        place: Option<String>,
    },
    /// Paper so small that nobody could read it, or larger than any page.
    Size,
    /// Labels so large that none fits the page.
    LargerThanPage,
}

impl LabelProblem {
    /// The stable code in the bridge's data.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Nothing { .. } => "nothing_to_label",
            Self::Size | Self::LargerThanPage => "label_size",
        }
    }
}
