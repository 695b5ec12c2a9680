//! The lots that a count speaks of: of a dish, of what stands in one place of it, or in one vessel.

use super::super::super::batch::Lot;
use super::super::super::draft::Draft;
use super::super::super::ids::*;
use super::super::super::kitchen::PlaceKind;
use super::super::super::mass::Mass;
use super::super::super::resolve::key;
use super::super::shortage::drift;
use crate::lang::syntax::Words;

/// What the books hold of the lots that such a count speaks of.
pub fn booked(draft: &Draft, id: BatchId, net: Mass) -> Mass {
    held(draft, &everywhere(draft, id, net), id)
}

/// The lots of a batch that hold something at the time of the count, what is drawn first in front.
pub(super) fn holding<'a>(draft: &'a Draft, id: BatchId) -> Vec<&'a Lot> {
    let batch = draft.kitchen.batch(id);
    draft
        .kitchen
        .in_turn(&[id])
        .into_iter()
        .map(|(_, lot)| lot)
        .filter(|lot| lot.held_at(batch, draft.occurred_at).mg() > 0)
        .collect()
}

pub(super) fn ids(lots: &[&Lot]) -> Vec<AccountId> {
    lots.iter().map(|lot| lot.id).collect()
}

/// The lots that a count speaks of which names no place: what stands ready, or, where that fits the scale and
/// nothing else does, all with what is frozen.
pub(super) fn everywhere(draft: &Draft, id: BatchId, net: Mass) -> Vec<AccountId> {
    let batch = draft.kitchen.batch(id);
    let holding = holding(draft, id);
    let all = ids(&holding);
    let mut ready = holding;
    ready.retain(|lot| !draft.kitchen.is_frozen(lot));
    let ready = ids(&ready);
    if all.is_empty() {
        return vec![batch.lots[0].id];
    }
    let off = |lots: &[AccountId]| (net - held(draft, lots, id)).abs();
    let everything = off(&all) < off(&ready) && off(&all) <= drift(batch);
    match ready.is_empty() || everything {
        true => all,
        false => ready,
    }
}

/// The lots that stand ready, or, where none does, those that are frozen.
pub fn ready(draft: &Draft, id: BatchId) -> Vec<AccountId> {
    let holding = holding(draft, id);
    let frozen = |lot: &&&Lot| draft.kitchen.is_frozen(lot);
    let ready: Vec<&Lot> = holding.iter().filter(|lot| !frozen(lot)).copied().collect();
    match ready.is_empty() {
        true => ids(&holding),
        false => ids(&ready),
    }
}

/// The lots of a batch that stand in a vessel.
pub fn in_vessel(draft: &Draft, id: BatchId, vessel: ContainerId) -> Vec<AccountId> {
    let mut holding = holding(draft, id);
    holding.retain(|lot| lot.stands_in(vessel));
    ids(&holding)
}

/// The lots that stand in a place by the books, or in a vessel of that name. What nobody has given a place stands in the fridge, as its date
/// is reckoned.
pub fn in_place(draft: &Draft, id: BatchId, place: &Words) -> Vec<AccountId> {
    let kitchen = &draft.kitchen;
    let wanted = key(&place.text);
    let mut places = kitchen.places.iter();
    let known = places.find(|place| key(&place.name) == wanted);
    if let (None, Some(vessel)) = (known, kitchen.container_named(&place.text)) {
        return in_vessel(draft, id, vessel.id);
    }
    let holding = holding(draft, id);
    let of = |place: Option<PlaceId>| {
        let there: Vec<&Lot> = holding
            .iter()
            .copied()
            .filter(|lot| lot.place == place)
            .collect();
        ids(&there)
    };
    let there = known.map(|place| of(Some(place.id))).unwrap_or_default();
    let fridge = match known {
        Some(place) => place.kind() == PlaceKind::Fridge,
        None => wanted.contains("fridge"),
    };
    match there.is_empty() && fridge {
        true => of(None),
        false => there,
    }
}

/// What these lots of a batch held at the time of the count.
pub fn held(draft: &Draft, lots: &[AccountId], id: BatchId) -> Mass {
    let batch = draft.kitchen.batch(id);
    let own = batch.lots.iter().filter(|lot| lots.contains(&lot.id));
    own.map(|lot| lot.held_at(batch, draft.occurred_at)).sum()
}
