//! Timers and reminders: set, listed, cancelled, put off.

mod away;
mod later;
mod setting;
mod timer;

pub use later::press;
pub use setting::choices;

use super::super::clock::problem::ClockProblem;
use super::super::draft::Draft;
use super::super::problem::ProblemKind;
use super::{Done, Step};
use crate::lang::syntax::Clock;

pub fn carry_out(draft: &mut Draft, told: &Clock) -> Step {
    match told {
        Clock::Timer { lasting, words } => timer::set(draft, *lasting, &words.text),
        Clock::Remind { at, words } => timer::remind(draft, at, &words.text),
        Clock::Away { who, from, until } => away::away(draft, who, from, until.as_ref()),
        Clock::Back { who, on } => away::back(draft, who, on),
        Clock::Absences => Ok(Done::saying(away::absences(draft))),
        Clock::Never(told, what) => {
            let told = told.text.clone();
            Err(ProblemKind::Clock(ClockProblem::impossible(told, *what)).into())
        }
        Clock::Pending { notes } => Ok(Done::saying(timer::pending(draft, *notes))),
        Clock::Cancel(which) => timer::cancel(draft, which),
        Clock::More { lasting, which } => later::more(draft, *lasting, which),
        Clock::Later { until, which } => later::later(draft, until, which),
    }
}
