//! From a kitchen to a plan: which days, who eats, what a dish is asked for on each of them, how long it keeps, and how
//! big a pot is. `there.rs` says what stands there, `plan.rs` does the reckoning; what comes back is told in dates and
//! names again.

use chrono::{Days, NaiveDate};

use super::books::Limit;
use super::list::{ToBuy, list};
use super::plan::{Course, Dish, plan};
use super::planned::{Cooking, DishPlan, Planned, Pot, Thaw};
use super::shop::{ListLineView, ShoppingView};
use super::there::There;
use super::wish::wished;
use crate::domain::batch::Batch;
use crate::domain::cookbook::{Recipe, Thing};
use crate::domain::ids::{ComponentId, EntryId};
use crate::domain::keeping::Storage;
use crate::domain::kitchen::{Component, Kitchen};
use crate::domain::mass::Mass;
use crate::domain::pace::{Pace, Use};
use crate::domain::worth::Worth;

/// Planned where no prep day was told.
const DAYS_USUAL: u64 = 7;
/// Further ahead nobody knows what is eaten.
pub const DAYS_MAX: usize = 28;
/// A pot that nobody told or cooked in. Common practice.
const POT: Mass = Mass::from_mg(4_000_000);
/// A portion of what nobody has eaten of yet. Common practice.
const PORTION: Mass = Mass::from_mg(250_000);
/// Fewer portions are not worth a pot. Common practice.
const PORTIONS_LEAST: i64 = 2;

/// What a plan is asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanFor {
    /// The day of asking: what is eaten from then until the plan begins is not there any more.
    pub today: NaiveDate,
    pub horizon: Horizon,
    /// So many eat on each day; `None`: whoever eats here.
    pub people: Option<u32>,
    /// None: all that is eaten here.
    pub dishes: Vec<ComponentId>,
}

impl From<Horizon> for PlanFor {
    /// One that begins today.
    fn from(horizon: Horizon) -> Self {
        Self {
            today: horizon.from,
            horizon,
            people: None,
            dishes: Vec::new(),
        }
    }
}

/// The days that a plan is for, and why these.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Horizon {
    pub from: NaiveDate,
    pub until: NaiveDate,
    pub why: Why,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// Until the next prep day, which is the day after.
    PrepDay,
    /// No prep day is told.
    Usual,
    /// As it was asked for.
    Told,
}

impl Horizon {
    /// From a day until the next prep day.
    pub fn of(kitchen: &Kitchen, from: NaiveDate) -> Self {
        let next = kitchen.settings().clock.prep_day_from(from + Days::new(1));
        match next {
            Some(next) => Self {
                from,
                until: next - Days::new(1),
                why: Why::PrepDay,
            },
            None => Self {
                from,
                until: from + Days::new(DAYS_USUAL - 1),
                why: Why::Usual,
            },
        }
    }

    pub fn days(&self) -> Vec<NaiveDate> {
        let days = self.from.iter_days();
        days.take_while(|day| *day <= self.until).collect()
    }

    fn after(&self, day: u32) -> NaiveDate {
        self.from + Days::new(u64::from(day))
    }
}

/// What is known of a dish before it is planned.
struct Known {
    dish: ComponentId,
    name: String,
    pace: Option<Pace>,
    pot: Pot,
    there: There,
    recipe: Option<Recipe>,
    asked: Dish,
}

