//! Small kitchens, lived in through what is said, against a reckoning of their own: what is eaten a day, what stands there
//! and until when is told by the script that made the kitchen, and by nothing that the kitchen says of itself. Then the
//! plan is carried out, day by day: nothing may run out or pass its date that the plan did not say would.

use chrono::{Days, Duration, NaiveDate, TimeZone, Utc};

use hobside::domain::caution::{self, Caution};
use hobside::domain::decide::Outcome;
use hobside::domain::ids::{AccountId, MemberId};
use hobside::domain::mass::Mass;
use hobside::domain::prep::horizon::{Horizon, PlanFor, Why};
use hobside::domain::prep::plan::Dish;
use hobside::domain::prep::planned::{DishPlan, Planned};
use hobside::domain::prep::serve::Supply;

use crate::Dice;
use crate::home::{ANA, Home, ROBIN};

/// What a household of two is known to do, in grams and in days from the day of asking.
pub struct Kitchen {
    pub dishes: Vec<Known>,
    /// Ana is away on these days.
    away: Option<(i64, i64)>,
    /// The plan begins so many days ahead, and is for so many.
    pub begins: i64,
    days: i64,
    pub pots_a_day: Option<u32>,
}

pub struct Known {
    name: &'static str,
    code: char,
    /// What Robin and Ana each eat of it, and on every how many days.
    eat: (u64, u64),
    every: i64,
    fridge: i64,
    /// `None`: not for the freezer.
    freezer: Option<i64>,
    pot: u64,
    par: u64,
    /// On a day, so much of it in all.
    wishes: Vec<(i64, u64)>,
    lots: Vec<Lot>,
}

#[derive(Clone, Copy, Debug)]
struct Lot {
    mass: u64,
    made: i64,
    frozen: Option<i64>,
}

/// So many days of eating are looked back on.
const HISTORY: i64 = 4;

const DISHES: [(&str, char, bool); 3] = [
    ("lentil dal", 'D', true),
    ("rice", 'R', true),
    ("egg salad", 'S', false),
];

fn between(dice: &mut Dice, least: i64, most: i64) -> i64 {
    least + dice.roll((most - least) as u64) as i64
}

impl Kitchen {
    pub fn random(dice: &mut Dice) -> Self {
        let begins = [0, 0, 1, 2, 3][dice.roll(4) as usize];
        let days = between(dice, 1, 4);
        let first = dice.roll(2) as usize;
        let count = 1 + dice.roll(1) as usize;
        let dishes = (0..count).map(|at| Known::random(dice, (first + at) % 3, begins + days));
        let dishes: Vec<Known> = dishes.collect();
        let away = (dice.roll(3) == 0).then(|| {
            let from = between(dice, 0, begins + days - 1);
            (from, from + between(dice, 0, 2))
        });
        // With more dishes it is about which of them goes without; `dishes_that_share_pots` has that.
        let limited = count == 1 && dice.roll(4) == 0;
        let pots_a_day = limited.then(|| 1 + dice.roll(1) as u32);
        Self {
            dishes,
            away,
            begins,
            days,
            pots_a_day,
        }
    }

    fn is_away(&self, day: i64) -> bool {
        self.away
            .is_some_and(|(from, until)| (from..=until).contains(&day))
    }

    /// What is eaten of a dish on a day, and whether that was wished for.
    fn demand(&self, dish: &Known, day: i64) -> (u64, bool) {
        let wish = dish.wishes.iter().rev().find(|(on, _)| *on == day);
        if let Some((_, mass)) = wish {
            return (*mass, *mass > 0);
        }
        let ana = if self.is_away(day) { 0 } else { dish.eat.1 };
        ((dish.eat.0 + ana) / dish.every as u64, false)
    }

    /// The dish as a plan is asked for it, by the script alone.
    pub fn asked(&self, dish: &Known) -> (Dish, u64) {
        let (lots, past) = self.left(dish);
        let on = |day: i64| u32::try_from(day - self.begins).expect("it is good on the first day");
        let lots = lots.into_iter().map(|lot| match lot.frozen {
            Some(_) => Supply {
                mass: grams(lot.mass),
                from: 0,
                until: 0,
                frozen_until: Some(on(dish.last(&lot))),
                lies_frozen: true,
            },
            None => Supply {
                mass: grams(lot.mass),
                from: 0,
                until: on(dish.last(&lot)),
                frozen_until: dish.freezer.map(|days| days as u32),
                lies_frozen: false,
            },
        });
        let days = self.begins..self.begins + self.days;
        let demand = days.map(|day| self.demand(dish, day));
        let (demand, wished): (Vec<Mass>, Vec<bool>) =
            demand.map(|(mass, wished)| (grams(mass), wished)).unzip();
        let portion = dish.eat.0.max(dish.eat.1);
        let asked = Dish {
            demand,
            wished,
            par: grams(dish.par),
            lots: lots.collect(),
            keeps: Some(dish.fridge as u32),
            frozen: dish.freezer.map(|days| days as u32),
            pot: grams(dish.pot),
            least: grams(2 * portion),
            portion: grams(portion),
            again: dish.freezer.is_none() && dish.fridge + 1 < self.days
                || self.pots_a_day.is_some(),
            takes: Vec::new(),
        };
        (asked, past)
    }

