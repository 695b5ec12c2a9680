//! Where a dish is, said by itself: "dal in the fridge", "put the chilli in the freezer". Among people that may be
//! asked of somebody or told, and the books say which: what was cooked a moment ago is being put away, and what stands
//! nowhere yet stands there now. Of what stands elsewhere it is asked, and what stands there already is no news.

use chrono::Duration;

use super::super::answer::{About, Answer};
use super::super::batch::{Batch, Lot};
use super::super::draft::Draft;
use super::super::kitchen::{Choice, Kitchen, Place};
use super::super::origin::Origin;
use super::super::resolve::key;
use super::{Decision, Input, OnProblem, Outcome, carry_out, find, stopped};
use crate::lang::syntax::{Amount, Command, Destination, Item, Move, Reading, Reason};
use crate::lang::{self, Parsed};

/// So long after a pot was weighed in it is being put away.
const PUT_AWAY_HOURS: i64 = 3;

/// What a message tells that says nothing else.
pub fn put(
    kitchen: &Kitchen,
    input: &Input,
    parsed: &Parsed,
    without: &Decision,
) -> Option<Decision> {
    // "700 dal freezer" is of no food that is called so.
    let food =
        |answer: &Answer| matches!(answer, Answer::Ask(ask) if ask.about == About::WhichFood);
    let open = match without.outcome {
        Outcome::Ignored | Outcome::Refused => true,
        Outcome::Asked => without.answers.iter().any(food),
        _ => false,
    };
    if !open {
        return None;
    }
    let quiet = |reading: &&Reading| {
        let veto = |reason: &Reason| matches!(reason, Reason::Veto(_));
        reading.errors.is_empty() && !reading.reasons.iter().any(veto)
    };
    let said = |verb: &str| {
        let mut readings = parsed.readings.iter().filter(quiet);
        readings.find(|reading| {
            reading
                .reasons
                .iter()
                .any(|it| matches!(it, Reason::Verb(said) if *said == verb))
        })
    };
    let (reading, told) = match said("stated") {
        Some(reading) => (reading, true),
        None => (said("put there")?, false),
    };
    let [Command::Move(moved)] = reading.commands.as_slice() else {
        return None;
    };
    let draft = Draft::new(kitchen, input);
    let batches = batches(&draft, moved)?;
    let lots = || batches.iter().flat_map(|batch| &batch.lots);
    let held = || lots().filter(|lot| lot.balance.mg() > 0);
    let there = |lot: &Lot| {
        let place = lot.place.and_then(|id| kitchen.place(id));
        let Destination::Place(to) = &moved.to else {
            return false;
        };
        place.is_some_and(|place| key(&place.name) == key(&to.text))
    };
    if held().next().is_none() || moved.from.is_none() && held().any(there) {
        return None;
    }
    let fresh = |batch: &&Batch| {
        let since = batch.weighed_at().map(|at| input.said_at - at);
        let hours = since.is_some_and(|since| since <= Duration::hours(PUT_AWAY_HOURS));
        batch.origin == Origin::Cooked && hours
    };
    let unplaced = held().all(|lot| lot.place.is_none());
    let sure =
        input.addressed || batches.iter().all(fresh) || told && (unplaced || moved.from.is_some());
    // "salsa is on the top shelf": a place that nobody knows is asked about only with so much that goes there.
    let whole = |item: &Item| item.amount == Amount::Share(1.0);
    let known = match &moved.to {
        Destination::Place(to) => {
            let own = |place: &Place| key(&place.name) == key(&to.text);
            lang::is_common_place(&to.text) || kitchen.places.iter().any(own)
        }
        Destination::Thawed | Destination::Here => true,
    };
    let strange = !known && moved.items.iter().all(whole) && !input.addressed;
    if !sure && !told || strange {
        return None;
    }
    if sure {
        let decision = carry_out(draft, &reading.commands, OnProblem::Forget);
        let refused = decision.outcome == Outcome::Refused;
        return (!refused || input.addressed).then_some(decision);
    }
    let says = Command::Move(moved.clone()).to_string();
    let options = vec![Choice {
        label: format!("yes, {says}"),
        says,
    }];
    Some(stopped(
        draft,
        find::ask(About::Confirm, &input.text, None, options),
    ))
}

/// The dishes that are told of, if all of them stand here.
fn batches<'d>(draft: &'d Draft, moved: &Move) -> Option<Vec<&'d Batch>> {
    let mut all = Vec::new();
    for item in &moved.items {
        let (found, _) = find::standing(draft, &item.name).ok()?;
        all.extend(found.into_iter().map(|id| draft.kitchen.batch(id)));
    }
    Some(all)
}