impl Kitchen {
    /// The plan for some days. The pots of all dishes have to be in sight.
    pub fn planned(&self, of: &PlanFor) -> Planned {
        let horizon = of.horizon;
        let days = horizon.days();
        let eaters = |day: &NaiveDate| match of.people {
            Some(people) => people as usize,
            None => {
                let wishes = self.prep.wishes.iter().map(|kept| &kept.wish);
                let told = wishes.filter(|wish| wish.covers(*day) && !self.is_empty_on(*day));
                let most = told.filter_map(|wish| wish.people).max();
                self.eaters(*day).len().max(most.unwrap_or(0) as usize)
            }
        };
        let mut known: Vec<Known> = Vec::new();
        let mut unknown = Vec::new();
        // What was only ever bought is not cooked.
        let cooked = |component: &&Component| !self.pots(component.id).is_empty();
        for component in self.components.iter().filter(cooked) {
            let mut dish = self.known(component, of, &days);
            let meant = of.dishes.is_empty() || of.dishes.contains(&component.id);
            if !meant {
                dish.ask_for_none();
            }
            let asks = dish.asked.demand.iter().any(|mass| mass.mg() > 0);
            let said = asks || dish.asked.par.mg() > 0 || dish.asked.wished.contains(&true);
            let there = dish.there.good() + dish.there.past;
            if meant && dish.pace.is_none() && !said && there.mg() > 0 {
                unknown.push((dish.name.clone(), there));
            }
            known.push(dish);
        }
        self.link(&mut known);
        let needed: Vec<usize> = known
            .iter()
            .filter(|dish| dish.is_asked_for())
            .flat_map(|dish| dish.asked.takes.iter().map(|(taken, _)| *taken))
            .collect();
        let meant = |dish: &Known| of.dishes.is_empty() || of.dishes.contains(&dish.dish);
        let kept: Vec<bool> = (0..known.len())
            .map(|at| {
                let dish = &known[at];
                let wasted = meant(dish) && dish.pace.is_some() && dish.passes_uneaten(days.len());
                dish.is_asked_for() || wasted || needed.contains(&at)
            })
            .collect();
        let known = keep(known, &kept);
        let dishes: Vec<Dish> = known.iter().map(|dish| dish.asked.clone()).collect();
        let pots = self.prep.limit(Limit::PotsADay);
        let courses = plan(&dishes, pots);
        let taken = taken(&dishes, &courses);
        let told = known.into_iter().zip(courses).zip(taken);
        let only = of.dishes.iter().map(|dish| self.dish_name(*dish));
        Planned {
            today: of.today,
            people: of.people,
            only: only.collect(),
            eaters: days.iter().map(eaters).collect(),
            dishes: told
                .map(|((dish, course), taken)| {
                    let at_home = |day: NaiveDate| !self.is_empty_on(day);
                    let plan = tell(dish, course, taken, (of.today, &horizon, &at_home));
                    self.priced(plan)
                })
                .collect(),
            unknown,
            pots_a_day: pots,
            horizon,
        }
    }

    /// With what it costs, as far as prices were told.
    fn priced(&self, mut plan: DishPlan) -> DishPlan {
        plan.portion = self.usual_portion(plan.dish);
        for cooking in &mut plan.cook {
            if let Some(recipe) = &cooking.recipe {
                cooking.worth = self.worth_of_recipe(recipe, true);
                cooking.bought = self.worth_of_recipe(recipe, false);
            }
        }
        plan
    }

    /// What has to be bought for a plan, on no list yet.
    pub fn needs(&self, planned: &Planned) -> ShoppingView {
        let shop = &self.prep.shop;
        let (mut wanted, goods) = self.larder(planned);
        wanted.extend(planned.wanted());
        let lines = list(&wanted, &goods, &shop.shelves());
        let line = |buy: ToBuy| ListLineView {
            id: EntryId(0),
            buy,
            said: Vec::new(),
            ticked_by: None,
        };
        let days = (planned.horizon.from, planned.horizon.until);
        ShoppingView::of(
            EntryId(0),
            Some(days),
            lines.into_iter().map(line).collect(),
        )
    }

