//! Targets, what a day comes to beside them, and which of them cannot be.

use super::super::nutrients::{Sum, Totals};
use crate::foods::{Nutrient, SALT_PER_SODIUM};
use crate::lang::syntax::Aimed;

/// Under so much a day nobody should eat for long without advice. Common practice, from memory: 1200 kcal is the lower end
/// of what is advised for adults without supervision; a day under 800 kcal counts as a very low energy diet.
pub const LOW_KCAL: f64 = 1200.0;

/// In kcal or grams a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    pub of: Aimed,
    pub least: Option<f64>,
    pub most: Option<f64>,
}

impl Target {
    pub fn none(of: Aimed) -> Self {
        let (least, most) = (None, None);
        Self { of, least, most }
    }

    pub fn is_set(&self) -> bool {
        self.least.is_some() || self.most.is_some()
    }

    /// No day can be like that: nothing, less than nothing, or more than anybody eats.
    pub fn is_possible(&self) -> bool {
        let fits = |figure: f64| figure.is_finite() && figure > 0.0 && figure <= most(self.of);
        // "2000 to 1500" is not turned round: one of the two may be a slip.
        let apart = self.least.zip(self.most);
        let in_order = apart.is_none_or(|(least, most)| least <= most);
        self.least.into_iter().chain(self.most).all(fits) && in_order
    }

    /// All of it lies where a clinician's advice is wanted.
    pub fn is_low(&self) -> bool {
        let highest = self.most.or(self.least);
        self.of == Aimed::Energy && highest.is_some_and(|kcal| kcal < LOW_KCAL)
    }

    /// How far a day is from it.
    pub fn distance(&self, eaten: Sum) -> Distance {
        let had = eaten.amount.unwrap_or_default();
        let below = self.least.filter(|least| had < *least);
        let above = self.most.filter(|most| had > *most);
        match (below, above) {
            (Some(least), _) => Distance::Below {
                least: least - had,
                most: self.most.map(|most| most - had),
            },
            (None, Some(most)) => Distance::Above(had - most),
            (None, None) => Distance::Within(self.most.map(|most| most - had)),
        }
    }
}

/// More than anybody eats in a day (common practice).
pub fn most(of: Aimed) -> f64 {
    match of {
        Aimed::Energy => 10_000.0,
        Aimed::Protein | Aimed::Fat => 600.0,
        Aimed::Carbohydrate => 1500.0,
        Aimed::Fibre => 200.0,
        Aimed::Salt => 50.0,
    }
}

/// From what was eaten to a target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Distance {
    /// So much to its lower bound, and to the upper one, if it has one.
    Below {
        least: f64,
        most: Option<f64>,
    },
    /// So much to its upper bound, if it has one.
    Within(Option<f64>),
    Above(f64),
}

/// What a sum comes to of what a target may be of.
pub fn amount(of: Aimed, totals: &Totals) -> Sum {
    let nutrient = match of {
        Aimed::Energy => Nutrient::EnergyKcal,
        Aimed::Protein => Nutrient::Protein,
        Aimed::Fat => Nutrient::Fat,
        Aimed::Carbohydrate => Nutrient::Carbohydrate,
        Aimed::Fibre => Nutrient::Fibre,
        Aimed::Salt => return salt(totals),
    };
    totals.get(nutrient)
}

/// In grams.
pub fn salt(totals: &Totals) -> Sum {
    let sodium = totals.get(Nutrient::Sodium);
    Sum {
        amount: sodium.amount.map(|mg| mg * SALT_PER_SODIUM / 1000.0),
        ..sodium
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn target(of: Aimed, least: Option<f64>, most: Option<f64>) -> Target {
        Target { of, least, most }
    }

    #[test]
    fn what_cannot_be_is_no_target() {
        for (kcal, possible) in [
            (0.0, false),
            (-5.0, false),
            (f64::NAN, false),
            (0.1, true),
            (2200.0, true),
            (10_000.0, true),
            (50_000.0, false),
        ] {
            let told = target(Aimed::Energy, Some(kcal), Some(kcal));
            assert_eq!(told.is_possible(), possible, "{kcal}");
        }
        assert!(!target(Aimed::Salt, None, Some(60.0)).is_possible());
        assert!(target(Aimed::Energy, Some(1100.0), Some(1199.0)).is_low());
        assert!(!target(Aimed::Energy, Some(1100.0), Some(1300.0)).is_low());
        assert!(target(Aimed::Energy, None, Some(900.0)).is_low());
        assert!(!target(Aimed::Protein, None, Some(90.0)).is_low());
    }

    #[test]
    fn the_distance_is_to_the_nearer_bound_and_the_further() {
        let had = |amount| Sum {
            amount: Some(amount),
            at_least: false,
        };
        let range = target(Aimed::Protein, Some(120.0), Some(140.0));
        assert_eq!(
            range.distance(had(100.0)),
            Distance::Below {
                least: 20.0,
                most: Some(40.0)
            }
        );
        assert_eq!(range.distance(had(120.0)), Distance::Within(Some(20.0)));
        assert_eq!(range.distance(had(140.0)), Distance::Within(Some(0.0)));
        assert_eq!(range.distance(had(150.0)), Distance::Above(10.0));
        let least = target(Aimed::Fibre, Some(30.0), None);
        assert_eq!(least.distance(had(31.0)), Distance::Within(None));
        let most = target(Aimed::Salt, None, Some(6.0));
        assert_eq!(most.distance(had(2.0)), Distance::Within(Some(4.0)));
    }

    /// Regulation (EU) No 1169/2011, Annex I: salt = sodium x 2.5. 2000 mg of sodium are 5 g of salt, as the WHO guideline
    /// on sodium has it too.
    #[test]
    fn salt_is_two_and_a_half_times_sodium() {
        let mut profile = crate::foods::Profile::default();
        profile.set(Nutrient::Sodium, Some(2000.0));
        let mass = super::super::super::mass::Mass::from_mg(100_000);
        assert_eq!(salt(&Totals::of(&profile, mass)).amount, Some(5.0));
    }
}
