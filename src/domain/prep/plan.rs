//! What to cook, and how much of it: for each dish the amounts that leave the least wanting, spoil the least, leave
//! the least over and take the fewest pots, in this order. Nothing here knows of a kitchen; `horizon.rs` tells it
//! what a dish is asked for, and DEVELOPERS.md states the model.

use std::collections::BTreeMap;

use super::assign::{Goes, Share, assign};
use super::serve::{Served, Supply, serve};
use crate::domain::mass::Mass;

/// Amounts to cook come in steps of this.
pub const STEP: Mass = Mass::from_mg(10_000);

/// A dish over the days of a plan; day 0 is the day of cooking, the day after the last is the next one.
#[derive(Debug, Clone, PartialEq)]
pub struct Dish {
    /// Eaten on each day.
    pub demand: Vec<Mass>,
    /// That day was asked for, not only expected.
    pub wished: Vec<bool>,
    /// To be there on the day after the last.
    pub par: Mass,
    pub lots: Vec<Supply>,
    /// So many days after that of its cooking it is good in the fridge; `None`: no chart tells of an end.
    pub keeps: Option<u32>,
    /// The same in the freezer; `None`: it is not for the freezer.
    pub frozen: Option<u32>,
    /// The most that one pot holds, cooked.
    pub pot: Mass,
    /// Less than this is not worth a pot.
    pub least: Mass,
    /// What is one portion of it, to hold one dish against another.
    pub portion: Mass,
    /// It may be cooked once more on another day of the plan.
    pub again: bool,
    /// What a gram of it takes of other dishes, by their place in the plan.
    pub takes: Vec<(usize, f64)>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cooked {
    pub day: u32,
    pub mass: Mass,
    pub pots: u32,
    /// So much of it goes into the freezer.
    pub frozen: Mass,
}

/// What a plan does with a dish. Lots are named by their place in [`Dish::lots`].
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Course {
    pub cook: Vec<Cooked>,
    /// What each day goes without.
    pub unmet: Vec<(u32, Mass)>,
    /// Missing to the par level on the day after.
    pub short: Mass,
    pub spoils: Vec<(usize, Mass)>,
    /// Of what stands ready: frozen before it is due.
    pub freeze: Vec<(usize, Mass)>,
    /// Of what is served on a day: out of the freezer for it, the evening before if there is one. A lot that is not there yet is one
    /// of those cooked, in their order after the lots.
    pub thaw: Vec<(u32, usize, Mass)>,
    /// Still good on the day after.
    pub left: Mass,
    pub cost: Cost,
}

/// What a plan is judged by, the weightiest first. Of one dish in milligrams, of several in thousandths of portions
/// where what is missing is counted.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cost {
    pub wished_unmet: i64,
    pub unmet: i64,
    pub short: i64,
    pub spoilt: i64,
    pub left: i64,
    pub pots: u32,
    pub days: u32,
    pub frozen: i64,
}

impl Cost {
    fn wants(&self) -> [i64; 3] {
        [self.wished_unmet, self.unmet, self.short]
    }

    fn in_portions(self, portion: Mass) -> Cost {
        let portion = portion.mg().max(1);
        let portions = |mg: i64| full(mg * 1000, portion);
        Cost {
            wished_unmet: portions(self.wished_unmet),
            unmet: portions(self.unmet),
            short: portions(self.short),
            ..self
        }
    }

    fn plus(self, other: Cost) -> Cost {
        Cost {
            wished_unmet: self.wished_unmet + other.wished_unmet,
            unmet: self.unmet + other.unmet,
            short: self.short + other.short,
            spoilt: self.spoilt + other.spoilt,
            left: self.left + other.left,
            pots: self.pots + other.pots,
            days: self.days + other.days,
            frozen: self.frozen + other.frozen,
        }
    }
}

/// Amounts to cook of a dish: on day 0, and perhaps on one more day.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Amounts {
    first: Mass,
    second: Option<(u32, Mass)>,
}

impl Amounts {
    fn cooked(&self) -> impl Iterator<Item = (u32, Mass)> {
        let all = std::iter::once((0, self.first)).chain(self.second);
        all.filter(|(_, mass)| mass.mg() > 0)
    }
}

impl Dish {
    fn days(&self) -> u32 {
        self.demand.len() as u32
    }

