//! The plan against brute force: every amount to cook on every pair of days, and every way to serve it. By itself, and asked
//! of small kitchens that are lived in through what is said (`plan/kitchens.rs`).

mod home;
mod plan {
    pub mod kitchens;
}

use std::collections::HashMap;

use chrono::NaiveDate;
use hobside::domain::mass::Mass;
use hobside::domain::prep::plan::{Cost, Course, Dish, STEP, plan};
use hobside::domain::prep::planned::DishPlan;
use hobside::domain::prep::serve::Supply;
use plan::kitchens::{Books, Kitchen, on_the_day};

/// A small generator of its own, so that a case can be told by its number.
pub struct Dice(u64);

impl Dice {
    pub fn roll(&mut self, to: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % (to + 1)
    }
}

fn units(count: u64) -> Mass {
    Mass::from_mg(STEP.mg() * count as i64)
}

fn count(mass: Mass) -> i64 {
    mass.mg() / STEP.mg()
}

fn dish(dice: &mut Dice, lots: u64) -> Dish {
    let days = 1 + dice.roll(3) as usize;
    let wishes = dice.roll(2) == 0;
    let lots = (0..dice.roll(lots)).map(|_| {
        let from = dice.roll(days as u64 - 1) as u32;
        let until = from + dice.roll(days as u64) as u32;
        let frozen_until = (dice.roll(3) == 0).then(|| until + dice.roll(days as u64) as u32);
        Supply {
            mass: units(dice.roll(2)),
            from,
            until,
            frozen_until,
            lies_frozen: false,
        }
    });
    let lots = lots.collect();
    let pot = 2 + dice.roll(1);
    let frozen = (dice.roll(3) == 0).then(|| dice.roll(6) as u32);
    Dish {
        demand: (0..days).map(|_| units(dice.roll(2))).collect(),
        wished: (0..days).map(|_| wishes && dice.roll(1) == 0).collect(),
        par: units(dice.roll(3).saturating_sub(1)),
        lots,
        keeps: Some(dice.roll(3) as u32),
        frozen,
        pot: units(pot),
        least: units(1 + dice.roll(pot - 1)),
        portion: STEP,
        again: frozen.is_none() && dice.roll(2) > 0,
        takes: Vec::new(),
    }
}

/// Every way to serve a day from the lots, then the days after it.
struct Ways<'a> {
    supplies: Vec<(u32, u32, u32)>,
    dish: &'a Dish,
    known: HashMap<(usize, Vec<i64>), [i64; 6]>,
}

impl Ways<'_> {
    /// Wished and unwished days unmet, short of par, spoilt, left over, frozen; with so much left of each lot.
    fn from(&mut self, day: usize, lots: &[i64]) -> [i64; 6] {
        let key = (day, lots.to_vec());
        if let Some(known) = self.known.get(&key) {
            return *known;
        }
        let days = self.dish.demand.len();
        let result = if day == days {
            let mut cost = [0; 6];
            let mut left = 0;
            for (mass, (_, until, last)) in lots.iter().zip(&self.supplies) {
                match *last < days as u32 {
                    true => cost[3] += mass,
                    false => left += mass,
                }
                if *last >= days as u32 && *until < days as u32 {
                    cost[5] += mass;
                }
            }
            let par = count(self.dish.par);
            cost[2] = (par - left).max(0);
            cost[4] = (left - par).max(0);
            cost
        } else {
            let mut best = None;
            self.day(day, 0, lots.to_vec(), 0, 0, &mut best);
            best.expect("one may serve nothing")
        };
        self.known.insert(key, result);
        result
    }

    fn day(
        &mut self,
        day: usize,
        lot: usize,
        lots: Vec<i64>,
        served: i64,
        frozen: i64,
        best: &mut Option<[i64; 6]>,
    ) {
        let wanted = count(self.dish.demand[day]);
        if lot == lots.len() {
            let mut cost = self.from(day + 1, &lots);
            cost[0] += (wanted - served) * i64::from(self.dish.wished[day]);
            cost[1] += wanted - served;
            cost[5] += frozen;
            *best = Some(best.map_or(cost, |known| known.min(cost)));
            return;
        }
        let (from, until, last) = self.supplies[lot];
        let open = (from..=last).contains(&(day as u32));
        let most = if open {
            lots[lot].min(wanted - served)
        } else {
            0
        };
        for taken in 0..=most {
            let mut rest = lots.clone();
            rest[lot] -= taken;
            let cold = if day as u32 > until { taken } else { 0 };
            self.day(day, lot + 1, rest, served + taken, frozen + cold, best);
        }
    }
}

