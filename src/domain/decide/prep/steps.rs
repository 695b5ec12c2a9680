//! The steps of a dish, and the sheet that puts those of several in order.

use chrono::Duration;

use super::super::{Step, Stop};
use super::kitchen::dish;
use super::saying;
use crate::domain::change::Detail;
use crate::domain::clock::ahead;
use crate::domain::draft::Draft;
use crate::domain::ids::ComponentId;
use crate::domain::prep::answer::PrepAnswer;
use crate::domain::prep::books::{Limit, PrepDetail};
use crate::domain::prep::horizon::Horizon;
use crate::domain::prep::problem::PrepProblem;
use crate::domain::prep::sheet::{BURNERS, DishStep, DishSteps, TRAYS, sheet};
use crate::domain::prep::work::{self, Stove};
use crate::domain::problem::ProblemKind;
use crate::lang::syntax::{self, At, Words};

pub fn tell(draft: &mut Draft, name: &Words, told: &[syntax::Step]) -> Step {
    let (dish, _) = dish(draft, name)?;
    saying(keep(draft, dish, told)?)
}

/// From here on these are its steps.
pub fn keep(
    draft: &mut Draft,
    dish: ComponentId,
    told: &[syntax::Step],
) -> Result<PrepAnswer, Stop> {
    let mut steps = Vec::new();
    for step in told {
        if step.minutes == 0 {
            let words = step.words.clone();
            return Err(problem(PrepProblem::StepWithoutTime { words }));
        }
        steps.push(DishStep {
            words: step.words.clone(),
            step: work::Step {
                minutes: step.minutes,
                uses: step.uses,
            },
        });
    }
    let kept = steps.clone();
    draft.fact(Detail::Prep(PrepDetail::Steps { dish, steps }));
    Ok(PrepAnswer::Steps {
        dish: draft.kitchen.dish_name(dish),
        steps: kept,
        message: draft.credit,
    })
}

/// One of its steps takes so long: the one that is done so.
pub fn lasts(draft: &mut Draft, name: &Words, verb: &Words, minutes: u32) -> Step {
    let (dish, name) = dish(draft, name)?;
    let mut steps = draft.kitchen.prep.steps(dish);
    let stem = stem(&verb.text);
    let does = |step: &&mut DishStep| {
        let words = step.words.split(' ');
        words.into_iter().any(|word| self::stem(word) == stem)
    };
    let Some(step) = steps.iter_mut().find(does) else {
        let verb = verb.text.clone();
        return Err(problem(PrepProblem::NoStep { dish: name, verb }));
    };
    step.step.minutes = minutes;
    let kept = steps.clone();
    draft.fact(Detail::Prep(PrepDetail::Steps { dish, steps }));
    saying(PrepAnswer::Steps {
        dish: name,
        steps: kept,
        message: draft.credit,
    })
}

/// "simmers", "simmering": "simmer"
fn stem(word: &str) -> String {
    let word = word.to_lowercase();
    let bare = word.strip_suffix("ing").or_else(|| word.strip_suffix('s'));
    bare.unwrap_or(&word).trim_end_matches('e').to_owned()
}

pub fn order(draft: &mut Draft, names: &[Words], at: Option<&At>) -> Step {
    let zone = draft.kitchen.settings().zone;
    let now = draft.occurred_at.with_timezone(&zone).naive_local();
    let asked = at.map(|at| ahead::wall(at, zone, draft.occurred_at));
    let asked = asked.transpose().map_err(ProblemKind::Clock)?;
    let dishes = match names {
        [] => planned(draft),
        names => {
            let found = names.iter().map(|name| dish(draft, name));
            let found: Result<Vec<(ComponentId, String)>, Stop> = found.collect();
            found?
        }
    };
    let books = &draft.kitchen.prep;
    let mut with = Vec::new();
    let mut without = Vec::new();
    for (dish, name) in dishes {
        let steps = books.steps(dish);
        match steps.is_empty() {
            true => without.push(name),
            false => with.push(DishSteps { dish: name, steps }),
        }
    }
    if with.is_empty() {
        return Err(problem(PrepProblem::NoSteps { dishes: without }));
    }
    let stove = Stove {
        hands: 1,
        burners: books.limit(Limit::Burners).unwrap_or(BURNERS),
        trays: books.limit(Limit::Trays).unwrap_or(TRAYS),
    };
    let quiet = draft.kitchen.settings().clock.quiet;
    let by = |asked| sheet(&with, without.clone(), stove, (asked, now), quiet);
    let soonest = by(asked);
    // "by 11" that cannot be met tonight is the next eleven that can.
    let either = at.is_some_and(|at| at.day.is_none() && at.hour.is_some_and(|hour| hour.either));
    let halves = [12, 24].map(|hours| asked.map(|asked| asked + Duration::hours(hours)));
    let later = halves
        .into_iter()
        .filter(|_| either && soonest.asked.is_some());
    let mut met = later.map(by).filter(|sheet| sheet.asked.is_none());
    saying(PrepAnswer::Sheet(met.next().unwrap_or(soonest)))
}

/// What the plan cooks today; where none of that has steps, all that has some.
fn planned(draft: &Draft) -> Vec<(ComponentId, String)> {
    let today = draft.today();
    let plan = draft
        .kitchen
        .planned(&Horizon::of(&draft.kitchen, today).into());
    let cooked = plan.dishes.into_iter().filter(|dish| {
        let mut cook = dish.cook.iter();
        cook.any(|cooking| cooking.on == today)
    });
    let cooked: Vec<(ComponentId, String)> = cooked.map(|dish| (dish.dish, dish.name)).collect();
    let has_steps = |(dish, _): &(ComponentId, String)| !draft.kitchen.prep.steps(*dish).is_empty();
    if cooked.iter().any(has_steps) {
        return cooked;
    }
    let components = draft.kitchen.components.iter().map(|known| known.id);
    let with_steps = components.filter(|dish| !draft.kitchen.prep.steps(*dish).is_empty());
    with_steps
        .map(|dish| (dish, draft.kitchen.dish_name(dish)))
        .collect()
}

fn problem(problem: PrepProblem) -> Stop {
    ProblemKind::Prep(problem).into()
}