    fn pots(&self, mass: Mass) -> u32 {
        full(mass.mg(), self.pot.mg().max(1)) as u32
    }

    /// The lots, and what is cooked.
    fn supplies(&self, amounts: &Amounts) -> Vec<Supply> {
        let cooked = amounts.cooked().map(|(day, mass)| Supply {
            mass,
            from: day,
            until: self.keeps.map_or(u32::MAX, |days| day + days),
            frozen_until: self.frozen.map(|days| day.saturating_add(days)),
            lies_frozen: false,
        });
        self.lots.iter().copied().chain(cooked).collect()
    }

    fn cost(&self, amounts: &Amounts, served: &Served) -> Cost {
        let unmet = |those: &dyn Fn(usize) -> bool| {
            let days = (0..self.demand.len()).filter(|day| those(*day));
            days.map(|day| (self.demand[day] - served.days[day]).mg())
                .sum()
        };
        Cost {
            wished_unmet: unmet(&|day| self.wished[day]),
            unmet: unmet(&|_| true),
            short: (self.par - served.left).mg().max(0),
            spoilt: served.spoilt.mg(),
            left: (served.left - self.par).mg().max(0),
            pots: amounts.cooked().map(|(_, mass)| self.pots(mass)).sum(),
            days: amounts.cooked().count() as u32,
            frozen: 0,
        }
    }

    /// All but what it freezes, which a quick look does not tell.
    fn judged(&self, first: Mass, second: Option<(u32, Mass)>) -> (Cost, Amounts) {
        let amounts = Amounts { first, second };
        let served = serve(&self.supplies(&amounts), &self.demand, &self.wished);
        (self.cost(&amounts, &served), amounts)
    }

    /// The most that can be of use, and that so many pots hold.
    fn most(&self, pots: Option<u32>) -> Mass {
        let wanted = self.demand.iter().copied().sum::<Mass>() + self.par;
        let useful = stepped(wanted);
        let useful = useful.max(self.least());
        let held = pots.map_or(useful, |pots| {
            let mass = self.pot.mg() * i64::from(pots);
            Mass::from_mg(mass / STEP.mg() * STEP.mg())
        });
        useful.min(held)
    }

    fn least(&self) -> Mass {
        let least = self.least.min(self.pot).max(STEP);
        stepped(least)
    }

    /// The least amount that leaves as little wanting as the most does: nothing, or a pot worth cooking.
    fn least_of(&self, most: Mass, wants: impl Fn(Mass) -> [i64; 3]) -> Mass {
        let least = self.least();
        let best = wants(most);
        if most < least || wants(Mass::ZERO) == best {
            return Mass::ZERO;
        }
        let (mut low, mut high) = (least.mg() / STEP.mg(), most.mg() / STEP.mg());
        while low < high {
            let middle = (low + high) / 2;
            match wants(Mass::from_mg(middle * STEP.mg())) == best {
                true => high = middle,
                false => low = middle + 1,
            }
        }
        Mass::from_mg(low * STEP.mg())
    }

    /// The best amounts within so many pots on day 0, and on a second day.
    fn best(&self, pots: Option<u32>, second: Option<(u32, Option<u32>)>) -> (Cost, Amounts) {
        let most = self.most(pots);
        let Some((day, pots)) = second else {
            let first = self.least_of(most, |mass| self.judged(mass, None).0.wants());
            return self.judged(first, None);
        };
        let most_then = self.most(pots);
        let both = |first, then| self.judged(first, Some((day, then)));
        // Less of the first than this leaves something wanting that no later pot can serve.
        let low = self.least_of(most, |mass| both(mass, most_then).0.wants());
        let then = |first| {
            let then = self.least_of(most_then, |mass| both(first, mass).0.wants());
            (both(first, then), then)
        };
        let total = low + then(low).1;
        // More of it is the same as less of the second, up to where some of it would be left or spoil: the pots
        // may come out fewer.
        let pots = |mass: Mass| {
            (1..=self.pots(mass)).map(|pot| Mass::from_mg(self.pot.mg() * i64::from(pot)))
        };
        let least = self.least();
        let even: Vec<Mass> = [low, least, total, total - least]
            .into_iter()
            .chain(pots(total))
            .chain(pots(total).map(|mass| total - mass))
            .collect();
        let even = even
            .into_iter()
            .map(|mass| Mass::from_mg(mass.mg() / STEP.mg() * STEP.mg()));
        let useful =
            even.filter(|mass| (low..=most).contains(mass) && (*mass == low || *mass >= least));
        let judged = useful.map(|first| then(first).0);
        judged.min().unwrap_or_else(|| then(low).0)
    }

