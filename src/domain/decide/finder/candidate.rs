//! What may be on a plate that is looked for: what was named, and what stands ready.

use chrono::NaiveDate;

use crate::domain::batch::Lot;
use crate::domain::composition::Composition;
use crate::domain::decide::Stop;
use crate::domain::draft::Draft;
use crate::domain::finder::answer::FoundLine;
use crate::domain::finder::search::STEP_GRAMS;
use crate::domain::ids::{BatchId, ComponentId, ProfileId};
use crate::domain::kitchen::Kitchen;
use crate::domain::mass::Mass;
use crate::domain::nutrients::Totals;
use crate::domain::personal::target::amount;
use crate::domain::problem::ProblemKind;
use crate::domain::quantity::{Meant, Measured, meant};
use crate::domain::resolve::{Thing, Use, resolve_amount};
use crate::foods::{self, Code};
use crate::lang::syntax::{Aim, FinderPart};

/// What a plate of plain food holds at most.
const PLAIN_MAX: Mass = Mass::from_mg(1_000_000);
/// Where nobody has eaten of it yet (common practice).
const USUAL_DISH_GRAMS: f64 = 150.0;
const USUAL_FOOD_GRAMS: f64 = 50.0;

/// Something that may be on the plate.
#[derive(Debug, Clone)]
pub struct Candidate {
    pub line: FoundLine,
    /// As the books take it, whatever else has its name.
    pub says: String,
    pub ready: Mass,
    pub usual_grams: f64,
    pub per_gram: Totals,
    pub component: Option<ComponentId>,
    /// No more of it is wanted.
    pub most: Option<Mass>,
    /// What is drawn from of the same dish once this is used up.
    pub next: Vec<Candidate>,
}

pub fn of_part(draft: &Draft, part: &FinderPart) -> Result<Candidate, Stop> {
    let kitchen = &draft.kitchen;
    let name = &part.name;
    let problem = |kind: ProblemKind| Stop::Problem(kind.at(name.span.clone()));
    let resolved = resolve_amount(
        kitchen,
        part.amount.as_ref(),
        name,
        Use::Eaten,
        draft.today(),
    );
    let resolved = resolved.map_err(|unresolved| problem(unresolved.problem(&name.text)))?;
    let mut candidate = match &resolved.thing {
        Thing::Batches(batches) => of_batch(draft, batches),
        // Nobody eats it dry.
        Thing::Food(code) => of_food(
            resolved
                .dry_and_cooked()
                .map_or(*code, |(_, cooked)| cooked),
        ),
        Thing::Packet(profile) => of_packet(kitchen, *profile),
    };
    if let Some(said) = &part.amount {
        let thing = &resolved.thing;
        let measured = Measured {
            thing,
            name: &name.text,
        };
        let Meant::Quantity(quantity) = meant(kitchen, said, &measured).map_err(problem)? else {
            let name = name.text.clone();
            return Err(ProblemKind::MissingAmount { name }.into());
        };
        candidate.put(quantity.mass);
        candidate.line.told = true;
    }
    Ok(candidate)
}

impl Candidate {
    /// What a gram of it holds of what is aimed at, if that is known.
    pub fn amount_per_gram(&self, aim: &Aim) -> Option<f64> {
        let sum = amount(aim.of?, &self.per_gram);
        sum.amount.filter(|_| !sum.at_least)
    }

    pub fn put(&mut self, mass: Mass) {
        self.line.mass = mass;
        self.line.totals = self.per_gram.scaled(mass.grams());
        self.line.left = self.line.left.map(|_| (self.ready - mass).max(Mass::ZERO));
    }

    /// The same dish, or the same food.
    pub fn is_same(&self, other: &Self) -> bool {
        match (self.component, other.component) {
            (None, None) => self.says == other.says,
            (one, another) => one == another,
        }
    }

    /// With no more of it than that; nothing: not at all.
    pub fn within(self, most: Mass) -> Option<Self> {
        let most = Some(most).filter(|most| most.mg() > 0)?;
        Some(Self {
            most: Some(most),
            ..self
        })
    }

    /// The next pot of the dish, once this one is on the plate whole.
    pub fn next_pot(&self) -> Option<Self> {
        let mut behind = self.next.iter().cloned();
        let first = behind.next()?;
        let left = self.most.map(|most| most - self.line.mass);
        left.is_none_or(|left| left.mg() > 0).then(|| Self {
            most: left,
            next: behind.collect(),
            ..first
        })
    }

    pub fn is_used_up(&self) -> bool {
        self.line.mass.mg() > 0
            && self.line.mass.grams() >= f64::from(self.steps_max()) * STEP_GRAMS
    }

    pub fn steps_max(&self) -> u32 {
        let most = self.most.map_or(self.ready, |most| most.min(self.ready));
        (most.grams() / STEP_GRAMS).floor().max(0.0) as u32
    }
}

