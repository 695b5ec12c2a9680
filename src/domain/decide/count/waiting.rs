//! A count that is asked about, and what is drawn of the dish before it is answered: how much there is comes first.

use super::super::super::draft::Draft;
use super::super::super::ids::*;
use super::super::super::kitchen::{Choice, OpenQuestion};
use super::super::super::mass::Mass;
use super::super::draw::TooMuch;
use super::super::{Stop, find, question, weigh};
use super::{Counted, count};
use crate::lang::syntax::{Command, Rest, Weighed};

/// A count that its question would book, if it was right.
struct Waiting {
    question: QuestionId,
    items: Vec<Weighed>,
    rest: Option<Rest>,
}

/// What is drawn of a dish while a count of it waits for an answer: more than was counted, or a share (`None`) of
/// nobody knows how much. The count is asked about again, and `says` is done with whatever is answered.
pub fn first(draft: &Draft, dish: BatchId, drawn: Option<Mass>, says: &Command) -> Option<Stop> {
    let counted = |item: &Weighed| of_dish(draft, item, dish);
    let waiting = all(draft).find(|waiting| waiting.items.iter().any(counted))?;
    let item = waiting.items.iter().find(|item| counted(item))?;
    let net = weigh::net(draft, &item.weighing).ok()?.net();
    if drawn.is_some_and(|drawn| drawn <= net) {
        return None;
    }
    let asked = count(&mut draft.clone(), &waiting.items, waiting.rest, false);
    let Err(Stop::Ask(mut asking)) = asked else {
        return None;
    };
    for option in &mut asking.options {
        option.says = format!("{}\n{says}", option.says);
    }
    let vocabulary = draft.kitchen.vocabulary();
    let goes_on = |option: &Choice| {
        let read = question::read(&option.says, &vocabulary);
        option.is_offered() && read.is_ok_and(|commands| commands.last() == Some(says))
    };
    asking.options.retain(goes_on);
    Some(Stop::Ask(asking))
}

/// The questions that these counts answer, whoever was asked.
pub(super) fn answered(draft: &Draft, counted: &[Counted]) -> Vec<QuestionId> {
    let here = |item: &Weighed| {
        let mut counted = counted.iter();
        counted.any(|one| of_dish(draft, item, one.batch))
    };
    let done = |waiting: &Waiting| waiting.items.iter().all(here);
    let waiting = all(draft).filter(done);
    waiting.map(|waiting| waiting.question).collect()
}

fn of_dish(draft: &Draft, item: &Weighed, dish: BatchId) -> bool {
    find::batches(draft, &item.name).is_ok_and(|found| found.first() == Some(&dish))
}

/// The newest first.
fn all<'a>(draft: &'a Draft) -> impl Iterator<Item = Waiting> + 'a {
    let waits = |open: &&OpenQuestion| {
        open.about == TooMuch::ABOUT.word() && open.expires_at >= draft.input.now
    };
    let open = draft.kitchen.questions.iter().rev().filter(waits);
    open.filter_map(|open| read(draft, open))
}

fn read(draft: &Draft, open: &OpenQuestion) -> Option<Waiting> {
    let first = open.offered().next()?;
    let commands = question::read(&first.says, &draft.kitchen.vocabulary()).ok()?;
    match commands.into_iter().next()? {
        Command::Count {
            items,
            rest,
            anyway: true,
        } => Some(Waiting {
            question: open.id,
            items,
            rest,
        }),
        _ => None,
    }
}
