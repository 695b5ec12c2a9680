//! What is told ahead of cooking.

mod goods;
mod kitchen;
mod plan;
mod shop;
mod steps;
mod why;
mod wish;

pub use goods::priced;
pub use shop::{hanging, listed, run_low, tick};
pub use steps::keep as keep_steps;
pub use why::{asked_again, why_planned};

use super::{Done, Step};
use crate::domain::answer::Answer;
use crate::domain::draft::Draft;
use crate::domain::prep::answer::PrepAnswer;
use crate::lang::syntax::Prep;

pub fn carry_out(draft: &mut Draft, said: &Prep) -> Step {
    match said {
        Prep::Good { name, told } => goods::tell(draft, name, told),
        Prep::Stocked(names) => goods::stocked(draft, names),
        Prep::Par { dish, grams } => kitchen::par(draft, dish, *grams),
        Prep::PotHolds { dish, grams } => kitchen::pot_holds(draft, dish.as_ref(), *grams),
        Prep::Limit { what, count } => kitchen::limit(draft, *what, *count),
        Prep::Shop(said) => shop::carry_out(draft, said),
        Prep::Wish(said) => wish::carry_out(draft, said),
        Prep::Plan(asked) => plan::plan(draft, asked),
        Prep::NoDay { told, gone } => plan::no_day(told, *gone),
        Prep::Why { dish, grams } => why::why(draft, dish, *grams),
        Prep::Steps { dish, steps } => steps::tell(draft, dish, steps),
        Prep::StepLasts {
            dish,
            verb,
            minutes,
        } => steps::lasts(draft, dish, verb, *minutes),
        Prep::Sheet { dishes, at } => steps::order(draft, dishes, at.as_ref()),
    }
}

fn saying(answer: PrepAnswer) -> Step {
    Ok(Done::saying(Answer::Prep(Box::new(answer))))
}
