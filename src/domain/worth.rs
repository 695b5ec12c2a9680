//! What food is worth: by the price that was told of its batch, or else by the prices of the batches that went into
//! it. What has no price is never guessed: how much of it that is stands beside the money.

use super::batch::{Batch, Line, Money};
use super::keeping::kind::is_water;
use super::kitchen::Kitchen;
use super::mass::Mass;
use crate::foods;

/// Batches in batches are looked through so deep.
const NESTING_MAX: usize = 8;

/// Money, by currency, and the food that has no price.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Worth {
    pub cost: Vec<Money>,
    pub unpriced: Mass,
}

/// The same before it is rounded: hundredths by currency, and grams.
#[derive(Default)]
struct Parts {
    hundredths: Vec<(String, f64)>,
    unpriced_grams: f64,
}

impl Kitchen {
    /// What so much of a batch cost.
    pub fn worth(&self, batch: &Batch, mass: Mass) -> Worth {
        let mut parts = Parts::default();
        self.add_worth(batch, mass.grams(), 0, &mut parts);
        let money = parts.hundredths.into_iter();
        let cost: Vec<Money> = money
            .map(|(currency, hundredths)| Money {
                hundredths: hundredths.round() as i64,
                currency,
            })
            .collect();
        // What rounds to nothing is no rest without a price.
        let unpriced = Mass::from_grams(parts.unpriced_grams)
            .unwrap_or(mass)
            .min(mass);
        Worth { cost, unpriced }
    }

    fn add_worth(&self, batch: &Batch, grams: f64, depth: usize, parts: &mut Parts) {
        let whole = batch.net_mass().grams();
        if let Some(price) = batch.price().filter(|_| whole > 0.0) {
            parts.add(&price.currency, price.hundredths as f64 * grams / whole);
            return;
        }
        let counted = batch.lines.iter().filter(|line| !self.is_free(line));
        let counted: Vec<&Line> = counted.collect();
        let all: f64 = counted.iter().map(|line| line.mass.grams()).sum();
        if whole <= 0.0 || all <= 0.0 || depth >= NESTING_MAX {
            parts.unpriced_grams += grams;
            return;
        }
        for line in counted {
            let source = line.source.and_then(|id| self.batches.get(&id));
            match source {
                // So much of it went into what is spoken of.
                Some(source) => {
                    let went_in = line.mass.grams() * grams / whole;
                    let before = parts.unpriced_grams;
                    self.add_worth(source, went_in, depth + 1, parts);
                    // What has no price is told in grams of the mixture.
                    let lacking = parts.unpriced_grams - before;
                    parts.unpriced_grams = before + lacking * whole / all;
                }
                None => parts.unpriced_grams += line.mass.grams() * grams / all,
            }
        }
    }

    /// Water comes from the tap.
    fn is_free(&self, line: &Line) -> bool {
        let profile = line.profile.and_then(|id| self.profiles.get(&id));
        let code = profile.and_then(|profile| profile.food);
        let food = code.and_then(|code| foods::table().get(code));
        line.source.is_none() && food.is_some_and(is_water)
    }
}

impl Parts {
    fn add(&mut self, currency: &str, hundredths: f64) {
        let mut sums = self.hundredths.iter_mut();
        match sums.find(|(known, _)| known == currency) {
            Some((_, sum)) => *sum += hundredths,
            None => self.hundredths.push((currency.to_owned(), hundredths)),
        }
    }
}
