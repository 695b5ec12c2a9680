//! What to cook for the days to come.

use super::super::{Step, Stop};
use super::saying;
use crate::domain::clock::ahead;
use crate::domain::draft::Draft;
use crate::domain::prep::answer::{PlanAnswer, PrepAnswer};
use crate::domain::prep::horizon::{DAYS_MAX, Horizon, Planned, Why};
use crate::domain::prep::problem::PrepProblem;
use crate::domain::problem::ProblemKind;
use crate::lang::syntax::Ahead;

pub fn plan(draft: &mut Draft, until: Option<&Ahead>) -> Step {
    let planned = reckoned(draft, until)?;
    saying(PrepAnswer::Plan(Box::new(PlanAnswer {
        planned,
        today: draft.today(),
    })))
}

/// The plan until a day, or until the next prep day.
pub fn reckoned(draft: &Draft, until: Option<&Ahead>) -> Result<Planned, Stop> {
    let today = draft.today();
    let mut horizon = Horizon::of(&draft.kitchen, today);
    if let Some(until) = until {
        horizon.until = ahead::day(until, today).map_err(ProblemKind::Clock)?;
        horizon.why = Why::Told;
    }
    let days = horizon.days();
    if days.len() > DAYS_MAX {
        return Err(problem(PrepProblem::PlanTooLong { most: DAYS_MAX }));
    }
    if days.iter().all(|day| draft.kitchen.is_empty_on(*day)) {
        return Err(problem(PrepProblem::AllAway));
    }
    let planned = draft.kitchen.planned(horizon);
    match planned.dishes.is_empty() {
        true => Err(problem(PrepProblem::NothingKnown)),
        false => Ok(planned),
    }
}

fn problem(problem: PrepProblem) -> Stop {
    ProblemKind::Prep(problem).into()
}