    /// Nothing happens before the plan begins that would tell of other habits: nobody is away, nothing is wished for, and
    /// there is enough of everything.
    pub fn goes_as_usual(&self) -> bool {
        let usual = |dish: &Known| {
            let wished = dish.wishes.iter().any(|(day, _)| *day < self.begins);
            !wished && (dish.every == 1 || self.begins == 0)
        };
        let enough = |dish: &Known| {
            let wanted: u64 = (0..self.begins).map(|day| self.demand(dish, day).0).sum();
            let (left, gone) = self.left(dish);
            let stood: u64 = dish.lots.iter().map(|lot| lot.mass).sum();
            let left: u64 = left.iter().map(|lot| lot.mass).sum();
            stood - left - gone == wanted
        };
        self.away.is_none() && self.dishes.iter().all(|dish| usual(dish) && enough(dish))
    }

    /// What is left when the plan begins, and what has passed its date by then. Gram by gram: each day eats of what stands
    /// ready and is due first, of what is frozen last.
    fn left(&self, dish: &Known) -> (Vec<Lot>, u64) {
        let mut lots = dish.lots.clone();
        lots.sort_by_key(|lot| (lot.frozen.is_some(), dish.last(lot)));
        for day in 0..self.begins {
            for _ in 0..self.demand(dish, day).0 {
                let good = |lot: &&mut Lot| lot.mass > 0 && dish.last(lot) >= day;
                if let Some(lot) = lots.iter_mut().find(good) {
                    lot.mass -= 1;
                }
            }
        }
        // What is good no longer by then is frozen in time, if it may be: a day early, so that it can thaw overnight.
        for lot in &mut lots {
            let last = dish.last(lot);
            let on = 0.max(last - 1);
            let keeps = |days: i64| on + days >= self.begins;
            if lot.frozen.is_none()
                && (0..self.begins).contains(&last)
                && dish.freezer.is_some_and(keeps)
            {
                lot.frozen = Some(on);
            }
        }
        let past = |lot: &&Lot| dish.last(lot) < self.begins;
        let gone = lots.iter().filter(past).map(|lot| lot.mass).sum();
        lots.retain(|lot| lot.mass > 0 && dish.last(lot) >= self.begins);
        (lots, gone)
    }
}

impl Known {
    fn random(dice: &mut Dice, at: usize, days: i64) -> Self {
        let (name, code, freezes) = DISHES[at];
        let fridge = between(dice, 1, 3);
        let freezer = freezes.then(|| between(dice, 2, 6));
        let lots = (0..dice.roll(3)).map(|_| {
            let made = -between(dice, 0, fridge.min(2));
            let frozen = freezer.is_some() && dice.roll(2) == 0;
            Lot {
                mass: 20 * (1 + dice.roll(2)),
                made,
                frozen: frozen.then(|| between(dice, made, 0)),
            }
        });
        let lots = lots.collect();
        let mut wishes = Vec::new();
        for _ in 0..dice.roll(2) {
            wishes.push((between(dice, 0, days - 1), 10 * dice.roll(4)));
        }
        Self {
            name,
            code,
            eat: (20 * (1 + dice.roll(1)), 20 * dice.roll(1)),
            every: between(dice, 1, 2),
            fridge,
            freezer,
            pot: 80 + 20 * dice.roll(3),
            par: 20 * dice.roll(3).saturating_sub(1),
            wishes,
            lots,
        }
    }

    /// The last day on which a lot is good where it lies.
    fn last(&self, lot: &Lot) -> i64 {
        let fridge = lot.made + self.fridge;
        match (lot.frozen, self.freezer) {
            (Some(on), Some(days)) => on + days,
            _ => fridge,
        }
    }
}

fn grams(mass: u64) -> Mass {
    Mass::from_mg(mass as i64 * 1000)
}

