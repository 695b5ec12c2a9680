//! How fast a dish goes: grams a day over the last weeks.
//!
//! Only days that tell something count: somebody wrote down a plate of anything on them, somebody was at home, and the
//! dish stood there to be eaten. So a holiday, a week in which nobody weighed, and a week in which the pot was empty are
//! no days without appetite. What goes into another dish is used as well. A day with guests counts for no more than
//! twice the middle one of the days on which it was eaten at all.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Days, NaiveDate};

use super::ids::{ComponentId, MemberId};
use super::kitchen::Kitchen;
use super::ledger::Account;
use super::mass::Mass;
use super::middle::middle;
use super::moves::Move;
use super::origin::Origin;

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

/// The same by who eats it: somebody who has none is not missed when they are away.
#[derive(Debug, Clone, PartialEq)]
pub struct Appetite {
    pub pace: Pace,
    /// Of each who eats here: grams on a day on which they are at home.
    own: Vec<(MemberId, f64)>,
    /// Grams a day of guests, and of what went unweighed.
    others: f64,
}

impl From<Pace> for Appetite {
    fn from(pace: Pace) -> Self {
        Self {
            pace,
            own: Vec::new(),
            others: 0.0,
        }
    }
}

impl Appetite {
    /// On a day on which these are at home.
    pub fn on(&self, home: &[MemberId]) -> Mass {
        if self.own.is_empty() {
            return self.pace.with(home.len());
        }
        let there = self.own.iter().filter(|(id, _)| home.contains(id));
        let grams: f64 = there.map(|(_, grams)| grams).sum();
        // Nobody is at home: no guests are either.
        let others = if home.is_empty() { 0.0 } else { self.others };
        Mass::from_grams(grams + others).unwrap_or(Mass::ZERO)
    }

    /// On a day on which so many eat, whoever they are.
    pub fn of(&self, people: usize) -> Mass {
        if self.own.is_empty() {
            return self.pace.with(people);
        }
        let grams: f64 = self.own.iter().map(|(_, grams)| grams).sum();
        let each = (grams + self.others) / self.own.len() as f64;
        Mass::from_grams(each * people as f64).unwrap_or(Mass::ZERO)
    }
}

/// From what was eaten of a dish on each of the days that count; 0 on those on which nobody had any.
pub fn pace(days: &[f64], eaters: f64) -> Option<Pace> {
    if days.len() < DAYS_LEAST {
        return None;
    }
    let most = feast(days)?;
    let sum: f64 = days.iter().map(|grams| grams.min(most)).sum();
    Some(Pace {
        a_day: sum / days.len() as f64,
        days: days.len(),
        eaters,
    })
}

/// On a day on which so much of what is usual was eaten of other dishes, nobody went without for want of this one.
const MADE_UP: f64 = 0.75;

/// A day counts for no more than this.
fn feast(days: &[f64]) -> Option<f64> {
    let usual = middle(days.iter().copied().filter(|grams| *grams > 0.0).collect())?;
    Some(usual * FEAST)
}

/// What counts as use of a dish.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    /// All of it.
    All,
    /// But for what went into other pots: a plan reckons that by what it cooks of them.
    BesidePots,
}

/// What went of a dish on a day, and how much of it onto whose plates.
#[derive(Debug, Clone, Default, PartialEq)]
struct DayUse {
    all: Mass,
    by: BTreeMap<MemberId, Mass>,
}

impl Kitchen {
    /// How fast a dish goes; `None`: too few days tell. The pots of the last weeks have to be in sight.
    pub fn pace(&self, dish: ComponentId, today: NaiveDate) -> Option<Pace> {
        self.appetite(dish, today, Use::All).map(|all| all.pace)
    }

    /// The same by who eats it.
    pub fn appetite(&self, dish: ComponentId, today: NaiveDate, counts: Use) -> Option<Appetite> {
        let used = self.used_by_day(Some(dish), counts);
        let days = self.telling_days(dish, &used, today);
        let grams = |day: &NaiveDate| used.get(day).map_or(0.0, |day| day.all.grams());
        let sums: Vec<f64> = days.iter().map(grams).collect();
        let home: Vec<Vec<MemberId>> = days.iter().map(|day| self.eaters(*day)).collect();
        let eaters: usize = home.iter().map(Vec::len).sum();
        let pace = pace(&sums, eaters as f64 / days.len().max(1) as f64)?;
        let most = feast(&sums)?;
        let mut rest = pace.a_day;
        let mut own = Vec::new();
        for member in self
            .members()
            .iter()
            .filter(|member| self.eats_here(member))
        {
            let at_home = home.iter().filter(|home| home.contains(&member.id)).count();
            let had = days.iter().zip(&sums).filter_map(|(day, sum)| {
                let had = used.get(day)?.by.get(&member.id)?;
                // Of a feast as much less as of the whole.
                Some(had.grams() * most.min(*sum) / sum)
            });
            let had: f64 = had.sum();
            rest -= had / days.len() as f64;
            if at_home > 0 {
                own.push((member.id, had / at_home as f64));
            }
        }
        Some(Appetite {
            pace,
            own,
            others: rest.max(0.0),
        })
    }