fn cost_of(dish: &Dish, cooked: &[(u32, i64)]) -> Cost {
    let mut supplies = Vec::new();
    let mut lots = Vec::new();
    for lot in &dish.lots {
        supplies.push((
            lot.from,
            lot.until,
            lot.frozen_until.unwrap_or(0).max(lot.until),
        ));
        lots.push(count(lot.mass));
    }
    for (day, mass) in cooked {
        let until = day + dish.keeps.unwrap();
        supplies.push((
            *day,
            until,
            dish.frozen
                .map_or(until, |frozen| (day + frozen).max(until)),
        ));
        lots.push(*mass);
    }
    let known = HashMap::new();
    let mut ways = Ways {
        supplies,
        dish,
        known,
    };
    let cost = ways.from(0, &lots);
    let pot = count(dish.pot);
    let cooked = cooked.iter().filter(|(_, mass)| *mass > 0);
    Cost {
        wished_unmet: cost[0] * STEP.mg(),
        unmet: cost[1] * STEP.mg(),
        short: cost[2] * STEP.mg(),
        spoilt: cost[3] * STEP.mg(),
        left: cost[4] * STEP.mg(),
        pots: cooked
            .clone()
            .map(|(_, mass)| (mass + pot - 1) / pot)
            .sum::<i64>() as u32,
        days: cooked.count() as u32,
        frozen: cost[5] * STEP.mg(),
    }
}

/// The best cost for each number of pots on each day.
fn brute(dish: &Dish) -> HashMap<Vec<u32>, Cost> {
    let days = dish.demand.len();
    let wanted: i64 = dish.demand.iter().map(|mass| count(*mass)).sum::<i64>() + count(dish.par);
    let (pot, least) = (count(dish.pot), count(dish.least));
    let amounts: Vec<i64> = (0..=wanted.max(least))
        .filter(|mass| *mass == 0 || *mass >= least)
        .collect();
    let mut best: HashMap<Vec<u32>, Cost> = HashMap::new();
    let seconds = if dish.again { 1..days } else { 0..1 };
    for second in seconds.chain([0]) {
        for first in &amounts {
            for then in &amounts {
                if second == 0 && *then > 0 {
                    continue;
                }
                let cost = cost_of(dish, &[(0, *first), (second as u32, *then)]);
                let mut key = vec![0; days];
                key[0] += ((first + pot - 1) / pot) as u32;
                key[second] += ((then + pot - 1) / pot) as u32;
                let known = best.entry(key).or_insert(cost);
                *known = (*known).min(cost);
            }
        }
    }
    best
}

/// What the course says of itself must add up.
fn check(dish: &Dish, course: &Course) {
    let cooked: Mass = course.cook.iter().map(|cooked| cooked.mass).sum();
    let stood: Mass = dish.lots.iter().map(|lot| lot.mass).sum();
    let wanted: Mass = dish.demand.iter().copied().sum();
    let unmet: Mass = course.unmet.iter().map(|(_, mass)| *mass).sum();
    let spoilt: Mass = course.spoils.iter().map(|(_, mass)| *mass).sum();
    assert_eq!(cooked + stood, wanted - unmet + spoilt + course.left);
    assert_eq!(unmet.mg(), course.cost.unmet);
    assert_eq!(spoilt.mg(), course.cost.spoilt);
    for cooked in &course.cook {
        assert!(
            cooked.mass >= dish.least
                && cooked.mass <= Mass::from_mg(dish.pot.mg() * i64::from(cooked.pots))
        );
    }
}

fn cases(default: u64) -> u64 {
    let told = std::env::var("HOBSIDE_PLANS").ok();
    told.and_then(|count| count.parse().ok()).unwrap_or(default)
}

#[test]
fn one_dish_agrees_with_brute_force() {
    for case in 0..cases(1500) {
        let dish = dish(&mut Dice(case), 3);
        let course = plan(std::slice::from_ref(&dish), None).remove(0);
        check(&dish, &course);
        let best = brute(&dish).into_values().min().unwrap();
        assert_eq!(course.cost, best, "case {case}: {dish:#?}\n{course:#?}");
    }
}

#[test]
fn dishes_that_share_pots_agree_with_brute_force() {
    for case in 0..cases(300) {
        let mut dice = Dice(case + 7_000_000);
        let mut dishes: Vec<Dish> = (0..2).map(|_| dish(&mut dice, 1)).collect();
        let days = dishes[0].demand.len().min(dishes[1].demand.len());
        for dish in &mut dishes {
            dish.demand.truncate(days);
            dish.wished.truncate(days);
        }
        let pots = dice.roll(3) as u32;
        let courses = plan(&dishes, Some(pots));
        let of_each: Vec<HashMap<Vec<u32>, Cost>> = dishes.iter().map(brute).collect();
        let mut best: Option<[i64; 8]> = None;
        for (one, cost) in &of_each[0] {
            for (other, and) in &of_each[1] {
                if one
                    .iter()
                    .zip(other)
                    .all(|(one, other)| one + other <= pots)
                {
                    let sum = sum([cost, and]);
                    best = Some(best.map_or(sum, |known| known.min(sum)));
                }
            }
        }
        let found = sum([&courses[0].cost, &courses[1].cost]);
        assert_eq!(
            Some(found),
            best,
            "case {case}: {pots} pots, {dishes:#?}\n{courses:#?}"
        );
        for day in 0..days as u32 {
            let of_day = courses
                .iter()
                .flat_map(|course| &course.cook)
                .filter(|cooked| cooked.day == day);
            assert!(of_day.map(|cooked| cooked.pots).sum::<u32>() <= pots);
        }
    }
}