fn date(day: i64) -> NaiveDate {
    let today = NaiveDate::from_ymd_opt(2026, 10, 14).expect("a date");
    match u64::try_from(day) {
        Ok(days) => today + Days::new(days),
        Err(_) => today - Days::new(day.unsigned_abs()),
    }
}

/// The same kitchen in the books.
pub struct Books {
    pub home: Home,
    said: Vec<String>,
}

impl Books {
    /// As it comes to be: a pot of each dish that has been eaten since, and what stands there today.
    pub fn of(kitchen: &Kitchen) -> Self {
        let mut books = Self {
            home: Home::new(),
            said: Vec::new(),
        };
        let mut eaten_from = Vec::new();
        for dish in &kitchen.dishes {
            books.at(-HISTORY, 8);
            let plates = HISTORY / dish.every;
            let code = books.cook(dish, (dish.eat.0 + dish.eat.1) * plates as u64);
            books.say(
                ROBIN,
                &format!("{} keeps {} days in the fridge", dish.name, dish.fridge),
            );
            if let Some(days) = dish.freezer {
                books.say(
                    ROBIN,
                    &format!("{} keeps {days} days in the freezer", dish.name),
                );
            }
            books.say(ROBIN, &format!("{} pot holds {} g", dish.name, dish.pot));
            if dish.par > 0 {
                books.say(ROBIN, &format!("keep {} g {} ready", dish.par, dish.name));
            }
            eaten_from.push(code);
        }
        let mut codes: Vec<Vec<String>> = vec![Vec::new(); kitchen.dishes.len()];
        for day in -HISTORY..=0 {
            for (dish, codes) in kitchen.dishes.iter().zip(&mut codes) {
                for lot in dish.lots.iter().filter(|lot| lot.made == day) {
                    books.at(day, 10);
                    codes.push(books.cook(dish, lot.mass));
                    // Two like it right after another would be one told twice.
                    books.home.now += Duration::minutes(45);
                }
                // Those that were made until now, in the order of making.
                let mut made: Vec<&Lot> = dish.lots.iter().filter(|lot| lot.made <= day).collect();
                made.sort_by_key(|lot| lot.made);
                for (lot, code) in made
                    .iter()
                    .zip(codes)
                    .filter(|(lot, _)| lot.frozen == Some(day))
                {
                    books.at(day, 14);
                    books.say(ROBIN, &format!("froze {} g {code}", lot.mass));
                }
            }
            for (dish, code) in kitchen.dishes.iter().zip(&eaten_from).filter(|_| day < 0) {
                books.at(day, 19);
                if (day + HISTORY + 1) % dish.every != 0 {
                    // What is eaten of anything tells that of this nothing was; such plates are loaded beside the books.
                    let told = format!("{} ", date(day));
                    let known = |said: &String| said.starts_with(&told) && said.contains("butter");
                    if !books.said.iter().any(known) {
                        books.say(ROBIN, "10 g butter");
                    }
                    let lately = &mut books.home.kitchen.plates_lately;
                    let plate = AccountId(900_000 + lately.len() as i64);
                    lately.insert(plate, (date(day), ROBIN));
                    continue;
                }
                books.say(ROBIN, &format!("{} g {code}", dish.eat.0));
                if dish.eat.1 > 0 {
                    books.say(ANA, &format!("{} g {code} anyway", dish.eat.1));
                }
            }
        }
        books.at(0, 15);
        if let Some((from, until)) = kitchen.away {
            let (from, until) = (date(from).format("%-d %B"), date(until).format("%-d %B"));
            books.say(ROBIN, &format!("Ana is away from {from} to {until}"));
        }
        if let Some(pots) = kitchen.pots_a_day {
            books.say(ROBIN, &format!("at most {pots} pots a day"));
        }
        for dish in &kitchen.dishes {
            for (day, mass) in &dish.wishes {
                let on = date(*day).format("%-d %B");
                books.say(
                    ROBIN,
                    &match mass {
                        0 => format!("no {} on {on}", dish.name),
                        mass => format!("{mass} g {} for 1 on {on}", dish.name),
                    },
                );
            }
        }
        books
    }

    fn at(&mut self, day: i64, hour: u32) {
        let on = date(day).and_hms_opt(hour, 0, 0).expect("an hour");
        let on = Utc.from_utc_datetime(&on);
        self.home.now = self.home.now.max(on);
        if self.home.now.date_naive() != date(day) {
            self.home.now = on;
        }
    }

