//! Parts that hang on one another, as linear equations: one for each person, and one for the sum.

use super::party::Who;
use super::size::Size;
use super::solve::Claim;
use crate::lang::syntax::{Amount, Eater};

/// Shares that differ by less are equal.
const EXACT: f64 = 1e-9;
/// Nobody divides a dish more finely.
const DENOMINATOR_MAX: u32 = 100;
/// A smaller share of a whole is none.
const SHARE_MIN: f64 = 1e-3;

pub struct System {
    pub people: Vec<Eater>,
    /// Grams of the whole, if they were weighed.
    grams: Option<f64>,
    /// For each person the factors of everyone's part, of the rest, and what is told.
    rows: Vec<Option<Vec<f64>>>,
    /// Those whose part was told, in the order of the text.
    told: Vec<usize>,
}

impl System {
    /// Nobody's part is known yet.
    pub fn new(people: Vec<Eater>, grams: Option<f64>) -> Self {
        Self {
            rows: vec![None; people.len()],
            people,
            grams,
            told: Vec::new(),
        }
    }

    /// What these people have; `None` when it cannot be an equation, or if one of them has something already.
    pub fn claim(&mut self, claim: &Claim, each: bool) -> Option<()> {
        let whose: Vec<usize> = claim
            .people()
            .iter()
            .map(|eater| self.place(eater))
            .collect::<Option<_>>()?;
        let row = self.row(claim, whose.len() > 1)?;
        let each = each || matches!(claim.size, Size::Rest | Size::Times(_));
        let among = if each { 1.0 } else { whose.len() as f64 };
        let row: Vec<f64> = row.into_iter().map(|factor| factor / among).collect();
        for at in &whose {
            if self.rows[*at].replace(row.clone()).is_some() {
                return None;
            }
        }
        self.told.extend(whose);
        Some(())
    }

    fn place(&self, eater: &Eater) -> Option<usize> {
        self.people.iter().position(|known| known == eater)
    }

    fn rest(&self) -> usize {
        self.people.len()
    }

    fn constant(&self) -> usize {
        self.people.len() + 1
    }

    /// A part as factors of the others'.
    fn row(&self, claim: &Claim, several: bool) -> Option<Vec<f64>> {
        let mut row = vec![0.0; self.people.len() + 2];
        match &claim.size {
            Size::Amount(Amount::Bare(grams) | Amount::Mass(grams)) => {
                row[self.constant()] = grams / self.grams?;
            }
            Size::Part(share) => row[self.constant()] = *share,
            Size::Rest => row[self.rest()] = 1.0,
            Size::OfRest(share) => {
                row[self.constant()] = *share;
                for at in &self.told {
                    row[*at] -= share;
                }
            }
            // "Tom and me the same": as each other.
            Size::Times(1.0) if self.told.is_empty() && several => row[self.rest()] = 1.0,
            Size::Times(times) => row[*self.told.last()?] = *times,
            Size::Against(times, who) => row[self.like(who)?] = *times,
            Size::More(grams, who) => {
                let like = match who {
                    Some(who) => self.like(who)?,
                    None => self.the_other(claim)?,
                };
                row[like] = 1.0;
                row[self.constant()] = grams / self.grams?;
            }
            _ => return None,
        }
        Some(row)
    }

    /// One of those who are held against; that they have the same is seen in the solution.
    fn like(&self, who: &Who) -> Option<usize> {
        match who {
            Who::Named(named) => self.place(named.first()?),
            Who::Everyone | Who::Count(_) => self.told.last().copied(),
            Who::Others(_) => None,
        }
    }

    /// "he got 50 more", of two.
    fn the_other(&self, claim: &Claim) -> Option<usize> {
        let [own] = claim.people().try_into().ok()?;
        let other = self.people.iter().position(|eater| *eater != own)?;
        (self.people.len() == 2).then_some(other)
    }

    /// Everyone's share, if it is the only one possible.
    pub fn solve(mut self) -> Option<Vec<f64>> {
        let people = self.people.len();
        let mut unclaimed = vec![0.0; people + 2];
        unclaimed[people] = 1.0;
        let rows: Vec<Vec<f64>> = self
            .rows
            .drain(..)
            .map(|row| row.unwrap_or_else(|| unclaimed.clone()))
            .collect();
        let hangs = rows.iter().any(|row| row[people] != 0.0);
        let mut matrix: Vec<Vec<f64>> = rows
            .into_iter()
            .enumerate()
            .map(|(at, row)| {
                // part = factors · parts + told, as parts on one side.
                let mut equation: Vec<f64> = row[..=people].iter().map(|factor| -factor).collect();
                equation[at] += 1.0;
                equation.push(row[people + 1]);
                equation
            })
            .collect();
        let mut sum = vec![if hangs { 1.0 } else { 0.0 }; people];
        sum.push(if hangs { 0.0 } else { 1.0 });
        sum.push(if hangs { 1.0 } else { 0.0 });
        matrix.push(sum);
        let mut shares = eliminated(matrix)?;
        shares.truncate(people);
        let shares: Vec<f64> = shares.into_iter().map(plain).collect();
        let all: f64 = shares.iter().sum();
        let positive = shares.iter().all(|share| *share > SHARE_MIN);
        (positive && all < 1.0 + SHARE_MIN).then_some(shares)
    }
}

/// The fraction that was meant: two thirds, and not what the reckoning left of them.
fn plain(share: f64) -> f64 {
    let near = |below: &f64| ((share * below).round() / below - share).abs() < EXACT;
    let below = (1..=DENOMINATOR_MAX).map(f64::from).find(near);
    below.map_or(share, |below| (share * below).round() / below)
}

/// The one solution of as many equations as unknowns.
fn eliminated(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let size = rows.len();
    for at in 0..size {
        let pivot = (at..size)
            .max_by(|one, other| rows[*one][at].abs().total_cmp(&rows[*other][at].abs()))?;
        if rows[pivot][at].abs() < EXACT {
            return None;
        }
        rows.swap(at, pivot);
        let pivot = rows[at].clone();
        for (_, row) in rows
            .iter_mut()
            .enumerate()
            .filter(|(other, _)| *other != at)
        {
            let factor = row[at] / pivot[at];
            for (value, of_pivot) in row.iter_mut().zip(&pivot) {
                *value -= factor * of_pivot;
            }
        }
    }
    Some((0..size).map(|at| rows[at][size] / rows[at][at]).collect())
}
