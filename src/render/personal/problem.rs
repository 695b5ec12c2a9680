//! Targets that cannot be.

use crate::domain::personal::problem::{PersonalProblem, ToDelete};
use crate::domain::personal::target::most;
use crate::lang::syntax::Aimed;

use super::super::clean::name;
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
        PersonalProblem::TargetOfAnother { name: whose } => {
            let whose = name(whose);
            Wording::new(format!(
                "Targets are for each to choose: {whose}'s are for {whose} alone."
            ))
        }
        PersonalProblem::NoTarget { of: None } => Wording::new("You have no targets."),
        PersonalProblem::NoTarget { of: Some(of) } => {
            let of: Aimed = *of;
            Wording::new(format!("You have no target for {}.", of.name()))
        }
        PersonalProblem::ForGood(ToDelete::Asker) => Wording::new(
            "This deletes what you wrote, chose and are called here, and nothing brings it back. What you ate stays in \
             the books of the stock, as someone's who left.",
        ),
        PersonalProblem::ForGood(ToDelete::Member { name: whose }) => {
            let whose = name(whose);
            Wording::new(format!(
                "This deletes what {whose} wrote, chose and is called here, and nothing brings it back. What {whose} \
                 ate stays in the books of the stock, as someone's who left."
            ))
        }
        PersonalProblem::ForGood(ToDelete::Household) => Wording::new(
            "This deletes the household with all its books, messages and people, and nothing brings it back.",
        ),
        PersonalProblem::DeleteWhat => Wording::new("Delete what?"),
        PersonalProblem::KeeperStays => {
            Wording::new("Whoever keeps this household hands that over first. Or all of it goes:")
                .example("delete this household")
        }
    }
}
