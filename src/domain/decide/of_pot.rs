//! How much of a pot is taken: a share of what is left of it, and what a count that waits says first.

use super::super::answer::Note;
use super::super::batch::Lot;
use super::super::draft::Draft;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::quantity::Quantity;
use super::super::resolve::{Resolved, Thing};
use super::portion::Taken;
use super::{Stop, count};
use crate::lang::syntax::{Amount, Command, Item, Portion};

/// Of a dish of which a count waits for its answer, that is answered first.
pub fn count_first(
    draft: &Draft,
    portion: &Portion,
    item: &Item,
    thing: &Thing,
    mass: Mass,
) -> Option<Stop> {
    let Thing::Batches(batches) = thing else {
        return None;
    };
    let drawn = Some(mass).filter(|_| !matches!(item.amount, Amount::Share(_)));
    let says = Command::Portion(portion.clone());
    count::waiting::first(draft, *batches.first()?, drawn, &says)
}

/// "half the dal": of what is left of it now, as far as the same message has not taken it before.
pub fn share_of(
    draft: &Draft,
    resolved: &Resolved,
    share: f64,
    item: &Item,
    before: &[Taken],
) -> Result<Quantity, Stop> {
    let Thing::Batches(batches) = &resolved.thing else {
        let name = item.name.text.clone();
        return Err(Stop::Problem(
            ProblemKind::MissingAmount { name }.at(item.span.clone()),
        ));
    };
    let first = draft.kitchen.batch(batches[0]);
    let held = draft.shared(first.id, resolved.from.as_ref());
    let of_it = before.iter().filter(
        |line| matches!(&line.thing, Thing::Batches(taken) if taken.first() == Some(&first.id)),
    );
    let gone: Mass = of_it.map(|line| line.quantity.mass).sum();
    let mass = held.share(share).min(held - gone);
    if mass.mg() <= 0 {
        let name = first.name.clone();
        return Err(ProblemKind::UsedUp { name, food: None }.into());
    }
    Ok(Quantity {
        mass,
        // A share of a pot is judged by eye.
        estimated: share < 1.0,
        assumptions: Vec::new(),
    })
}

/// A share is one of what the books hold: of what somebody has taken from since, nobody knows that.
pub fn taken_before(draft: &Draft, item: &Item, thing: &Thing) -> Option<Note> {
    let Thing::Batches(batches) = thing else {
        return None;
    };
    let batch = draft.kitchen.batch(*batches.first()?);
    let open = |lot: &Lot| {
        let counted = lot.counts.last().map(|count| count.occurred_at);
        lot.balance.mg() > 0 && lot.was_taken_from(batch, counted, draft.occurred_at)
    };
    let share = matches!(item.amount, Amount::Share(_));
    (share && batch.lots.iter().any(open)).then(|| Note::TakenBefore {
        name: batch.name.clone(),
    })
}
