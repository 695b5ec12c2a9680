//! What one's own pots of a dish came to: cooked weight over the weight of what went in besides liquids.
//!
//! Liquids are left out because one cook writes the water down and another does not, and both pots come out alike.
//! Where water (stock, milk) was told, as much of it as went into the earlier pots is in their yield already; what is
//! told beyond that comes on top.

use crate::domain::batch::{Batch, Line};
use crate::domain::kitchen::Kitchen;
use crate::domain::mass::Mass;
use crate::domain::middle::middle;
use crate::foods;

/// So many of the newest pots that were weighed tell.
const POTS_TELL: usize = 5;

/// A liquid that is mostly something else is none that boils away.
const WATERY_PERCENT: f64 = 50.0;

/// What the newest weighed pots of a dish came to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnYield {
    /// The middle one of cooked over raw without liquids.
    pub median: f64,
    pub least: f64,
    pub most: f64,
    /// Of so many pots.
    pub pots: u32,
    /// Liquid over what went in besides, in those pots that tell of any; 0 if none does.
    pub liquid: f64,
}

/// What went into a pot, in grams.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Raw {
    pub solid_grams: f64,
    pub liquid_grams: f64,
}

impl Raw {
    pub fn add(&mut self, food: Option<&foods::Food>, mass: Mass) {
        match food.is_some_and(is_watery) {
            true => self.liquid_grams += mass.grams(),
            false => self.solid_grams += mass.grams(),
        }
    }
}

/// It boils away, or is drunk by what is dry; oil and honey stay what they are, and ghee in the place of oil weighs as much.
fn is_watery(food: &foods::Food) -> bool {
    let water = food.per_100g.get(foods::Nutrient::Water);
    food.is_liquid() && water.is_none_or(|water| water >= WATERY_PERCENT)
}

impl OwnYield {
    /// From what went into pots and what came out of them, the newest first.
    pub fn of(pots: impl Iterator<Item = (Raw, f64)>) -> Option<Self> {
        let newest: Vec<(Raw, f64)> = pots.take(POTS_TELL).collect();
        let yields = newest.iter().map(|(raw, cooked)| cooked / raw.solid_grams);
        let yields: Vec<f64> = yields.collect();
        let liquids = newest.iter().filter(|(raw, _)| raw.liquid_grams > 0.0);
        let liquids = liquids.map(|(raw, _)| raw.liquid_grams / raw.solid_grams);
        Some(Self {
            least: yields.iter().copied().min_by(f64::total_cmp)?,
            most: yields.iter().copied().max_by(f64::total_cmp)?,
            pots: yields.len() as u32,
            median: middle(yields)?,
            liquid: middle(liquids.collect()).unwrap_or(0.0),
        })
    }

    /// Liquid that is told beyond what went into the earlier pots (or, negative, that is lacking), in grams.
    pub fn liquid_beyond(&self, raw: Raw) -> f64 {
        match raw.liquid_grams > 0.0 && self.liquid > 0.0 {
            true => raw.liquid_grams - raw.solid_grams * self.liquid,
            false => 0.0,
        }
    }
}

impl Kitchen {
    /// The table's food that a line is, if it is one.
    pub fn food_of_line(&self, line: &Line) -> Option<&'static foods::Food> {
        let profile = line.profile.and_then(|id| self.profiles.get(&id))?;
        foods::table().get(profile.food?)
    }

    /// What went in, and what came out before anything was poured away; `None`: that is not known of this pot.
    pub(super) fn came_to(&self, batch: &Batch) -> Option<(Raw, f64)> {
        let known = !batch.raw && batch.lines.iter().all(Line::has_mass);
        batch.weighed_at().filter(|_| known)?;
        let mut raw = Raw::default();
        for line in batch.lines.iter().filter(|line| !line.mass.is_zero()) {
            raw.add(self.food_of_line(line), line.mass);
        }
        let cooked = (batch.net_mass() + batch.poured_mass()).grams();
        (raw.solid_grams > 0.0 && cooked > 0.0).then_some((raw, cooked))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pot(solid_grams: f64, liquid_grams: f64, cooked: f64) -> (Raw, f64) {
        let raw = Raw {
            solid_grams,
            liquid_grams,
        };
        (raw, cooked)
    }

    #[test]
    fn the_middle_of_the_newest_five_with_their_spread() {
        let pots = [
            (500.0, 1400.0),
            (400.0, 1200.0),
            (500.0, 1600.0),
            (250.0, 700.0),
            (500.0, 1450.0),
            (500.0, 5000.0),
        ];
        let pots = pots.map(|(raw, cooked)| pot(raw, 0.0, cooked));
        let own = OwnYield::of(pots.into_iter()).expect("pots");
        assert_eq!(
            (own.median, own.least, own.most, own.pots),
            (2.9, 2.8, 3.2, 5)
        );
        assert_eq!(OwnYield::of(std::iter::empty()), None);
    }

    #[test]
    fn told_water_is_compared_with_told_water() {
        let pots = [
            pot(500.0, 1500.0, 1800.0),
            pot(500.0, 0.0, 1750.0),
            pot(1000.0, 3200.0, 3700.0),
        ];
        let own = OwnYield::of(pots.into_iter()).expect("pots");
        assert_eq!(own.median, 3.6);
        assert!((own.liquid - 3.1).abs() < 1e-12);
        let beyond = |liquid| own.liquid_beyond(pot(500.0, liquid, 0.0).0);
        assert_eq!(beyond(0.0), 0.0);
        assert!((beyond(1550.0)).abs() < 1e-9);
        assert!((beyond(1750.0) - 200.0).abs() < 1e-9);
    }
}