    /// The days that tell how fast a dish goes.
    fn telling_days(
        &self,
        dish: ComponentId,
        used: &BTreeMap<NaiveDate, DayUse>,
        today: NaiveDate,
    ) -> Vec<NaiveDate> {
        let first = today - Days::new(DAYS_BACK);
        let span = first.iter_days().take_while(|day| *day < today);
        let any = self.used_by_day(None, Use::BesidePots);
        let eaten = |day: &NaiveDate| any.get(day).map_or(0.0, |day| day.all.grams());
        // What is eaten in all on a day on which it is.
        let usual = middle(used.keys().map(eaten).collect()).unwrap_or_default();
        let made = self.first_made(dish);
        let mut told: BTreeSet<NaiveDate> = any.keys().copied().collect();
        told.extend(self.plates_lately.values().map(|(day, _)| *day));
        let counts = |day: &NaiveDate| {
            let there = self.stood_on(dish, *day) || used.contains_key(day);
            // The pot was empty: as much was eaten as usual, and it was of other dishes.
            let made_up = || {
                let known = made.is_some_and(|made| made <= *day);
                known && usual > 0.0 && eaten(day) >= usual * MADE_UP
            };
            told.contains(day) && !self.is_empty_on(*day) && (there || made_up())
        };
        span.filter(counts).collect()
    }

    /// Since when there has been such a dish, as far as is in sight.
    fn first_made(&self, dish: ComponentId) -> Option<NaiveDate> {
        let batches = self.batches.values().filter(|batch| !batch.voided);
        let of_it = batches.filter(|batch| batch.component == dish);
        of_it.map(|batch| batch.made_on).min()
    }

    /// What was eaten of a dish on a day so far.
    pub fn eaten_on(&self, dish: ComponentId, day: NaiveDate) -> Mass {
        let days = self.used_by_day(Some(dish), Use::BesidePots);
        days.get(&day).map_or(Mass::ZERO, |day| day.all)
    }

    /// What was eaten of a dish from a day on.
    pub fn eaten_since(&self, dish: ComponentId, day: NaiveDate) -> Mass {
        let days = self.used_by_day(Some(dish), Use::BesidePots);
        days.range(day..).map(|(_, day)| day.all).sum()
    }

    /// What went of a dish (or of anything) on each day on which something did.
    fn used_by_day(&self, dish: Option<ComponentId>, counts: Use) -> BTreeMap<NaiveDate, DayUse> {
        let batches = self.batches.values().filter(|batch| !batch.voided);
        let of_it = batches.filter(|batch| dish.is_none_or(|dish| batch.component == dish));
        let mut days: BTreeMap<NaiveDate, DayUse> = BTreeMap::new();
        for batch in of_it {
            let moves = batch.lots.iter().flat_map(|lot| &lot.moves);
            for moved in moves.filter(|moved| self.is_use(moved, batch.component, counts)) {
                let day = days.entry(self.day_of(moved.occurred_at)).or_default();
                day.all -= moved.mass;
                if let Some(member) = self.eater(moved.other) {
                    *day.by.entry(member).or_default() -= moved.mass;
                }
            }
        }
        days.retain(|_, day| day.all.mg() > 0);
        days
    }

    /// It was eaten, or went into another dish. What was claimed after a count was eaten as well; what a batch is topped
    /// up with stays of the same dish.
    fn is_use(&self, moved: &Move, dish: ComponentId, counts: Use) -> bool {
        match moved.other {
            Account::Plate(_) | Account::Unweighed => true,
            other @ Account::Lot(_) => {
                let mut batches = self.batches.values().filter(|batch| !batch.voided);
                let into = batches.find(|batch| batch.has_lot(other));
                into.is_some_and(|into| {
                    let pot = into.origin == Origin::Cooked;
                    into.component != dish && !(pot && counts == Use::BesidePots)
                })
            }
            _ => false,
        }
    }

    /// Whose plate it is.
    pub fn eater(&self, account: Account) -> Option<MemberId> {
        let Account::Plate(id) = account else {
            return None;
        };
        let plate = self.plate(id).map(|plate| plate.member);
        plate.or_else(|| self.plates_lately.get(&id).map(|(_, member)| *member))
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
