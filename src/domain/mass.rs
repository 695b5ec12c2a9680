//! Masses: integer milligrams, the smallest unit of the books.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Neg, Sub, SubAssign};

/// Milligrams; may be negative as a difference, never as a quantity of food.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mass(i64);

/// The heaviest thing that a home kitchen weighs at once: 100 kg. Anything above is a slip of the finger.
pub const KITCHEN_MASS_MAX: Mass = Mass(100_000_000);

impl Mass {
    pub const ZERO: Mass = Mass(0);

    pub const fn from_mg(mg: i64) -> Self {
        Self(mg)
    }

    /// The mass of so many grams, to the nearest milligram.
    /// `None` if no kitchen can hold it: not finite, or over 100 kg either way.
    pub fn from_grams(grams: f64) -> Option<Self> {
        let mg = (grams * 1000.0).round();
        (mg.is_finite() && mg.abs() <= KITCHEN_MASS_MAX.0 as f64).then_some(Self(mg as i64))
    }

    /// As [`Mass::from_grams`], and more than nothing: what can be weighed out.
    pub fn weighed_out(grams: f64) -> Option<Self> {
        Self::from_grams(grams).filter(|mass| mass.0 > 0)
    }

    pub const fn mg(self) -> i64 {
        self.0
    }

    pub fn grams(self) -> f64 {
        self.0 as f64 / 1000.0
    }

    /// For the words on a button: whole grams, and tenths where they are few.
    pub fn rounded_grams(self) -> f64 {
        let grams = self.grams();
        match grams.abs() < 10.0 {
            true => (grams * 10.0).round() / 10.0,
            false => grams.round(),
        }
    }

    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    pub const fn is_zero(self) -> bool {
        self.0 == 0
    }

    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// A share of it, to the nearest milligram.
    pub fn share(self, share: f64) -> Self {
        Self((self.0 as f64 * share).round() as i64)
    }

    /// Split into parts in proportion to `weights`, so that the parts add up exactly:
    /// the milligrams that rounding leaves over go to the first parts.
    pub fn split(self, weights: &[f64]) -> Vec<Mass> {
        let total: f64 = weights.iter().sum();
        let mut parts: Vec<i64> = weights
            .iter()
            .map(|weight| (self.0 as f64 * weight / total).floor() as i64)
            .collect();
        let rest = self.0 - parts.iter().sum::<i64>();
        let count = parts.len();
        for at in 0..rest.unsigned_abs() as usize {
            parts[at % count] += rest.signum();
        }
        parts.into_iter().map(Mass).collect()
    }
}

impl Add for Mass {
    type Output = Mass;
    fn add(self, other: Mass) -> Mass {
        Mass(self.0 + other.0)
    }
}

impl Sub for Mass {
    type Output = Mass;
    fn sub(self, other: Mass) -> Mass {
        Mass(self.0 - other.0)
    }
}

impl Neg for Mass {
    type Output = Mass;
    fn neg(self) -> Mass {
        Mass(-self.0)
    }
}

impl AddAssign for Mass {
    fn add_assign(&mut self, other: Mass) {
        self.0 += other.0;
    }
}

impl SubAssign for Mass {
    fn sub_assign(&mut self, other: Mass) {
        self.0 -= other.0;
    }
}

impl Sum for Mass {
    fn sum<I: Iterator<Item = Mass>>(masses: I) -> Mass {
        Mass(masses.map(|mass| mass.0).sum())
    }
}

impl fmt::Display for Mass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} g", self.grams())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grams_round_to_the_nearest_milligram() {
        assert_eq!(Mass::from_grams(28.349523125), Some(Mass(28_350)));
        assert_eq!(Mass::from_grams(0.0004), Some(Mass::ZERO));
    }

    #[test]
    fn what_no_kitchen_holds_is_no_mass() {
        for grams in [f64::NAN, f64::INFINITY, 100_000.001, -100_001.0] {
            assert_eq!(Mass::from_grams(grams), None, "{grams}");
        }
        for grams in [0.0, -1.0, 0.0001] {
            assert_eq!(Mass::weighed_out(grams), None, "{grams}");
        }
        assert_eq!(Mass::weighed_out(100_000.0), Some(KITCHEN_MASS_MAX));
    }

    #[test]
    fn parts_add_up_exactly() {
        for (mg, weights) in [
            (100, vec![1.0, 1.0, 1.0]),
            (1_000_001, vec![60.0, 40.0]),
            (7, vec![1.0; 9]),
            (500_000, vec![290.0, 210.0]),
        ] {
            let parts = Mass(mg).split(&weights);
            assert_eq!(parts.iter().copied().sum::<Mass>(), Mass(mg));
        }
    }
}
