//! What people choose for themselves, and ask of what they ate.

pub mod delete;
pub mod discreet;
mod target;
mod week;

use super::super::answer::Answer;
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::personal::PersonalFact;
use super::super::personal::answer::PersonalAnswer;
use super::{Done, Step};
use crate::lang::syntax::Personal;

pub fn carry_out(draft: &mut Draft, said: &Personal) -> Step {
    match said {
        Personal::Target(aims) => target::set(draft, aims),
        Personal::NoTarget(of) => target::drop(draft, of),
        Personal::Targets => Ok(target::shown(draft)),
        Personal::TargetsOf(who) => target::of_another(draft, who),
        Personal::Left(of) => Ok(target::left(draft, of)),
        Personal::Week { days, who } => week::week(draft, *days, who.as_ref()),
        Personal::Sources { of, over } => week::sources(draft, *of, over),
        Personal::Numbers(told) => {
            let (told, message) = (*told, draft.credit);
            Ok(chosen(
                draft,
                PersonalFact::Numbers(told),
                PersonalAnswer::Numbers { told, message },
            ))
        }
        Personal::Totals { private } => {
            let (private, message) = (*private, draft.credit);
            Ok(chosen(
                draft,
                PersonalFact::Private(private),
                PersonalAnswer::Totals { private, message },
            ))
        }
        Personal::Delete { whom, for_good } => delete::delete(draft, whom, *for_good),
    }
}

fn chosen(draft: &mut Draft, fact: PersonalFact, answer: PersonalAnswer) -> Done {
    tell(draft, fact);
    saying(answer)
}

/// A fact about the sender.
fn tell(draft: &mut Draft, fact: PersonalFact) {
    let member = draft.input.sender;
    draft.fact(Detail::Personal { member, fact });
}

fn saying(answer: PersonalAnswer) -> Done {
    Done::saying(Answer::Personal(Box::new(answer)))
}