    /// The best amounts for each number of pots on each day that a plan with so many pots a day may give it.
    fn choices(&self, pots: Option<u32>) -> BTreeMap<Vec<u32>, (Cost, Amounts)> {
        let again = 1..if self.again { self.days() } else { 1 };
        let needed = self.pots(self.most(None));
        let caps: Vec<Option<u32>> = match pots {
            Some(pots) => (0..=pots.min(needed)).map(Some).collect(),
            None => vec![None],
        };
        let mut found: Vec<(Cost, Amounts)> = Vec::new();
        for cap in &caps {
            found.push(self.best(*cap, None));
            let seconds = again
                .clone()
                .flat_map(|day| caps.iter().map(move |cap| (day, *cap)));
            found.extend(seconds.map(|second| self.best(*cap, Some(second))));
        }
        let least = found.iter().map(|(cost, _)| *cost).min();
        let mut best = BTreeMap::new();
        for (cost, amounts) in found {
            let mut by_day = vec![0; self.demand.len()];
            for (day, mass) in amounts.cooked() {
                by_day[day as usize] += self.pots(mass);
            }
            // Only what may be chosen is looked at for what it freezes.
            let cost = match pots.is_some() || least == Some(cost) {
                true => self.course(&amounts).cost,
                false => cost,
            };
            let key = if pots.is_some() { by_day } else { Vec::new() };
            let known: &mut (Cost, Amounts) = best.entry(key).or_insert((cost, amounts));
            *known = (*known).min((cost, amounts));
        }
        best
    }

    /// What becomes of everything, once it is settled how much is cooked.
    fn course(&self, amounts: &Amounts) -> Course {
        let supplies = self.supplies(amounts);
        let served = serve(&supplies, &self.demand, &self.wished);
        let shares = assign(&supplies, &self.demand, &self.wished, self.par);
        let of_lots = |those: &dyn Fn(&Share) -> bool| {
            let lots = 0..supplies.len();
            let sums = lots.map(|lot| {
                let own = shares
                    .iter()
                    .filter(|share| share.supply == lot && those(share));
                (lot, own.map(|share| share.mass).sum::<Mass>())
            });
            sums.filter(|(_, mass)| mass.mg() > 0).collect::<Vec<_>>()
        };
        let frozen = of_lots(&|share| share.frozen);
        let old = self.lots.len();
        let cooked = amounts.cooked().enumerate().map(|(at, (day, mass))| {
            let own = frozen.iter().find(|(lot, _)| *lot == old + at);
            Cooked {
                day,
                mass,
                pots: self.pots(mass),
                frozen: own.map_or(Mass::ZERO, |(_, mass)| *mass),
            }
        });
        let cook = cooked.collect();
        let mut thaw: Vec<(u32, usize, Mass)> = shares
            .iter()
            .filter_map(|share| match share.goes {
                Goes::Day(day) if share.frozen || supplies[share.supply].lies_frozen => {
                    Some((day, share.supply, share.mass))
                }
                _ => None,
            })
            .collect();
        thaw.sort();
        let wanting = self.demand.iter().zip(&served.days).zip(0..);
        let unmet = wanting.map(|((wanted, served), day)| (day, *wanted - *served));
        let cost = Cost {
            frozen: frozen.iter().map(|(_, mass)| mass.mg()).sum(),
            ..self.cost(amounts, &served)
        };
        Course {
            cook,
            unmet: unmet.filter(|(_, mass)| mass.mg() > 0).collect(),
            short: Mass::from_mg(cost.short),
            spoils: of_lots(&|share| share.goes == Goes::Spoilt),
            freeze: frozen.into_iter().filter(|(lot, _)| *lot < old).collect(),
            thaw,
            left: served.left,
            cost,
        }
    }
}

/// So many vessels of a size that it all goes into them; nothing here is less than nothing.
pub(super) fn full(mass: i64, size: i64) -> i64 {
    (mass + size - 1) / size
}

/// Up to the next step.
fn stepped(mass: Mass) -> Mass {
    Mass::from_mg(full(mass.mg(), STEP.mg()) * STEP.mg())
}

