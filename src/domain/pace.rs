//! How fast a dish goes: grams a day over the last weeks.
//!
//! Only days that tell something count: somebody wrote down a plate of anything on them, somebody was at home, and the
//! dish stood there to be eaten. So a holiday, a week in which nobody weighed, and a week in which the pot was empty are
//! no days without appetite. A day with guests counts for no more than twice the middle one of the days on which it was
//! eaten at all.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Days, NaiveDate};

use super::ids::ComponentId;
use super::kitchen::Kitchen;
use super::ledger::Account;
use super::mass::Mass;
use super::middle::middle;

/// So far back habits are what they are now.
pub const DAYS_BACK: u64 = 28;
/// Fewer days tell no habit.
const DAYS_LEAST: usize = 3;
const FEAST: f64 = 2.0;

/// How fast a dish goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pace {
    /// Grams on a day on which as many eat here as did on those days.
    pub a_day: f64,
    /// So many days tell it.
    pub days: usize,
    /// So many ate here on them, on the average.
    pub eaters: f64,
}

impl Pace {
    /// On a day on which so many eat here.
    pub fn with(&self, eaters: usize) -> Mass {
        let share = match self.eaters > 0.0 {
            true => eaters as f64 / self.eaters,
            false => 1.0,
        };
        Mass::from_grams(self.a_day * share).unwrap_or(Mass::ZERO)
    }
}

/// From what was eaten of a dish on each of the days that count; 0 on those on which nobody had any.
pub fn pace(days: &[f64], eaters: f64) -> Option<Pace> {
    if days.len() < DAYS_LEAST {
        return None;
    }
    let usual = middle(days.iter().copied().filter(|grams| *grams > 0.0).collect())?;
    let most = usual * FEAST;
    let sum: f64 = days.iter().map(|grams| grams.min(most)).sum();
    Some(Pace {
        a_day: sum / days.len() as f64,
        days: days.len(),
        eaters,
    })
}

impl Kitchen {
    /// How fast a dish goes; `None`: too few days tell. The pots of the last weeks have to be in sight.
    pub fn pace(&self, dish: ComponentId, today: NaiveDate) -> Option<Pace> {
        let first = today - Days::new(DAYS_BACK);
        let span = || first.iter_days().take_while(|day| *day < today);
        let eaten = self.eaten_by_day(Some(dish));
        let mut told: BTreeSet<NaiveDate> = self.eaten_by_day(None).into_keys().collect();
        told.extend(&self.plate_days);
        let counts = |day: &NaiveDate| {
            let there = self.stood_on(dish, *day) || eaten.contains_key(day);
            told.contains(day) && there && !self.is_empty_on(*day)
        };
        let days: Vec<NaiveDate> = span().filter(counts).collect();
        let grams = days
            .iter()
            .map(|day| eaten.get(day).map_or(0.0, |mass| mass.grams()));
        let eaters: usize = days.iter().map(|day| self.eaters(*day).len()).sum();
        pace(
            &grams.collect::<Vec<_>>(),
            eaters as f64 / days.len().max(1) as f64,
        )
    }

    /// What was eaten of a dish on a day so far.
    pub fn eaten_on(&self, dish: ComponentId, day: NaiveDate) -> Mass {
        let days = self.eaten_by_day(Some(dish));
        days.get(&day).copied().unwrap_or(Mass::ZERO)
    }

    /// What was eaten of a dish from a day on.
    pub fn eaten_since(&self, dish: ComponentId, day: NaiveDate) -> Mass {
        let days = self.eaten_by_day(Some(dish));
        days.range(day..).map(|(_, mass)| *mass).sum()
    }

    /// What went on plates of a dish (or of anything) on each day on which something did.
    fn eaten_by_day(&self, dish: Option<ComponentId>) -> BTreeMap<NaiveDate, Mass> {
        let batches = self.batches.values().filter(|batch| !batch.voided);
        let of_it = batches.filter(|batch| dish.is_none_or(|dish| batch.component == dish));
        let moves = of_it
            .flat_map(|batch| &batch.lots)
            .flat_map(|lot| &lot.moves);
        let mut days: BTreeMap<NaiveDate, Mass> = BTreeMap::new();
        for moved in moves {
            // What was claimed after a count was eaten as well.
            if matches!(moved.other, Account::Plate(_) | Account::Unweighed) {
                let day = self.day_of(moved.occurred_at);
                *days.entry(day).or_default() -= moved.mass;
            }
        }
        days.retain(|_, mass| mass.mg() > 0);
        days
    }

    /// Something of a dish stood here on a day, by the books of now.
    fn stood_on(&self, dish: ComponentId, day: NaiveDate) -> bool {
        let batches = self.batches.values().filter(|batch| !batch.voided);
        let mut of_it = batches.filter(|batch| batch.component == dish && batch.made_on <= day);
        of_it.any(|batch| {
            let moves = batch.lots.iter().flat_map(|lot| &lot.moves);
            let gone =
                moves.filter(|moved| !batch.has_lot(moved.other) && moved.mass.is_negative());
            let last = gone.map(|moved| self.day_of(moved.occurred_at)).max();
            batch.left() > batch.crumbs() || last.is_some_and(|last| day <= last)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn goes(days: &[f64], expected: Option<f64>) {
        assert_eq!(pace(days, 2.0).map(|pace| pace.a_day), expected, "{days:?}");
    }

    #[test]
    fn days_without_it_count_and_a_feast_counts_for_two() {
        goes(&[300.0, 0.0, 300.0, 0.0], Some(150.0));
        goes(&[300.0, 300.0, 300.0, 2400.0], Some(375.0));
        goes(&[300.0, 300.0], None);
        goes(&[0.0, 0.0, 0.0], None);
    }

    #[test]
    fn fewer_who_eat_take_less() {
        let pace = pace(&[300.0, 300.0, 300.0], 2.0).expect("three days");
        assert_eq!(pace.with(2), Mass::from_mg(300_000));
        assert_eq!(pace.with(1), Mass::from_mg(150_000));
        assert_eq!(pace.with(0), Mass::ZERO);
    }
}