    fn known(&self, component: &Component, of: &PlanFor, days: &[NaiveDate]) -> Known {
        let dish = component.id;
        let (today, begins) = (of.today, of.horizon.from);
        let appetite = self.appetite(dish, today, Use::BesidePots);
        let wishes = &self.prep.wishes;
        let eaten = self.eaten_on(dish, today);
        let of_day = |day: NaiveDate| {
            let people = of.people.filter(|_| day >= begins);
            let home = self.eaters(day);
            // What was wished for a day on which all have gone away since is eaten by nobody.
            let empty = people.is_none() && self.is_empty_on(day);
            let wish = wished(wishes, dish, day).filter(|_| !empty);
            let usual = || {
                let usual = appetite.as_ref();
                usual.map_or(Mass::ZERO, |usual| match people {
                    Some(people) => usual.of(people as usize),
                    None => usual.on(&home),
                })
            };
            // What was eaten of it today is not eaten again.
            let had = if day == today { eaten } else { Mass::ZERO };
            let wants = Mass::ZERO.max(wish.unwrap_or_else(usual) - had);
            (wants, wish.is_some_and(|mass| mass.mg() > 0))
        };
        let (demand, wished): (Vec<Mass>, Vec<bool>) = days.iter().copied().map(of_day).unzip();
        let there = self.there(dish, (today, begins), |day| of_day(day).0);
        let recipe = self.recipe(dish);
        let last = self.pots(dish).into_iter().next();
        let span = |storage| {
            let keeps = self.keeps_of(last?, storage)?;
            Some(keeps.until.days())
        };
        let (keeps, frozen) = (span(Storage::Fridge), span(Storage::Freezer));
        let pot = self.pot(dish);
        let portion = self.usual_portion(dish).unwrap_or(PORTION);
        // Where a day has only so many pots, the next day has as many.
        let limited = self.prep.limit(Limit::PotsADay).is_some();
        let keeps_through = keeps.is_none_or(|keeps| keeps as usize + 1 >= days.len());
        Known {
            dish,
            name: component.name.clone(),
            pace: appetite.map(|appetite| appetite.pace),
            pot,
            recipe,
            asked: Dish {
                demand,
                wished,
                par: self.prep.par(dish).unwrap_or(Mass::ZERO),
                lots: there.lots.iter().map(|lot| lot.supply).collect(),
                keeps,
                frozen,
                pot: pot.mass(),
                least: Mass::from_mg(portion.mg() * PORTIONS_LEAST),
                portion,
                again: frozen.is_none() && !keeps_through || limited,
                takes: Vec::new(),
            },
            there,
        }
    }

    /// What a gram of each dish takes of others.
    fn link(&self, known: &mut [Known]) {
        let place = |known: &[Known], dish| known.iter().position(|other| other.dish == dish);
        for at in 0..known.len() {
            let Some(recipe) = known[at].recipe.clone() else {
                continue;
            };
            let whole = recipe.comes_to().mass.grams();
            let mut takes: Vec<(usize, f64)> = Vec::new();
            for line in &recipe.lines {
                let (Thing::Dish(dish), Some(mass)) = (line.thing, line.mass) else {
                    continue;
                };
                let taken = place(known, dish).filter(|taken| *taken != at && whole > 0.0);
                takes.extend(taken.map(|taken| (taken, mass.grams() / whole)));
            }
            known[at].asked.takes = takes;
        }
    }

    /// What the pot for a dish holds: as told, or the largest so far.
    fn pot(&self, dish: ComponentId) -> Pot {
        if let Some(told) = self.prep.pot_holds(dish) {
            return Pot::Told(told);
        }
        let largest = self.pots(dish).into_iter().map(Batch::net_mass).max();
        largest
            .filter(|mass| mass.mg() > 0)
            .map_or(Pot::Assumed(POT), Pot::SoFar)
    }
}

impl Known {
    /// It is planned only for what other dishes take of it.
    fn ask_for_none(&mut self) {
        self.asked.demand.fill(Mass::ZERO);
        self.asked.wished.fill(false);
        self.asked.par = Mass::ZERO;
    }

    /// What nobody wants on these days passes its date unless it is frozen.
    fn passes_uneaten(&self, days: usize) -> bool {
        let mut lots = self.there.lots.iter().map(|lot| lot.supply);
        lots.any(|lot| !lot.lies_frozen && (lot.until as usize) < days)
    }

