//! What food that is put elsewhere is, where nobody said: what is in hand, or what would fill the bags.

use super::super::answer::About;
use super::super::batch::Batch;
use super::super::draft::Draft;
use super::super::in_hand::InHand;
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::{Stop, find};
use crate::lang;
use crate::lang::syntax::{Command, Move, Words};

/// So many may be chosen from.
const BATCHES_ASKED_MAX: usize = 8;

/// "1000 of it": of the one dish that is in hand.
pub fn spoken_of(draft: &Draft, moved: &Move) -> Result<Move, Stop> {
    let mut known = moved.clone();
    for item in &mut known.items {
        item.name = named(draft, &item.name).map_err(|stop| of_what(draft, moved, stop))?;
    }
    Ok(known)
}

/// So many full bags of nothing that is in hand: of what stands ready and fills them, which was it?
fn of_what(draft: &Draft, moved: &Move, untold: Stop) -> Stop {
    let wanted: f64 = moved.parts_grams.iter().sum();
    let ready = |batch: &&Batch| {
        let lots = batch.lots.iter();
        let ready = lots.filter(|lot| !draft.kitchen.is_frozen(lot));
        let ready: Mass = ready.map(|lot| lot.balance).sum();
        ready.grams() >= wanted && !batch.estimated()
    };
    let fills = draft.kitchen.open_batches().filter(ready);
    let options: Vec<Choice> = fills
        .map(|batch| {
            let mut chosen = moved.clone();
            for item in &mut chosen.items {
                item.name = Words::plain(batch.code.clone());
            }
            Choice {
                label: format!("{} {}", batch.name, batch.code),
                says: Command::Move(chosen).to_string(),
            }
        })
        .collect();
    if moved.parts_grams.is_empty() || options.is_empty() || options.len() > BATCHES_ASKED_MAX {
        return untold;
    }
    let problem = Some(ProblemKind::MissingName);
    find::ask(About::WhichBatch, &draft.input.text, problem, options)
}

/// The dish that is in hand, where it is only spoken of.
pub fn named(draft: &Draft, name: &Words) -> Result<Words, Stop> {
    if !lang::is_stand_in(&name.text) {
        return Ok(name.clone());
    }
    let dish = InHand::of(draft.before, draft.input).dish();
    Ok(Words::plain(dish.ok_or(ProblemKind::NothingToFix)?))
}
