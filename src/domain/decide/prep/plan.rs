//! What to cook for the days to come.

use chrono::Days;

use super::super::{Step, Stop};
use super::kitchen::dish;
use super::saying;
use crate::domain::clock::ahead;
use crate::domain::draft::Draft;
use crate::domain::ids::ComponentId;
use crate::domain::prep::answer::PrepAnswer;
use crate::domain::prep::horizon::{self, DAYS_MAX, Horizon, Why};
use crate::domain::prep::planned::Planned;
use crate::domain::prep::problem::PrepProblem;
use crate::domain::problem::ProblemKind;
use crate::lang::syntax::{Ahead, Begins, PlanFor, Words};

pub fn plan(draft: &mut Draft, said: &PlanFor) -> Step {
    let planned = reckoned(draft, said)?;
    saying(PrepAnswer::Plan(Box::new(planned)))
}

/// The plan that was asked for: from today or from a day to come, until a day or until the next prep day.
pub fn reckoned(draft: &Draft, said: &PlanFor) -> Result<Planned, Stop> {
    let planned = draft.kitchen.planned(&asked(draft, said)?);
    match planned.dishes.is_empty() {
        true => Err(problem(PrepProblem::NothingKnown)),
        false => Ok(planned),
    }
}

fn asked(draft: &Draft, said: &PlanFor) -> Result<horizon::PlanFor, Stop> {
    let today = draft.today();
    if said.people == Some(0) {
        return Err(problem(PrepProblem::NobodyPlanned));
    }
    let dishes = said.dishes.iter().map(|name| Ok(dish(draft, name)?.0));
    let dishes: Result<Vec<ComponentId>, Stop> = dishes.collect();
    let dishes = dishes?;
    let begins = match &said.begins {
        None => today,
        Some(Begins::Day(day)) => ahead::day(day, today).map_err(ProblemKind::Clock)?,
        Some(Begins::PrepDay) => {
            let clock = draft.kitchen.settings().clock;
            clock.prep_day_from(today).unwrap_or(today)
        }
    };
    let mut horizon = Horizon::of(&draft.kitchen, begins);
    if let Some(until) = &said.until {
        horizon.until = match begins == today {
            true => ahead::day(until, today),
            false => ahead::day_after(until, begins, today),
        }
        .map_err(ProblemKind::Clock)?;
        // "until Wednesday", said on one, is a week.
        if matches!(until, Ahead::Weekday(_)) && horizon.until == begins {
            horizon.until = begins + Days::new(7);
        }
        horizon.why = Why::Told;
    }
    let days = horizon.days();
    if (horizon.until - today).num_days() >= DAYS_MAX as i64 {
        return Err(problem(PrepProblem::PlanTooLong { most: DAYS_MAX }));
    }
    let away = days.iter().all(|day| draft.kitchen.is_empty_on(*day));
    if away && said.people.is_none() {
        return Err(problem(PrepProblem::AllAway));
    }
    Ok(horizon::PlanFor {
        today,
        horizon,
        people: said.people,
        dishes,
    })
}

/// A plan is for days to come.
pub fn no_day(told: &Words, gone: bool) -> Step {
    let told = told.text.clone();
    Err(problem(PrepProblem::NoDay { told, gone }))
}

fn problem(problem: PrepProblem) -> Stop {
    ProblemKind::Prep(problem).into()
}
