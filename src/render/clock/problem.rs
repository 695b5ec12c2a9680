//! Times that cannot be, and timers that are not there.

use crate::domain::clock::problem::ClockProblem;
use crate::lang::syntax::Impossible;

use super::super::clean::quote;
use super::super::problem::Wording;

pub fn problem(problem: &ClockProblem) -> Wording {
    match problem {
        ClockProblem::ImpossibleTime { told, what } => {
            let told = quote(told);
            match what {
                Impossible::Span => Wording::new(format!("{told} is no time to wait."))
                    .lead("From 1 second to 7 days:")
                    .example("timer 35 min dal"),
                Impossible::Hour => Wording::new(format!("{told} is no time of day."))
                    .lead("For example:")
                    .example("remind me Sunday at 18:00: soak the beans"),
                Impossible::Day | Impossible::Gone | Impossible::Often => {
                    Wording::new(format!("{told} is no day of the year to come."))
                        .lead("For example:")
                        .example("remind me Sunday at 18:00: soak the beans")
                        .example("away Thursday to Saturday")
                }
            }
        }
        ClockProblem::TimeGone { told } => Wording::new(format!("{} has gone by.", quote(told)))
            .lead("What is to come:")
            .example("remind me tomorrow at 8:00: soak the beans")
            .example("away Thursday to Saturday"),
        ClockProblem::RingsOnce { told } => Wording::new(format!(
            "A reminder rings once, and not {}. What comes by itself is a prep day and its notes.",
            quote(told)
        ))
        .lead("For example:")
        .example("remind me Sunday at 18:00: soak the beans")
        .example("prep day Sunday 10am"),
        ClockProblem::WrongOrder { from, until } => {
            Wording::new(format!("{} comes before {from}.", quote(until)))
                .lead("The first day goes first:")
                .example("away Thursday to Saturday")
        }
        ClockProblem::NoQuiet => Wording::new("Quiet hours begin and end at different times.")
            .example("quiet hours 22:00 to 7:00")
            .example("no quiet hours"),
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