/// The pot that is drawn from first, of it what stands ready before what is frozen, and behind it the others.
fn of_batch(draft: &Draft, batches: &[BatchId]) -> Candidate {
    let kitchen = &draft.kitchen;
    let mut pots: Vec<(BatchId, bool)> = Vec::new();
    for (id, lot) in kitchen.in_turn(batches) {
        let pot = (id, kitchen.is_frozen(lot));
        if lot.balance.mg() > 0 && !pots.contains(&pot) {
            pots.push(pot);
        }
    }
    let all = pots.into_iter().map(|(id, frozen)| pot(draft, id, frozen));
    let mut all = all.filter(|pot| pot.steps_max() > 0);
    let first = all.next().unwrap_or_else(|| pot(draft, batches[0], false));
    Candidate {
        next: all.collect(),
        ..first
    }
}

fn pot(draft: &Draft, id: BatchId, frozen: bool) -> Candidate {
    let kitchen = &draft.kitchen;
    let batch = kitchen.batch(id);
    let of_it = batch
        .lots
        .iter()
        .filter(|lot| kitchen.is_frozen(lot) == frozen);
    let ready = of_it.clone().map(|lot| lot.balance).sum();
    let use_by = of_it
        .filter_map(|lot| kitchen.use_by(batch, lot))
        .map(|due| due.on)
        .min();
    let grams = Mass::from_mg(1000);
    Candidate {
        says: batch.code.clone(),
        ready,
        usual_grams: usual(draft, batch.component),
        per_gram: Composition::new(kitchen).portion(id, grams),
        component: Some(batch.component),
        most: None,
        next: Vec::new(),
        line: FoundLine {
            name: batch.name.clone(),
            batch: Some(batch.code.clone()),
            food: None,
            packet: None,
            mass: Mass::ZERO,
            told: false,
            left: Some(ready),
            use_by,
            frozen,
            estimated: batch.estimated(),
            totals: Totals::default(),
        },
    }
}

fn plain(name: String, per_100g: &foods::Profile) -> Candidate {
    Candidate {
        says: name.clone(),
        ready: PLAIN_MAX,
        usual_grams: USUAL_FOOD_GRAMS,
        per_gram: Totals::of(per_100g, Mass::from_mg(1000)),
        component: None,
        most: None,
        next: Vec::new(),
        line: FoundLine {
            name,
            batch: None,
            food: None,
            packet: None,
            mass: Mass::ZERO,
            told: false,
            left: None,
            use_by: None,
            frozen: false,
            estimated: false,
            totals: Totals::default(),
        },
    }
}

fn of_food(code: Code) -> Candidate {
    let food = foods::table()
        .get(code)
        .expect("a resolved code is in the table");
    let mut candidate = plain(food.description.to_string(), &food.per_100g);
    candidate.says = code.to_string();
    candidate.line.food = Some(code);
    candidate
}

fn of_packet(kitchen: &Kitchen, profile: ProfileId) -> Candidate {
    let profile = &kitchen.profiles[&profile];
    let mut candidate = plain(profile.description.clone(), &profile.per_100g);
    candidate.line.packet = profile.packet.clone();
    candidate
}

/// What one usually takes of a dish oneself, or else what is usual here.
fn usual(draft: &Draft, dish: ComponentId) -> f64 {
    let kitchen = &draft.kitchen;
    let own = kitchen.own_portion(dish, draft.input.sender);
    let usual = own
        .or_else(|| kitchen.usual_portion(dish))
        .filter(|mass| mass.grams() >= STEP_GRAMS);
    usual.map_or(USUAL_DISH_GRAMS, Mass::grams)
}

/// All dishes that stand ready and are not past their date, what is due first before the others.
pub fn ready<'a>(draft: &Draft, known: impl Iterator<Item = &'a Candidate>) -> Vec<Candidate> {
    let kitchen = &draft.kitchen;
    let today = draft.today();
    let taken: Vec<ComponentId> = known.filter_map(|candidate| candidate.component).collect();
    let mut dishes: Vec<ComponentId> = kitchen
        .open_batches()
        .map(|batch| batch.component)
        .collect();
    dishes.sort();
    dishes.dedup();
    dishes.retain(|dish| !taken.contains(dish));
    let found = dishes.into_iter().filter_map(|dish| {
        let of_it = kitchen
            .open_batches()
            .filter(|batch| batch.component == dish);
        let good = of_it.filter(|batch| {
            let stands = |lot: &&Lot| lot.balance.mg() > 0 && !kitchen.is_frozen(lot);
            let past = |lot| kitchen.use_by(batch, lot).is_some_and(|due| due.on < today);
            let mut standing = batch.lots.iter().filter(stands).peekable();
            standing.peek().is_some() && !standing.any(past)
        });
        let batches = draft.in_order(good.map(|batch| batch.id).collect());
        let mut first = (!batches.is_empty()).then(|| of_batch(draft, &batches))?;
        first.next.retain(|pot| !pot.line.frozen);
        Some(first)
    });
    let mut found: Vec<Candidate> = found
        .filter(|candidate| candidate.steps_max() > 0)
        .collect();
    found.sort_by_key(|candidate| candidate.line.use_by.unwrap_or(NaiveDate::MAX));
    found
}
