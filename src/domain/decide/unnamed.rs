//! What food that is put elsewhere is, where nobody said: what is in hand, or what would fill the bags.

use super::super::answer::About;
use super::super::batch::{Batch, Lot};
use super::super::draft::Draft;
use super::super::in_hand::InHand;
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::{Stop, find};
use crate::lang;
use crate::lang::syntax::{Amount, Command, Destination, Item, Move, Words};

/// So many may be chosen from.
const BATCHES_ASKED_MAX: usize = 8;

/// "1000 of it": of the one dish that is in hand. "Both", "them": all that is in hand.
pub fn spoken_of(draft: &Draft, moved: &Move) -> Result<Move, Stop> {
    let mut known = moved.clone();
    known.items.clear();
    for item in &moved.items {
        let names = match all_of(draft, moved, item) {
            Some(names) => names?,
            None => {
                let name = named(draft, &item.name);
                vec![name.map_err(|stop| of_what(draft, moved, stop))?]
            }
        };
        known.items.extend(names.into_iter().map(|name| Item {
            name,
            ..item.clone()
        }));
    }
    Ok(known)
}

/// The dishes in hand of which all is told; `None`: it is of one dish.
fn all_of(draft: &Draft, moved: &Move, item: &Item) -> Option<Result<Vec<Words>, Stop>> {
    let both = item.name.text == "both";
    let whole = item.amount == Amount::Share(1.0);
    if !(both || whole && item.name.text == "them") {
        return None;
    }
    let dishes = InHand::of(draft.before, draft.input).dishes();
    let dishes = dishes.unwrap_or_default();
    let names: Vec<Words> = dishes.into_iter().map(Words::plain).collect();
    let fits = match names.as_slice() {
        [] => false,
        [only] if both => bags(draft, moved, only) == 2,
        several => {
            let there = |name: &Words| bags(draft, moved, name) > 0;
            (!both || several.len() == 2) && several.iter().all(there)
        }
    };
    Some(match fits {
        true => Ok(names),
        false => Err(ProblemKind::NothingToFix.into()),
    })
}

/// How many lots of it there are to be moved so.
fn bags(draft: &Draft, moved: &Move, dish: &Words) -> usize {
    let Ok((found, _)) = find::standing(draft, dish) else {
        return 0;
    };
    let thaws = moved.to == Destination::Thawed;
    let batches = found.iter().map(|id| draft.kitchen.batch(*id));
    let lots = batches.flat_map(|batch| &batch.lots);
    let meant = |lot: &&Lot| lot.balance.mg() > 0 && draft.kitchen.is_frozen(lot) == thaws;
    lots.filter(meant).count()
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