    fn is_asked_for(&self) -> bool {
        let demand = self.asked.demand.iter().any(|mass| mass.mg() > 0);
        demand || self.asked.par.mg() > 0
    }
}

/// What the courses take of each dish.
fn taken(dishes: &[Dish], courses: &[Course]) -> Vec<Mass> {
    let mut sums = vec![Mass::ZERO; dishes.len()];
    for (dish, course) in dishes.iter().zip(courses) {
        for (taken, share) in &dish.takes {
            let cooked = course.cook.iter();
            sums[*taken] += cooked.map(|cooked| cooked.mass.share(*share)).sum();
        }
    }
    sums
}

/// Those that are planned, with the places in what they take put right.
fn keep(known: Vec<Known>, kept: &[bool]) -> Vec<Known> {
    let place = |at: usize| kept[..at].iter().filter(|kept| **kept).count();
    let known = known.into_iter().zip(kept).filter(|(_, kept)| **kept);
    known
        .map(|(mut dish, _)| {
            dish.asked.takes.retain(|(taken, _)| kept[*taken]);
            for (taken, _) in &mut dish.asked.takes {
                *taken = place(*taken);
            }
            dish
        })
        .collect()
}

/// A course in dates and names.
fn tell(
    known: Known,
    course: Course,
    taken: Mass,
    (today, horizon, at_home): (NaiveDate, &Horizon, &dyn Fn(NaiveDate) -> bool),
) -> DishPlan {
    let cook = course.cook.iter().map(|cooked| Cooking {
        on: horizon.after(cooked.day),
        mass: cooked.mass,
        pots: cooked.pots,
        frozen: cooked.frozen,
        recipe: known
            .recipe
            .as_ref()
            .and_then(|recipe| recipe.cooking_up(cooked.mass)),
        worth: Worth::default(),
        bought: Worth::default(),
    });
    let lots = &known.there.lots;
    let before = known.there.freeze.iter().copied();
    let freeze = before.chain(course.freeze.iter().filter_map(|(lot, mass)| {
        let lot = &lots[*lot];
        (!lot.supply.lies_frozen).then_some((lot.freeze_by, *mass))
    }));
    let pot_thaws_overnight = known.asked.keeps.is_none_or(|days| days > 0);
    let mut thaw: Vec<Thaw> = Vec::new();
    for (day, lot, mass) in &course.thaw {
        let on = horizon.after(*day);
        let known = lots.get(*lot);
        let overnight = known.map_or(pot_thaws_overnight, |lot| lot.thaws_overnight);
        // In the evening before somebody has to be there, and of today it is over.
        let evening = on.pred_opt().filter(|evening| *evening >= today);
        let overnight = overnight && evening.is_some_and(at_home);
        let same = |thaw: &&mut Thaw| thaw.on == on && thaw.overnight == overnight;
        match thaw.iter_mut().find(same) {
            Some(thaw) => thaw.mass += *mass,
            None => thaw.push(Thaw {
                on,
                mass: *mass,
                overnight,
            }),
        }
    }
    DishPlan {
        cook: cook.collect(),
        freeze: freeze.collect(),
        thaw,
        unmet: course
            .unmet
            .iter()
            .map(|(day, mass)| (horizon.after(*day), *mass))
            .collect(),
        short: course.short,
        spoils: course.spoils.iter().map(|(_, mass)| *mass).sum(),
        left: course.left,
        there: known.there.good(),
        past: known.there.past,
        eaten_before: known.there.eaten,
        taken,
        portion: None,
        least: known.asked.least,
        keeps: (known.asked.keeps, known.asked.frozen),
        dish: known.dish,
        name: known.name,
        pace: known.pace,
        demand: known.asked.demand,
        wished: known.asked.wished,
        par: known.asked.par,
        pot: known.pot,
    }
}
