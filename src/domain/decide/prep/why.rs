//! How a plan comes to so much of a dish, or of what goes into one.

use super::super::{Decision, Draft, Input, OnProblem, Step, Stop, carry_out as decided};
use super::kitchen::dish;
use super::{plan, saying};
use crate::domain::cookbook::RecipeLine;
use crate::domain::kitchen::Kitchen;
use crate::domain::mass::Mass;
use crate::domain::named::contains_all;
use crate::domain::prep::answer::{PrepAnswer, WhyAnswer, WhyOf};
use crate::domain::prep::horizon::{Horizon, PlanFor, Why};
use crate::domain::prep::planned::{Cooking, DishPlan, Planned};
use crate::domain::prep::problem::PrepProblem;
use crate::domain::problem::ProblemKind;
use crate::domain::resolve::key;
use crate::lang::Parsed;
use crate::lang::syntax::{Command, Prep, Words};

/// "why 900 rice?" right after a plan that holds it. Said among people of anything else, it is theirs.
pub fn why_planned(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let asks = parsed.readings.iter().find_map(|reading| {
        let [said @ Command::Prep(Prep::Why { dish, .. })] = reading.commands.as_slice() else {
            return None;
        };
        Some((said, dish))
    });
    let (said, name) = asks?;
    let plan = input.spoken_plan()?;
    let own = |dish: &String| contains_all(&key(dish), &key(&name.text));
    let draft = Draft::new(kitchen, input);
    let of_plan = plan.dishes.iter().any(own) || input.addressed;
    of_plan.then(|| decided(draft, std::slice::from_ref(said), OnProblem::Forget))
}

/// "what should we cook on sunday?" right after a plan: it is asked of that. At any other time people ask each other.
pub fn asked_again(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    input.spoken_plan()?;
    let asked = parsed.readings.iter().find(|reading| {
        let plan = matches!(
            reading.commands.as_slice(),
            [Command::Prep(Prep::Plan(_) | Prep::NoDay { .. })]
        );
        plan && reading.errors.is_empty()
    })?;
    let draft = Draft::new(kitchen, input);
    Some(decided(draft, &asked.commands, OnProblem::Forget))
}

pub fn why(draft: &mut Draft, name: &Words, grams: Option<f64>) -> Step {
    let planned = spoken_of(draft)?;
    let of = found(draft, &planned, name)?;
    saying(PrepAnswer::Why(Box::new(WhyAnswer {
        horizon: planned.horizon,
        eaters: planned.eaters.clone(),
        pots_a_day: planned.pots_a_day,
        asked: grams.and_then(Mass::weighed_out),
        of,
        today: draft.today(),
    })))
}

/// The plan that was told last, by the books of now; or else the usual one.
fn spoken_of(draft: &Draft) -> Result<Planned, Stop> {
    let today = draft.today();
    let usual = crate::lang::syntax::PlanFor::default();
    let Some(told) = draft.input.spoken_plan().filter(|told| told.until >= today) else {
        return plan::reckoned(draft, &usual);
    };
    let mut horizon = Horizon::of(&draft.kitchen, told.from.max(today));
    if told.told {
        horizon.until = told.until;
        horizon.why = Why::Told;
    }
    let dishes = told.only.iter();
    let planned = draft.kitchen.planned(&PlanFor {
        today,
        horizon,
        people: told.people,
        dishes: dishes
            .flat_map(|name| draft.kitchen.dishes_named(name))
            .collect(),
    });
    match planned.dishes.is_empty() {
        true => plan::reckoned(draft, &usual),
        false => Ok(planned),
    }
}

/// A dish of the plan, or something that goes into one.
fn found(draft: &Draft, planned: &Planned, name: &Words) -> Result<WhyOf, Stop> {
    let wanted = key(&name.text);
    let dishes = planned.dishes.iter();
    let whole = dishes.clone().find(|plan| key(&plan.name) == wanted);
    let part = || {
        dishes
            .clone()
            .find(|plan| contains_all(&key(&plan.name), &wanted))
    };
    if let Some(plan) = whole.or_else(part) {
        return Ok(WhyOf::Dish(Box::new(plan.clone())));
    }
    if let Some((plan, cooking, line)) = ingredient(planned, &wanted) {
        return Ok(WhyOf::GoesIn {
            name: line.name.clone(),
            mass: line.mass,
            dish: plan.name.clone(),
            cooked: cooking.mass,
            code: cooking
                .recipe
                .as_ref()
                .map_or_else(String::new, |recipe| recipe.code.clone()),
        });
    }
    let (_, name) = dish(draft, name)?;
    let planned = dishes.map(|plan| plan.name.clone()).collect();
    Err(ProblemKind::Prep(PrepProblem::NotPlanned { name, planned }).into())
}

fn ingredient<'a>(
    planned: &'a Planned,
    wanted: &str,
) -> Option<(&'a DishPlan, &'a Cooking, &'a RecipeLine)> {
    let cooked = planned
        .dishes
        .iter()
        .flat_map(|plan| plan.cook.iter().map(move |cooking| (plan, cooking)));
    let lines = cooked.flat_map(|(plan, cooking)| {
        let recipe = cooking.recipe.iter();
        let lines = recipe.flat_map(|recipe| &recipe.lines);
        lines.map(move |line| (plan, cooking, line))
    });
    let mut fits = lines.filter(|(_, _, line)| contains_all(&key(&line.name), wanted));
    fits.next()
}