    /// Something that is booked; from today on nobody eats of what is past its date.
    fn say(&mut self, who: MemberId, text: &str) {
        self.said.push(format!("{} {who:?} {text}", self.home.now));
        let decision = self.home.say(who, text);
        let cautions = caution::of(&decision.answers);
        let past = |said: &caution::Cautioned| said.caution == Caution::PastDate;
        let eaten = text.starts_with(|first: char| first.is_numeric());
        let today = self.home.now.date_naive() >= date(0);
        let over = today && eaten && cautions.iter().any(past);
        assert!(
            decision.outcome == Outcome::Recorded && !over,
            "{:?} {cautions:?}\n{}",
            decision.outcome,
            self.said.join("\n")
        );
    }

    fn cook(&mut self, dish: &Known, mass: u64) -> String {
        let goes_in = match dish.code {
            'D' => "10 g red lentils",
            'R' => "10 g rice",
            _ => "10 g eggs",
        };
        self.say(
            ROBIN,
            &format!("batch {}: {goes_in}, cooked {mass} g, fridge", dish.name),
        );
        self.home.batch(dish.name).code.clone()
    }

    pub fn plan(&self, kitchen: &Kitchen) -> Planned {
        let begins = date(kitchen.begins);
        self.home.kitchen.planned(&PlanFor {
            today: self.home.kitchen.day_of(self.home.now),
            horizon: Horizon {
                from: begins,
                until: begins + Days::new(kitchen.days as u64 - 1),
                why: Why::Told,
            },
            people: None,
            dishes: Vec::new(),
        })
    }

    /// Live as usual until the plan begins; what it wants frozen by then is, and what passes its date goes.
    fn live_on(&mut self, kitchen: &Kitchen, ahead: &Planned) {
        for day in 0..kitchen.begins {
            for dish in &kitchen.dishes {
                self.throw_out(dish, day);
                let plan = ahead.dishes.iter().find(|plan| plan.name == dish.name);
                for (at, (by, mass)) in plan.into_iter().flat_map(|plan| &plan.freeze).enumerate() {
                    self.freeze(dish, (at, *by, *mass), day, false);
                }
                self.at(day, 19);
                for (who, mass) in [(ROBIN, dish.eat.0), (ANA, dish.eat.1)] {
                    if mass > 0 {
                        self.say(who, &format!("{mass} g {} anyway", dish.name));
                    }
                }
            }
        }
        for dish in &kitchen.dishes {
            self.throw_out(dish, kitchen.begins);
        }
    }

    fn throw_out(&mut self, dish: &Known, day: i64) {
        self.at(day, 9);
        // Of a pot of which some is frozen or thawed that which is due first goes.
        let past = self.lots(dish).into_iter();
        let past: Vec<_> = past.filter(|(_, _, due, _)| *due < date(day)).collect();
        for (code, mass, ..) in past {
            self.say(ROBIN, &format!("threw out {} g {code}", mass.grams()));
        }
    }

    /// Codes, masses, dates, and whether they lie frozen.
    fn lots(&self, dish: &Known) -> Vec<(String, Mass, NaiveDate, bool)> {
        let kitchen = &self.home.kitchen;
        let batches = kitchen
            .batches
            .values()
            .filter(|batch| batch.name == dish.name);
        let lots = batches.flat_map(|batch| batch.lots.iter().map(move |lot| (batch, lot)));
        let lots = lots.filter(|(_, lot)| lot.balance.mg() > 0);
        let lots = lots.map(|(batch, lot)| {
            let due = kitchen.use_by(batch, lot).expect("a date").on;
            (batch.code.clone(), lot.balance, due, kitchen.is_frozen(lot))
        });
        lots.collect()
    }

    fn good(&self, dish: &Known, day: i64) -> Vec<(String, Mass, bool)> {
        let lots = self.lots(dish).into_iter();
        let good = lots.filter(|(_, _, due, _)| *due >= date(day));
        good.map(|(code, mass, _, frozen)| (code, mass, frozen))
            .collect()
    }

