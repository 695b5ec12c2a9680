//! What months of the books come to: what counts have found, and what was thrown away. All of it is worked out
//! from the lots and their moves; nothing of it is stored.

use std::collections::BTreeMap;

use chrono::{DateTime, Duration, NaiveDate, Utc};

use super::batch::{Batch, Lot, Money};
use super::ids::*;
use super::kitchen::Kitchen;
use super::ledger::Account;
use super::mass::Mass;
use super::moves::{Difference, Move};

/// What counts have found, dish by dish.
#[derive(Debug, Clone, PartialEq)]
pub struct DriftAnswer {
    pub since: NaiveDate,
    pub today: NaiveDate,
    pub lines: Vec<DriftLine>,
    /// All dishes that were counted of late lean one way: `Some(true)` if there was less than in the books.
    pub leans_to_less: Option<bool>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct DriftLine {
    pub name: String,
    pub recounts: usize,
    /// Counted less booked, without what was eaten unweighed.
    pub difference: Mass,
    pub unweighed: Mass,
    /// What the books held when it was counted, all recounts together.
    pub booked: Mass,
}

impl DriftLine {
    /// Of what the books held; `None` if that was nothing.
    pub fn share(&self) -> Option<f64> {
        (self.booked.mg() > 0).then(|| self.difference.grams() / self.booked.grams())
    }
}

/// What was thrown away in a stretch of time.
#[derive(Debug, Clone, PartialEq)]
pub struct WastedAnswer {
    pub from: NaiveDate,
    pub until: NaiveDate,
    pub today: NaiveDate,
    /// By dish, the most first.
    pub dishes: Vec<WastedLine>,
    /// By reason as it was told; `None`: nobody said why.
    pub reasons: Vec<(Option<String>, Mass)>,
    /// What was cooked and bought in that time.
    pub made: Mass,
}

#[derive(Debug, Clone, PartialEq)]
pub struct WastedLine {
    pub name: String,
    pub mass: Mass,
    /// What it cost, by currency; what has no price is not in it.
    pub cost: Vec<Money>,
    /// How much of it has no price.
    pub unpriced: Mass,
}

impl WastedAnswer {
    pub fn mass(&self) -> Mass {
        self.dishes.iter().map(|line| line.mass).sum()
    }

    pub fn share(&self) -> Option<f64> {
        (self.made.mg() > 0).then(|| self.mass().grams() / self.made.grams())
    }

    /// By currency.
    pub fn cost(&self) -> Vec<Money> {
        let mut sums: Vec<Money> = Vec::new();
        for money in self.dishes.iter().flat_map(|line| &line.cost) {
            match sums.iter_mut().find(|sum| sum.currency == money.currency) {
                Some(sum) => sum.hundredths += money.hundredths,
                None => sums.push(money.clone()),
            }
        }
        sums
    }

    pub fn unpriced(&self) -> Mass {
        self.dishes.iter().map(|line| line.unpriced).sum()
    }
}

#[derive(Debug, Clone, PartialEq)]
pub struct PricedAnswer {
    pub name: String,
    pub batch: String,
    pub price: Money,
    /// Of a kilogram as it stands there.
    pub per_kilo: Option<Money>,
    pub message: MessageId,
}

/// Counts of so many days tell which way a scale leans.
const LEAN_DAYS: i64 = 30;
/// So many dishes have to agree: by chance four do once in eight times.
const LEAN_DISHES: usize = 4;
/// No scale is off by more of what is then nothing.
const SCALE_MOST: Mass = Mass::from_mg(30_000);
/// A smaller difference is a scale's last digits, added up.
const LEAN_LEAST: Mass = Mass::from_mg(5_000);

/// A dish that is found finished, with more of it in the books than a scale is off: it was eaten, and nobody wrote it down.
fn is_eaten_up(batch: &Batch, lot: &Lot, found: &Difference) -> bool {
    lot.held_at(batch, found.occurred_at).is_zero() && -found.mass > SCALE_MOST
}

impl Kitchen {
    /// What counts since a moment have found, dish by dish, the largest difference first.
    pub fn drift(&self, since: DateTime<Utc>) -> Vec<(ComponentId, DriftLine)> {
        let mut lines: BTreeMap<ComponentId, (DriftLine, Vec<DateTime<Utc>>)> = BTreeMap::new();
        for (batch, lot, found) in self.found_by_counts() {
            if found.occurred_at < since {
                continue;
            }
            let (line, moments) = lines.entry(batch.component).or_insert_with(|| {
                let line = DriftLine {
                    name: self.component_name(batch),
                    recounts: 0,
                    difference: Mass::ZERO,
                    unweighed: Mass::ZERO,
                    booked: Mass::ZERO,
                };
                (line, Vec::new())
            });
            match found.unweighed || is_eaten_up(batch, lot, &found) {
                true => line.unweighed -= found.mass,
                false => line.difference += found.mass,
            }
            line.booked += lot.held_at(batch, found.occurred_at) - found.mass;
            if !moments.contains(&found.occurred_at) {
                moments.push(found.occurred_at);
                line.recounts += 1;
            }
        }
        let mut lines: Vec<_> = lines
            .into_iter()
            .map(|(id, (line, _))| (id, line))
            .collect();
        lines.sort_by_key(|(_, line)| std::cmp::Reverse(line.difference.abs()));
        lines
    }

