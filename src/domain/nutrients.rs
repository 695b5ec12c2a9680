//! Sums of nutrients that know what they do not know.
//!
//! A value that is missing for one ingredient makes the sum a lower bound ("fibre at least 12 g"),
//! never a zero. Nothing is rounded here: only what is shown is rounded (Rand et al., Compiling data
//! for food composition data bases, United Nations University Press 1991).

use super::mass::Mass;
use crate::foods::{Nutrient, Profile};

/// A sum for one nutrient.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sum {
    /// In the nutrient's own unit; `None` if nothing is known at all.
    pub amount: Option<f64>,
    /// Something in it is unknown.
    pub at_least: bool,
}

#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Part {
    amount: f64,
    known: bool,
    unknown: bool,
}

/// Sums for every nutrient.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Totals {
    parts: [Part; Nutrient::ALL.len()],
}

impl Totals {
    /// So much of a food with this profile.
    pub fn of(profile: &Profile, mass: Mass) -> Self {
        let mut totals = Self::default();
        for (part, nutrient) in totals.parts.iter_mut().zip(Nutrient::ALL) {
            match profile.get(nutrient) {
                Some(per_100g) => {
                    part.amount = per_100g * mass.grams() / 100.0;
                    part.known = true;
                }
                None => part.unknown = true,
            }
        }
        totals
    }

    /// Something of which nothing is known.
    pub fn unknown() -> Self {
        let mut totals = Self::default();
        totals.parts.iter_mut().for_each(|part| part.unknown = true);
        totals
    }

    pub fn add(&mut self, other: &Totals) {
        for (part, more) in self.parts.iter_mut().zip(&other.parts) {
            part.amount += more.amount;
            part.known |= more.known;
            part.unknown |= more.unknown;
        }
    }

    /// Take away what left the pot; never below nothing.
    pub fn subtract(&mut self, other: &Totals) {
        for (part, less) in self.parts.iter_mut().zip(&other.parts) {
            part.amount = (part.amount - less.amount).max(0.0);
            part.unknown |= less.unknown;
        }
    }

    /// Take so many units of one nutrient away, never below nothing.
    pub fn take(&mut self, nutrient: Nutrient, amount: f64) {
        let part = &mut self.parts[index(nutrient)];
        part.amount = (part.amount - amount).max(0.0);
    }

    pub fn scaled(&self, factor: f64) -> Self {
        let mut totals = self.clone();
        totals
            .parts
            .iter_mut()
            .for_each(|part| part.amount *= factor);
        totals
    }

    pub fn get(&self, nutrient: Nutrient) -> Sum {
        let part = self.parts[index(nutrient)];
        Sum {
            amount: part.known.then_some(part.amount),
            at_least: part.unknown,
        }
    }

    /// Nothing in it is unknown, for the nutrients that every answer shows.
    pub fn is_complete(&self) -> bool {
        !self.parts[index(Nutrient::EnergyKcal)].unknown
    }
}

fn index(nutrient: Nutrient) -> usize {
    Nutrient::ALL
        .iter()
        .position(|known| *known == nutrient)
        .expect("ALL holds every nutrient")
}
