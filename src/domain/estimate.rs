//! What a pot will weigh before anyone has weighed it.
//!
//! Dry goods take up water, first what was poured in, then water that nobody mentioned; meat and
//! vegetables lose some. The yields are cooked over raw weights from pairs of the table's own rows,
//! good to about a tenth; where they come from stands with each row (`foods::cooking`).

use super::batch::{Batch, Line, LineState};
use super::kitchen::Kitchen;
use super::mass::Mass;
use crate::foods;

/// Share of the liquid that boils away with the lid off, when nothing in the pot drinks it. Common practice.
const LIQUID_LOSS: f64 = 0.1;

/// The estimated cooked weight of everything in the pot, before anything is poured away.
pub fn cooked_mass(kitchen: &Kitchen, batch: &Batch) -> Mass {
    let mut solids_grams = 0.0;
    let mut liquid_grams = 0.0;
    // Water that the dry goods still want.
    let mut thirst_grams = 0.0;
    for line in batch.lines.iter().filter(|line| counts(line)) {
        let grams = line.mass.grams();
        let Some(cooked) = food(kitchen, line).map(foods::Food::cooked_yield) else {
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
    let grams = solids_grams
        + liquid_grams.min(thirst_grams)
        + unmentioned_grams
        + spare_grams * (1.0 - LIQUID_LOSS);
    Mass::from_grams(grams).unwrap_or_else(|| batch.raw_mass())
}

fn counts(line: &Line) -> bool {
    matches!(line.state, LineState::Known | LineState::NoFood)
}

fn food<'a>(kitchen: &Kitchen, line: &Line) -> Option<&'a foods::Food> {
    let profile = kitchen.profiles.get(&line.profile?)?;
    foods::table().get(profile.food?)
}