    /// All dishes that were counted of late had less than the books, or all had more: how many they are, and
    /// whether it was less. What was eaten unweighed says nothing of a scale.
    pub fn leaning(&self, now: DateTime<Utc>) -> Option<(usize, bool)> {
        let since = now - Duration::days(LEAN_DAYS);
        let mut newest: BTreeMap<ComponentId, Difference> = BTreeMap::new();
        for (batch, lot, found) in self.found_by_counts() {
            let eaten = found.unweighed || is_eaten_up(batch, lot, &found);
            let tells = !eaten && found.mass.abs() >= LEAN_LEAST;
            let known = newest.get(&batch.component);
            let newer = known.is_none_or(|known| known.occurred_at <= found.occurred_at);
            if found.occurred_at >= since && tells && newer {
                newest.insert(batch.component, found);
            }
        }
        let less = newest
            .values()
            .filter(|found| found.mass.is_negative())
            .count();
        let all = newest.len();
        (all >= LEAN_DISHES && (less == all || less == 0)).then_some((all, less > 0))
    }

    fn found_by_counts(&self) -> impl Iterator<Item = (&Batch, &Lot, Difference)> {
        let batches = self.batches.values();
        let lots = batches.flat_map(|batch| batch.lots.iter().map(move |lot| (batch, lot)));
        lots.flat_map(|(batch, lot)| {
            let found = lot.differences(batch).into_iter();
            let counted = found.filter(|found| found.counted);
            counted.map(move |found| (batch, lot, found))
        })
    }

    fn component_name(&self, batch: &Batch) -> String {
        let mut known = self.components.iter();
        let own = known.find(|component| component.id == batch.component);
        own.map_or_else(|| batch.name.clone(), |component| component.name.clone())
    }

    /// What was thrown away from one day to another, by dish, and by reason.
    pub fn wasted(
        &self,
        from: NaiveDate,
        until: NaiveDate,
    ) -> (Vec<WastedLine>, Vec<(Option<String>, Mass)>) {
        let mut dishes: BTreeMap<ComponentId, WastedLine> = BTreeMap::new();
        let mut reasons: BTreeMap<Option<String>, Mass> = BTreeMap::new();
        let within = |moved: &&Move| {
            let day = self.day_of(moved.occurred_at);
            moved.other == Account::Waste && (from..=until).contains(&day)
        };
        for batch in self.batches.values() {
            let moves = batch.lots.iter().flat_map(|lot| &lot.moves);
            for moved in moves.filter(within) {
                let mass = -moved.mass;
                let line = dishes.entry(batch.component).or_insert_with(|| WastedLine {
                    name: self.component_name(batch),
                    mass: Mass::ZERO,
                    cost: Vec::new(),
                    unpriced: Mass::ZERO,
                });
                line.mass += mass;
                let worth = self.worth(batch, mass);
                line.unpriced += worth.unpriced;
                for money in worth.cost {
                    add(&mut line.cost, money);
                }
                let told = batch.reason(moved.entry).map(str::to_lowercase);
                *reasons.entry(told).or_default() += mass;
            }
        }
        let mut dishes: Vec<WastedLine> = dishes.into_values().collect();
        dishes.sort_by_key(|line| std::cmp::Reverse(line.mass));
        let mut reasons: Vec<_> = reasons.into_iter().collect();
        reasons.sort_by_key(|(_, mass)| std::cmp::Reverse(*mass));
        (dishes, reasons)
    }

    /// What was cooked or bought from one day to another. What was made from other batches was that before.
    pub fn made(&self, from: NaiveDate, until: NaiveDate) -> Mass {
        let batches = self.batches.values();
        let made = batches.filter(|batch| !batch.voided && (from..=until).contains(&batch.made_on));
        let own = |batch: &Batch| {
            let lines = batch.lines.iter().filter(|line| line.source.is_some());
            let taken: Mass = lines.map(|line| line.mass).sum();
            Mass::ZERO.max(batch.net_mass() - taken)
        };
        made.map(own).sum()
    }
}

fn add(sums: &mut Vec<Money>, money: Money) {
    match sums.iter_mut().find(|sum| sum.currency == money.currency) {
        Some(sum) => sum.hundredths += money.hundredths,
        None => sums.push(money),
    }
}
