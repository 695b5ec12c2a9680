//! Timers and reminders: set, listed, cancelled, put off.

mod away;
mod setting;
mod timer;

pub use setting::choice;
pub use timer::press;

use super::super::clock::problem::ClockProblem;
use super::super::draft::Draft;
use super::super::problem::ProblemKind;
use super::{Done, Step};
use crate::lang::syntax::Clock;

pub fn carry_out(draft: &mut Draft, told: &Clock) -> Step {
    match told {
        Clock::Timer { lasting, words } => timer::set(draft, *lasting, &words.text),
        Clock::Remind { at, words } => timer::remind(draft, at, &words.text),
        Clock::Away { who, from, until } => away::away(draft, who, from, until),
        Clock::Back { who, on } => away::back(draft, who, on),
        Clock::Absences => Ok(Done::saying(away::absences(draft))),
        Clock::Never(told) => {
            let told = told.text.clone();
            Err(ProblemKind::Clock(ClockProblem::ImpossibleTime { told }).into())
        }
        Clock::Pending => Ok(Done::saying(timer::pending(draft))),
        Clock::Cancel(which) => timer::cancel(draft, which),
        Clock::More { lasting, which } => timer::more(draft, *lasting, which),
    }
}