/// What is there and what is eaten, as a plan finds it in the books, and what the plan comes to.
#[test]
fn kitchens_agree_with_brute_force() {
    for case in 0..cases(120) {
        let kitchen = Kitchen::random(&mut Dice(case + 9_000_000));
        let books = Books::of(&kitchen);
        let planned = books.plan(&kitchen);
        for known in &kitchen.dishes {
            let (asked, past) = kitchen.asked(known);
            let told = || format!("case {case}: {asked:#?}\n{planned:#?}\n{}", books.said());
            let within = |by_day: &Vec<u32>| {
                let most = kitchen.pots_a_day;
                most.is_none_or(|most| by_day.iter().all(|pots| *pots <= most))
            };
            let possible = brute(&asked).into_iter();
            let possible = possible.filter(|(by_day, _)| within(by_day));
            let best = possible
                .map(|(_, cost)| cost)
                .min()
                .expect("to cook nothing");
            let Some(plan) = planned.dishes.iter().find(|plan| plan.name == known.name()) else {
                let asks = asked.demand.iter().any(|mass| mass.mg() > 0) || asked.par.mg() > 0;
                assert!(!asks, "{}", told());
                continue;
            };
            assert_eq!(plan.demand, asked.demand, "{}", told());
            assert_eq!(plan.wished, asked.wished, "{}", told());
            let there: Mass = asked.lots.iter().map(|lot| lot.mass).sum();
            assert_eq!(plan.there, there, "{}", told());
            assert_eq!(plan.past, Mass::from_mg(past as i64 * 1000), "{}", told());
            let found = Cost {
                frozen: best.frozen,
                ..told_cost(plan, planned.horizon.from)
            };
            assert_eq!(found, best, "{}", told());
        }
    }
}

/// What a plan for a kitchen says that it costs; what is frozen is held against the course alone.
fn told_cost(plan: &DishPlan, first: NaiveDate) -> Cost {
    let unmet = |wished: bool| {
        let days = plan
            .unmet
            .iter()
            .filter(|(on, _)| !wished || plan.wished[(*on - first).num_days() as usize]);
        days.map(|(_, mass)| mass.mg()).sum()
    };
    Cost {
        wished_unmet: unmet(true),
        unmet: unmet(false),
        short: plan.short.mg(),
        spoilt: plan.spoils.mg(),
        left: (plan.left - plan.par).mg().max(0),
        pots: plan.cook.iter().map(|cooking| cooking.pots).sum(),
        days: plan.cook.len() as u32,
        frozen: 0,
    }
}

/// A plan that is made days before is the one of its day, if all goes as usual until then.
#[test]
fn a_plan_for_a_day_to_come_is_the_plan_of_that_day() {
    let mut held = 0;
    for case in 0..cases(120) {
        let kitchen = Kitchen::random(&mut Dice(case + 9_000_000));
        if !kitchen.goes_as_usual() {
            continue;
        }
        held += usize::from(kitchen.begins > 0);
        let mut books = Books::of(&kitchen);
        let ahead = books.plan(&kitchen);
        let then = on_the_day(&kitchen, &mut books);
        for plan in &ahead.dishes {
            let same = then.dishes.iter().find(|other| other.name == plan.name);
            let told = || format!("case {case}: {plan:#?}\n{same:#?}\n{}", books.said());
            let other = same.unwrap_or_else(|| panic!("{}", told()));
            assert_eq!(plan.cook.len(), other.cook.len(), "{}", told());
            for (one, other) in plan.cook.iter().zip(&other.cook) {
                assert_eq!((one.on, one.mass), (other.on, other.mass), "{}", told());
            }
            assert_eq!(
                (plan.there, plan.left),
                (other.there, other.left),
                "{}",
                told()
            );
        }
    }
    assert!(held >= 5, "{held} plans were made days before");
}

/// Cooked, frozen, thawed and eaten as the plan says, what it says comes about.
#[test]
fn a_plan_that_is_carried_out_keeps_its_word() {
    for case in 0..cases(120) {
        let mut dice = Dice(case + 9_000_000);
        let kitchen = Kitchen::random(&mut dice);
        if kitchen.begins > 0 && !kitchen.goes_as_usual() {
            continue;
        }
        let mut books = Books::of(&kitchen);
        let planned = on_the_day(&kitchen, &mut books);
        books.carry_out(&kitchen, &planned, &mut dice);
        for plan in &planned.dishes {
            let left = books.left(&kitchen, &plan.name);
            assert_eq!(left, plan.left, "case {case}: {plan:#?}\n{}", books.said());
        }
    }
}

fn sum(costs: [&Cost; 2]) -> [i64; 8] {
    let parts = |cost: &Cost| {
        [
            cost.wished_unmet,
            cost.unmet,
            cost.short,
            cost.spoilt,
            cost.left,
            cost.pots.into(),
            cost.days.into(),
            cost.frozen,
        ]
    };
    let [one, other] = costs.map(parts);
    std::array::from_fn(|part| one[part] + other[part])
}
