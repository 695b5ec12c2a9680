//! Targets that cannot be.

use crate::domain::personal::problem::PersonalProblem;
use crate::domain::personal::target::most;
use crate::lang::syntax::Aimed;

use super::super::problem::Wording;
use super::{bounds, counted};

pub fn problem(problem: &PersonalProblem) -> Wording {
    match problem {
        PersonalProblem::ImpossibleTarget(target) => {
            let words = format!(
                "{} is no target for a day: it has to be more than 0 and at most {}.",
                bounds(target),
                counted(target.of, most(target.of))
            );
            Wording::new(words)
                .lead("For example:")
                .example("target 2200 kcal, 130 g protein")
                .booking()
        }
        PersonalProblem::TargetOfWhat { figure } => Wording::new("A target of what?")
            .lead("For example:")
            .example(format!("target {figure} g protein")),
        PersonalProblem::NoTarget { of: None } => Wording::new("You have no targets."),
        PersonalProblem::NoTarget { of: Some(of) } => {
            let of: Aimed = *of;
            Wording::new(format!("You have no target for {}.", of.name()))
        }
    }
}
