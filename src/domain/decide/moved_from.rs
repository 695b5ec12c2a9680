//! From which lots something is moved.

use chrono::Duration;

use super::super::batch::Lot;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::PlaceKind;
use super::super::origin::Origin;
use super::super::resolve::key;
use super::super::stands::Places;
use crate::lang::syntax::{Destination, Move, Words};

/// So long after it came off the stove a pot is the one that is being put away.
const JUST_COOKED_HOURS: i64 = 6;

/// The lots that are meant: frozen ones to thaw, those of the place that was named, otherwise all that do not
/// stand there already; what is due first before the rest.
pub fn lots(
    draft: &Draft,
    found: &[BatchId],
    moved: &Move,
    places: Option<&Places>,
    to: Option<PlaceId>,
) -> Vec<(BatchId, Lot)> {
    let kitchen = &draft.kitchen;
    let stands_in = |lot: &Lot, words: &Words| {
        let own = lot.place.and_then(|id| kitchen.place(id));
        own.is_some_and(|own| key(&own.name) == key(&words.text))
    };
    let place = to.and_then(|id| kitchen.place(id));
    let freezes = place.is_some_and(|place| place.kind() == PlaceKind::Freezer);
    let meant = |lot: &Lot| match (&moved.from, &moved.to) {
        (_, Destination::Place(_)) if lot.place == to => false,
        _ if places.is_some() => places.is_some_and(|places| places.hold(lot)),
        (Some(from), _) => stands_in(lot, from),
        (None, Destination::Thawed) => kitchen.is_frozen(lot),
        // What is frozen already is not what somebody freezes now.
        (None, Destination::Place(_)) if freezes => !kitchen.is_frozen(lot),
        (None, Destination::Place(_)) => lot.place != to && !kitchen.is_frozen(lot),
        (None, Destination::Here) => !kitchen.is_frozen(lot),
    };
    let standing = |meant: &dyn Fn(&Lot) -> bool| -> Vec<(BatchId, Lot)> {
        let lots = kitchen.in_turn(found).into_iter();
        lots.filter(|(_, lot)| lot.balance.mg() > 0 && meant(lot))
            .map(|(batch, lot)| (batch, lot.clone()))
            .collect()
    };
    let mut lots = standing(&meant);
    if freezes && moved.from.is_none() && places.is_none() {
        freeze_in_turn(draft, &mut lots);
    }
    // From one freezer to another, where nothing of it stands unfrozen.
    let carried = |lot: &Lot| kitchen.is_frozen(lot) && lot.place != to;
    let named = place.is_some_and(|place| place.name != "freezer");
    // "soup back in the fridge", of which all is frozen: it thaws there.
    let unfrozen = |lot: &Lot| !kitchen.is_frozen(lot);
    let thaws = place.is_some() && !freezes && lots.is_empty() && standing(&unfrozen).is_empty();
    match lots.is_empty() && moved.from.is_none() && places.is_none() {
        true if freezes && named || thaws => standing(&carried),
        _ => lots,
    }
}

/// What is frozen is what has just been cooked, before older pots of the dish; and nothing that is past its date, where
/// there is any that is not.
fn freeze_in_turn(draft: &Draft, lots: &mut Vec<(BatchId, Lot)>) {
    let kitchen = &draft.kitchen;
    let today = draft.day_of(draft.occurred_at);
    let past = |(id, lot): &(BatchId, Lot)| {
        let due = kitchen.use_by(kitchen.batch(*id), lot);
        due.is_some_and(|due| due.on < today)
    };
    if !lots.iter().all(past) {
        lots.retain(|lot| !past(lot));
    }
    // The later it came off the stove, the sooner it is put away.
    let fresh = |(id, lot): &(BatchId, Lot)| {
        let batch = kitchen.batch(*id);
        let known = batch.weighed_at().unwrap_or(batch.made_at);
        let cooked = batch.origin == Origin::Cooked && lot.came_from.is_none();
        let since = (draft.occurred_at - known).abs();
        (cooked && since <= Duration::hours(JUST_COOKED_HOURS)).then_some(since)
    };
    lots.sort_by_key(|lot| {
        let since = fresh(lot);
        (since.is_none(), since)
    });
}
