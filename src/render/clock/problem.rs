//! Times that cannot be, and timers that are not there.

use crate::domain::clock::problem::ClockProblem;

use super::super::clean::quote;
use super::super::problem::Wording;

pub fn problem(problem: &ClockProblem) -> Wording {
    match problem {
        ClockProblem::ImpossibleTime { told } => {
            Wording::new(format!("{} is no time to wait for.", quote(told)))
                .lead("For example:")
                .example("timer 35 min dal")
                .example("remind me Sunday at 18:00: soak the beans")
        }
        ClockProblem::TimeGone { told } => Wording::new(format!("{} has gone by.", quote(told)))
            .example("remind me tomorrow at 08:00am: soak the beans"),
        ClockProblem::NoTime => {
            Wording::new("At what time?").example("remind me at 18:00: soak the beans")
        }
        ClockProblem::NoSuchTimer { told } => Wording::new(match told {
            None => "No timer waits.".to_owned(),
            Some(told) => format!("No timer {} waits.", quote(told)),
        })
        .lead("What waits:")
        .example("timers"),
        ClockProblem::NotAway => {
            Wording::new("Nobody is away then.").example("away Thursday to Saturday")
        }
        ClockProblem::TooManyTimers { most } => {
            Wording::new(format!("{most} of yours wait already."))
                .lead("Cancel one first:")
                .example("cancel timer 1")
        }
    }
}
