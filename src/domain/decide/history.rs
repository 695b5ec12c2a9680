//! "what happened to the rice": the story of its pot.

use super::super::answer::Answer;
use super::super::draft::Draft;
use super::super::history::HistoryAnswer;
use super::{Done, Step, find};
use crate::lang::syntax::Words;

pub fn history(draft: &mut Draft, name: &Words) -> Step {
    let found = find::batches(draft, name)?;
    let kitchen = &draft.kitchen;
    let batch = kitchen.batch(found[0]);
    let others = found[1..].iter().map(|id| kitchen.batch(*id).code.clone());
    Ok(Done::saying(Answer::History(HistoryAnswer {
        name: batch.name.clone(),
        batch: batch.code.clone(),
        others: others.collect(),
        lines: kitchen.history(batch, draft.input.sender),
        left: batch.left(),
        estimated: batch.estimated(),
    })))
}