/// A plan for dishes that hang together by the pots of a day, and by what one takes of another.
pub fn plan(dishes: &[Dish], pots: Option<u32>) -> Vec<Course> {
    let mut wanted: Vec<Dish> = dishes.to_vec();
    let mut settled: Vec<Option<(Course, Vec<u32>)>> = vec![None; dishes.len()];
    // Before the pots are shared out, a dish is asked for by all that others would take of it.
    for _ in 0..dishes.len() {
        let courses = share_out(&wanted, &settled, None);
        let asked = asked_for(dishes, courses.iter().map(Some));
        if asked == wanted {
            break;
        }
        wanted = asked;
    }
    // Then those that nobody takes of are settled, and then what they take.
    while settled.contains(&None) {
        let courses = share_out(&wanted, &settled, pots);
        let open = |dish: &usize| settled[*dish].is_none();
        let takers = |of: &usize| {
            let mut open = (0..dishes.len()).filter(open);
            open.any(|dish| dish != *of && dishes[dish].takes.iter().any(|(taken, _)| taken == of))
        };
        let mut free: Vec<usize> = (0..dishes.len())
            .filter(open)
            .filter(|dish| !takers(dish))
            .collect();
        // Dishes that take of one another in a circle are settled as they stand.
        if free.is_empty() {
            free = (0..dishes.len()).filter(open).collect();
        }
        for dish in free {
            let mut by_day = vec![0; dishes[dish].demand.len()];
            for cooked in &courses[dish].cook {
                by_day[cooked.day as usize] += cooked.pots;
            }
            settled[dish] = Some((courses[dish].clone(), by_day));
        }
        let known = settled
            .iter()
            .map(|known| known.as_ref().map(|(course, _)| course));
        wanted = asked_for(dishes, known);
    }
    let courses = settled.into_iter().flatten();
    courses.map(|(course, _)| course).collect()
}

/// The dishes, with what the courses of others take of them.
fn asked_for<'a>(dishes: &[Dish], courses: impl Iterator<Item = Option<&'a Course>>) -> Vec<Dish> {
    let mut asked = dishes.to_vec();
    for (dish, course) in dishes.iter().zip(courses) {
        for cooked in course.iter().flat_map(|course| &course.cook) {
            for (taken, share) in &dish.takes {
                asked[*taken].demand[cooked.day as usize] += cooked.mass.share(*share);
            }
        }
    }
    asked
}

/// The best course of every dish that is not settled, within the pots of each day.
fn share_out(
    dishes: &[Dish],
    settled: &[Option<(Course, Vec<u32>)>],
    pots: Option<u32>,
) -> Vec<Course> {
    type Best = BTreeMap<Vec<u32>, (Cost, Vec<Amounts>)>;
    let days = dishes.first().map_or(0, |dish| dish.demand.len());
    let mut used = vec![0; days];
    for (_, by_day) in settled.iter().flatten() {
        used.iter_mut()
            .zip(by_day)
            .for_each(|(used, own)| *used += own);
    }
    let mut best: Best = BTreeMap::from([(used, (Cost::default(), Vec::new()))]);
    for (dish, settled) in dishes.iter().zip(settled) {
        let choices = match settled {
            Some(_) => BTreeMap::from([(Vec::new(), (Cost::default(), Amounts::default()))]),
            None => dish.choices(pots),
        };
        let mut next = Best::new();
        for (used, (cost, chosen)) in &best {
            for (own, (of_dish, amounts)) in &choices {
                let mut sum = used.clone();
                sum.iter_mut().zip(own).for_each(|(sum, own)| *sum += own);
                if pots.is_some_and(|pots| sum.iter().any(|used| *used > pots)) {
                    continue;
                }
                let cost = cost.plus(of_dish.in_portions(dish.portion));
                if next.get(&sum).is_none_or(|(known, _)| cost < *known) {
                    let all = chosen.iter().copied().chain([*amounts]);
                    next.insert(sum, (cost, all.collect()));
                }
            }
        }
        best = next;
    }
    let chosen = best.into_values().min().map(|(_, chosen)| chosen);
    let chosen = chosen.unwrap_or_default().into_iter();
    let courses = dishes.iter().zip(settled).zip(chosen);
    courses
        .map(|((dish, settled), amounts)| match settled {
            Some((course, _)) => course.clone(),
            None => dish.course(&amounts),
        })
        .collect()
}
