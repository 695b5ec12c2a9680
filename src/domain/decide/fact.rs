//! What is in so much of something, whether it stands in the kitchen or not.

use super::super::answer::{About, Answer, FoodAnswer};
use super::super::composition::Composition;
use super::super::draft::Draft;
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::super::nutrients::Totals;
use super::super::problem::ProblemKind;
use super::super::quantity::{Meant, Measured, meant};
use super::super::resolve::{Resolved, Thing, Unresolved, Use, resolve_amount};
use super::{Done, Step, Stop, find};
use crate::foods::{self, Code, Nutrient};
use crate::lang::syntax::{Amount, Command, Words};

/// What is asked of a food.
pub struct Asked<'a> {
    /// One nutrient above the usual ones.
    pub nutrient: Option<Nutrient>,
    pub amount: Option<&'a Amount>,
    pub name: &'a Words,
    pub weight_only: bool,
}

pub fn fact(draft: &mut Draft, asked: &Asked) -> Step {
    let Asked {
        nutrient,
        amount,
        name,
        weight_only,
    } = *asked;
    let mut resolved = match resolve_amount(&draft.kitchen, amount, name, Use::Eaten, draft.today())
    {
        Ok(resolved) => resolved,
        // Nothing is booked by asking: a plain food of that name will do.
        Err(Unresolved::UsedUp {
            food: Some(food), ..
        }) => Resolved {
            thing: Thing::Food(food),
            from: None,
            assumptions: Vec::new(),
        },
        Err(unresolved) => return Err(which(asked, unresolved)),
    };
    let whole = Amount::Mass(100.0);
    let amount = amount.unwrap_or(&whole);
    let mass_of = |thing: &Thing| {
        let name = &name.text;
        meant(&draft.kitchen, amount, &Measured { thing, name })
    };
    let problem = |kind: ProblemKind| Stop::Problem(kind.at(name.span.clone()));
    let mut said = mass_of(&resolved.thing);
    if weight_only
        && matches!(said, Err(ProblemKind::UnknownMeasure { .. }))
        && let Some(food) = cooked_food(draft, &resolved.thing)
        && let Ok(found) = mass_of(&food)
    {
        said = Ok(found);
        resolved.thing = food;
    }
    let quantity = match said.map_err(problem)? {
        Meant::Quantity(quantity) => quantity,
        _ => {
            let name = name.text.clone();
            return Err(ProblemKind::MissingAmount { name }.into());
        }
    };
    // "250 curry" is 250 g of it.
    let weighed = match amount {
        Amount::Mass(_) => true,
        Amount::Bare(grams) => quantity.mass == Mass::from_grams(*grams).unwrap_or_default(),
        _ => false,
    };
    let mut answer = FoodAnswer {
        name: name.text.clone(),
        food: None,
        batch: None,
        packet: None,
        asked: (!weighed).then(|| amount.clone()),
        mass: quantity.mass,
        mass_estimated: quantity.estimated,
        batch_estimated: false,
        totals: Totals::default(),
        nutrient,
        weight_only,
        assumptions: [resolved.assumptions, quantity.assumptions].concat(),
    };
    match resolved.thing {
        Thing::Food(code) => {
            let food = foods::table()
                .get(code)
                .expect("a resolved code is in the table");
            answer.name = food.description.to_string();
            answer.food = Some(code);
            answer.totals = Totals::of(&food.per_100g, quantity.mass);
        }
        Thing::Packet(id) => {
            let profile = &draft.kitchen.profiles[&id];
            answer.name = profile.description.clone();
            answer.packet = profile.packet.clone();
            answer.totals = Totals::of(&profile.per_100g, quantity.mass);
        }
        Thing::Batches(batches) => {
            let batch = draft.kitchen.batch(batches[0]);
            answer.name = batch.name.clone();
            answer.batch = Some(batch.code.clone());
            answer.batch_estimated = batch.estimated();
            answer.totals = Composition::new(&draft.kitchen).portion(batch.id, quantity.mass);
        }
    }
    Ok(Done::saying(Answer::Food(answer)))
}

/// What the table calls a dish by its name, cooked: a cup of the household's rice weighs as any.
fn cooked_food(draft: &Draft, thing: &Thing) -> Option<Thing> {
    let Thing::Batches(batches) = thing else {
        return None;
    };
    let name = &draft.kitchen.batch(*batches.first()?).name;
    match foods::table().find(&format!("{name} cooked")) {
        foods::Found::Taken(food) => Some(Thing::Food(food.code)),
        _ => None,
    }
}

fn which(asked: &Asked, unresolved: Unresolved) -> Stop {
    let name = asked.name;
    let says = |name: String| {
        Command::Fact {
            nutrient: asked.nutrient,
            amount: asked.amount.cloned(),
            name: Words::plain(name),
            weight_only: asked.weight_only,
        }
        .to_string()
    };
    let of_food = |code: &Code| {
        let food = foods::table().get(*code)?;
        Some(Choice {
            label: food.description.to_string(),
            says: says(code.to_string()),
        })
    };
    let problem = unresolved.clone().problem(&name.text);
    let options: Vec<Choice> = match &unresolved {
        Unresolved::WhichFood(codes) => codes.iter().filter_map(of_food).collect(),
        Unresolved::Unknown { near, .. } => near.iter().filter_map(of_food).collect(),
        Unresolved::WhichBatch { food, .. } | Unresolved::UsedUp { food, .. } => {
            food.iter().filter_map(of_food).collect()
        }
    };
    if options.is_empty() {
        return Stop::Problem(problem.at(name.span.clone()));
    }
    find::ask(About::WhichFood, &name.text, Some(problem), options)
}
