//! What is told ahead of cooking.

mod goods;
mod kitchen;
mod plan;
mod shop;
mod steps;
mod wish;

pub use shop::tick;

use super::{Done, Step};
use crate::domain::answer::Answer;
use crate::domain::draft::Draft;
use crate::domain::prep::answer::PrepAnswer;
use crate::lang::syntax::Prep;

pub fn carry_out(draft: &mut Draft, said: &Prep) -> Step {
    match said {
        Prep::Good { name, told } => goods::tell(draft, name, told),
        Prep::Par { dish, grams } => kitchen::par(draft, dish, *grams),
        Prep::PotHolds { dish, grams } => kitchen::pot_holds(draft, dish.as_ref(), *grams),
        Prep::Limit { what, count } => kitchen::limit(draft, *what, *count),
        Prep::Shop(said) => shop::carry_out(draft, said),
        Prep::Wish(said) => wish::carry_out(draft, said),
        Prep::Plan { until } => plan::plan(draft, until.as_ref()),
        Prep::Steps { dish, steps } => steps::tell(draft, dish, steps),
        Prep::Sheet { dishes, at } => steps::order(draft, dishes, at.as_ref()),
    }
}

fn saying(answer: PrepAnswer) -> Step {
    Ok(Done::saying(Answer::Prep(Box::new(answer))))
}
