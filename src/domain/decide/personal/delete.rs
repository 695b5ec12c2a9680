//! "delete me", "delete Tom", "delete this household": asked about first, whoever says it, and done when that is confirmed.
//! People delete themselves; whoever keeps the household deletes others, and the household.

use super::super::super::answer::About;
use super::super::super::draft::Draft;
use super::super::super::kitchen::{Choice, Kitchen};
use super::super::super::personal::answer::PersonalAnswer;
use super::super::super::personal::problem::{PersonalProblem, ToDelete};
use super::super::super::problem::ProblemKind;
use super::super::people::{Person, person};
use super::super::table::keeper_only;
use super::super::{Decision, Deletes, Input, OnProblem, Step, Stop, carry_out, find, silence};
use super::saying;
use crate::lang::Parsed;
use crate::lang::syntax::{Command, Deleted, Personal};

/// Said to the bot, before anything that is in hand might be meant by it.
pub fn told(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let commands = &parsed.best().commands;
    let [Command::Personal(Personal::Delete { whom, .. })] = commands.as_slice() else {
        return None;
    };
    if (input.addressed || parsed.best().sure) && !input.forwarded {
        let draft = Draft::new(kitchen, input);
        return Some(carry_out(draft, commands, OnProblem::Forget));
    }
    // Among people it is said of anything, but not of what was just booked.
    let plate = matches!(whom, Deleted::Person(_));
    (!plate).then(|| silence(input))
}

pub fn delete(draft: &mut Draft, whom: &Deleted, for_good: bool) -> Step {
    let sender = draft.input.sender;
    let (deletes, what) = match whom {
        Deleted::Unsaid => return Err(whose(draft)),
        Deleted::Me => (Deletes::Member(sender), ToDelete::Asker),
        Deleted::Household => (Deletes::Household, ToDelete::Household),
        Deleted::Person(who) => match person(draft, &who.text) {
            Person::Member(id) if id == sender => (Deletes::Member(id), ToDelete::Asker),
            Person::Member(id) => {
                let name = draft.kitchen.member(id).map(|member| member.name.clone());
                let name = name.unwrap_or_default();
                (Deletes::Member(id), ToDelete::Member { name })
            }
            Person::Several(_) => {
                let name = who.text.clone();
                return Err(ProblemKind::SeveralCalled { name }.into());
            }
            Person::Guest(_) | Person::Unknown => {
                let words = who.text.clone();
                let near = Vec::new();
                return Err(ProblemKind::UnknownName { words, near }.into());
            }
        },
    };
    if deletes != Deletes::Member(sender) {
        keeper_only(draft)?;
    }
    if let Deletes::Member(id) = deletes
        && draft.somebody(id).keeper
    {
        return Err(problem(PersonalProblem::KeeperStays));
    }
    if for_good && draft.input.confirmed {
        draft.deletes = Some(deletes);
        return Ok(saying(PersonalAnswer::Deleted(what)));
    }
    let (whom, for_good) = (whom.clone(), true);
    let options = vec![Choice {
        label: "delete for good".to_owned(),
        says: Command::Personal(Personal::Delete { whom, for_good }).to_string(),
    }];
    let words = draft.input.text.trim().to_owned();
    let asked = ProblemKind::Personal(PersonalProblem::ForGood(what));
    Err(find::ask(About::Confirm, &words, Some(asked), options))
}

/// "delete everything": what is one's own, or all of it. Either is asked about once more.
fn whose(draft: &Draft) -> Stop {
    let option = |label: &str, whom: Deleted| Choice {
        label: label.to_owned(),
        says: Command::Personal(Personal::Delete {
            whom,
            for_good: false,
        })
        .to_string(),
    };
    let options = vec![
        option("what is yours", Deleted::Me),
        option("the household, with all its books", Deleted::Household),
    ];
    let words = draft.input.text.trim().to_owned();
    let asked = ProblemKind::Personal(PersonalProblem::DeleteWhat);
    find::ask(About::Confirm, &words, Some(asked), options)
}

fn problem(problem: PersonalProblem) -> Stop {
    ProblemKind::Personal(problem).into()
}
