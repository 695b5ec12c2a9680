//! What a pot will weigh before anyone has weighed it.
//!
//! Where the household's own pots of the dish were weighed, by what these came to (`cookbook::OwnYield`). Else by the
//! table: dry goods take up water, first what was poured in, then water that nobody mentioned; meat and
//! vegetables lose some. The yields are cooked over raw weights from pairs of the table's own rows,
//! good to about a tenth; where they come from stands with each row (`foods::cooking`).

use super::batch::{Batch, Line, LineState};
use super::cookbook::{OwnYield, Raw};
use super::kitchen::Kitchen;
use super::mass::Mass;
use crate::foods::Food;

/// Share of the liquid that boils away with the lid off, when nothing in the pot drinks it. Common practice.
const LIQUID_LOSS: f64 = 0.1;

/// What comes of what went in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ComesTo {
    pub mass: Mass,
    /// How far own pots lie apart; `None`: the table tells.
    pub spread: Option<Spread>,
}

/// What the same came to in one's own pots.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    pub least: Mass,
    pub most: Mass,
    /// Of so many pots.
    pub pots: u32,
}

impl ComesTo {
    /// Without what is poured off.
    #[must_use]
    pub fn less(self, poured: Mass) -> Self {
        let less = |mass: Mass| Mass::ZERO.max(mass - poured);
        Self {
            mass: less(self.mass),
            spread: self.spread.map(|spread| Spread {
                least: less(spread.least),
                most: less(spread.most),
                ..spread
            }),
        }
    }
}

/// The estimated cooked weight of everything in the pot, before anything is poured away.
pub fn cooked_mass(kitchen: &Kitchen, batch: &Batch) -> Mass {
    cooked(kitchen, batch).mass
}

/// The same, with how far own pots lie apart.
pub fn cooked(kitchen: &Kitchen, batch: &Batch) -> ComesTo {
    let lines = batch.lines.iter().filter(|line| counts(line));
    let parts = lines.map(|line| (kitchen.food_of_line(line), line.mass));
    comes_to(parts, batch.own_yield.as_ref())
}

/// What comes of these foods by their weights, before anything is poured away.
pub fn comes_to(
    parts: impl Iterator<Item = (Option<&'static Food>, Mass)>,
    own: Option<&OwnYield>,
) -> ComesTo {
    let parts: Vec<(Option<&Food>, Mass)> = parts.collect();
    let mut raw = Raw::default();
    for (food, mass) in &parts {
        raw.add(*food, *mass);
    }
    let all = parts.iter().map(|(_, mass)| *mass).sum();
    let mass = |grams: f64| Mass::from_grams(grams.max(0.0)).unwrap_or(all);
    let Some(own) = own.filter(|_| raw.solid_grams > 0.0) else {
        let mass = mass(by_table(&parts));
        return ComesTo { mass, spread: None };
    };
    let beyond = own.liquid_beyond(raw) * (1.0 - LIQUID_LOSS);
    let came_to = |factor: f64| mass(raw.solid_grams * factor + beyond);
    ComesTo {
        mass: came_to(own.median),
        spread: Some(Spread {
            least: came_to(own.least),
            most: came_to(own.most),
            pots: own.pots,
        }),
    }
}

/// In grams.
fn by_table(parts: &[(Option<&Food>, Mass)]) -> f64 {
    let mut solids_grams = 0.0;
    let mut liquid_grams = 0.0;
    // Water that the dry goods still want.
    let mut thirst_grams = 0.0;
    for (food, mass) in parts {
        let grams = mass.grams();
        let Some(cooked) = food.map(Food::cooked_yield) else {
            solids_grams += grams;
            continue;
        };
        if cooked.is_liquid {
            liquid_grams += grams;
        } else if cooked.absorbs_water {
            solids_grams += grams;
            thirst_grams += grams * (cooked.factor - 1.0).max(0.0);
        } else {
            solids_grams += grams * cooked.factor;
        }
    }
    let spare_grams = (liquid_grams - thirst_grams).max(0.0);
    let unmentioned_grams = (thirst_grams - liquid_grams).max(0.0);
    solids_grams
        + liquid_grams.min(thirst_grams)
        + unmentioned_grams
        + spare_grams * (1.0 - LIQUID_LOSS)
}

fn counts(line: &Line) -> bool {
    matches!(line.state, LineState::Known | LineState::NoFood)
}