    /// Do what a plan says, and eat what it says that there is.
    pub fn carry_out(&mut self, kitchen: &Kitchen, planned: &Planned, dice: &mut Dice) {
        for day in kitchen.begins..kitchen.begins + kitchen.days {
            for dish in &kitchen.dishes {
                let Some(plan) = planned.dishes.iter().find(|plan| plan.name == dish.name) else {
                    continue;
                };
                self.throw_out(dish, day);
                self.at(day, 10);
                for cooking in plan.cook.iter().filter(|cooking| cooking.on == date(day)) {
                    let code = self.cook(dish, cooking.mass.mg() as u64 / 1000);
                    if cooking.frozen.mg() > 0 {
                        self.say(ROBIN, &format!("froze {} g {code}", cooking.frozen.grams()));
                    }
                }
                for (at, (by, mass)) in plan.freeze.iter().enumerate() {
                    let early = dice.roll(1) == 0 && day == kitchen.begins;
                    self.freeze(dish, (at, *by, *mass), day, early);
                }
                self.thaw(dish, plan, day, false);
                let served = plan.demand[(day - kitchen.begins) as usize];
                let unmet = plan.unmet.iter().filter(|(on, _)| *on == date(day));
                let unmet: Mass = unmet.map(|(_, mass)| *mass).sum();
                self.at(day, 19);
                if (served - unmet).mg() > 0 {
                    self.say(
                        ROBIN,
                        &format!("{} g {}", (served - unmet).grams(), dish.name),
                    );
                }
                self.thaw(dish, plan, day + 1, true);
            }
        }
    }

    /// By the last day that the plan gives for it, or earlier; once.
    fn freeze(
        &mut self,
        dish: &Known,
        (at, by, mass): (usize, NaiveDate, Mass),
        day: i64,
        early: bool,
    ) {
        let marked = format!("{} {at} by {by}", dish.name);
        if self.said.contains(&marked) || !early && by != date(day) {
            return;
        }
        self.said.push(marked);
        // Which of them it is, its date tells: a day is kept for the thaw, where one is left.
        let lots = self
            .lots(dish)
            .into_iter()
            .filter(|(_, _, _, frozen)| !frozen);
        let mut lots: Vec<_> = lots
            .filter(|(_, have, due, _)| *due >= by && *have >= mass)
            .collect();
        lots.sort_by_key(|(_, _, due, _)| (*due != by + Days::new(1), *due));
        let code = lots.first().map(|(code, ..)| code.clone());
        let code = code.unwrap_or_else(|| panic!("it stands there\n{}", self.said()));
        self.say(ROBIN, &format!("froze {} g {code}", mass.grams()));
    }

    fn thaw(&mut self, dish: &Known, plan: &DishPlan, eaten: i64, overnight: bool) {
        let thaw = plan.thaw.iter();
        let thaw = thaw.filter(|thaw| thaw.on == date(eaten) && thaw.overnight == overnight);
        let mut open: Mass = thaw.map(|thaw| thaw.mass).sum();
        // What has a day left thaws overnight, what has none on the day; of either what is due first.
        let kitchen = &self.home.kitchen;
        let batches = kitchen
            .batches
            .values()
            .filter(|batch| batch.name == dish.name);
        let lots = batches.flat_map(|batch| batch.lots.iter().map(move |lot| (batch, lot)));
        let lots = lots.filter(|(_, lot)| lot.balance.mg() > 0 && kitchen.is_frozen(lot));
        let mut frozen: Vec<(bool, NaiveDate, String, Mass)> = lots
            .filter_map(|(batch, lot)| {
                let due = kitchen.use_by(batch, lot)?.on;
                let thawed = kitchen.due_if(batch, lot, (date(eaten - 1), false))?;
                let lasts = thawed >= date(eaten);
                let good = due >= date(eaten);
                good.then(|| (lasts != overnight, due, batch.code.clone(), lot.balance))
            })
            .collect();
        frozen.sort();
        for (_, _, code, mass) in frozen {
            let taken = open.min(mass);
            if taken.mg() > 0 {
                self.say(ROBIN, &format!("thawed {} g {code}", taken.grams()));
            }
            open -= taken;
        }
        assert_eq!(open, Mass::ZERO, "{}", self.said.join("\n"));
    }

    /// What is left after the plan: good on the next day.
    pub fn left(&mut self, kitchen: &Kitchen, name: &str) -> Mass {
        let dish = kitchen.dishes.iter().find(|dish| dish.name == name);
        let dish = dish.expect("one of them");
        let good = self.good(dish, kitchen.begins + kitchen.days).into_iter();
        good.map(|(_, mass, _)| mass).sum()
    }

    pub fn said(&self) -> String {
        self.said.join("\n")
    }
}

impl Known {
    pub fn name(&self) -> &'static str {
        self.name
    }
}

/// As if it had been asked on the day on which the plan begins, and what it said days before had been done.
pub fn on_the_day(kitchen: &Kitchen, books: &mut Books) -> Planned {
    let ahead = books.plan(kitchen);
    books.live_on(kitchen, &ahead);
    books.at(kitchen.begins, 9);
    books.plan(kitchen)
}
