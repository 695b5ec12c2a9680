//! Food put elsewhere: every move opens a lot, and what it has been through goes with it.

use chrono::Duration;

use super::super::act::Act;
use super::super::answer::{Answer, LotView, MoveAnswer};
use super::super::batch::Lot;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::PlaceKind;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::pieces::{self, Said};
use super::super::problem::ProblemKind;
use super::super::quantity::{Meant, Measured, meant};
use super::super::resolve::{Thing, key};
use super::super::stands::Places;
use super::super::view;
use super::overheard::IN_PASSING_MINUTES;
use super::shortage::DRIFT;
use super::{Asking, Done, Step, Stop, find, place_is, scale, undo};
use crate::lang;
use crate::lang::syntax::{Amount, Command, Destination, Item, Move, Words};

/// Bags that are further from what was said to be parted contradict it.
const PARTS_DIFFER: Mass = Mass::from_mg(5_000);

pub fn put(draft: &mut Draft, moved: &Move) -> Step {
    let moved = &spoken_of(draft, moved)?;
    let place = destination(draft, moved)?;
    if let Some(day) = &moved.day {
        let today = draft.today();
        let day = find::date(day, today)?;
        if day > today {
            return Err(ProblemKind::FutureDate.into());
        }
        draft.occurred_at = draft.input.said_at - Duration::days((today - day).num_days());
    }
    let mut opened = Vec::new();
    for item in &moved.items {
        opened.extend(put_one(draft, moved, item, place)?);
    }
    draft.settle();
    let is_new = |lot: &Lot| opened.iter().any(|(_, new)| *new == lot.id);
    let lots = |new: bool| -> Vec<LotView> {
        let batches = draft.kitchen.batches.values();
        let concerned = batches.filter(|batch| opened.iter().any(|(id, _)| *id == batch.id));
        let lots = concerned.flat_map(|batch| batch.lots.iter().map(move |lot| (batch, lot)));
        let meant = lots.filter(|(_, lot)| is_new(lot) == new && lot.balance.mg() > 0);
        meant
            .map(|(batch, lot)| view::lot(&draft.kitchen, batch, lot))
            .collect()
    };
    Ok(Done::saying(Answer::Move(MoveAnswer {
        lots: lots(true),
        elsewhere: lots(false),
        thawed: moved.to == Destination::Thawed,
        today: draft.today(),
        notes: Vec::new(),
        message: draft.credit,
    })))
}

/// "1000 of it": of the one dish of the sender's newest act, which was just now.
fn spoken_of(draft: &Draft, moved: &Move) -> Result<Move, Stop> {
    let stands_in = |item: &Item| lang::is_stand_in(&item.name.text);
    if !moved.items.iter().any(stands_in) {
        return Ok(moved.clone());
    }
    let since = draft.input.now - Duration::minutes(IN_PASSING_MINUTES);
    let newest = undo::pointed_or_newest(draft).filter(|act| act.sent_at >= since);
    let standing = newest.iter().flat_map(Act::standing);
    let mut batches: Vec<BatchId> = standing.filter_map(|entry| entry.entry.batch).collect();
    batches.sort();
    batches.dedup();
    let [batch] = batches[..] else {
        return Err(ProblemKind::NothingToFix.into());
    };
    let mut moved = moved.clone();
    for item in moved.items.iter_mut().filter(|item| stands_in(item)) {
        item.name = Words::plain(draft.kitchen.batch(batch).code.clone());
    }
    Ok(moved)
}

/// How cold is it where this batch was put?
pub fn ask_place(draft: &Draft, id: BatchId, place: &Words) -> Asking {
    let batch = Words::plain(draft.kitchen.batch(id).code.clone());
    place_is::asking(place, |kind| {
        let item = Item::new(Amount::Share(1.0), batch.clone());
        Command::Move(Move {
            kind: Some(kind),
            ..Move::to(vec![item], Destination::Place(place.clone()))
        })
    })
}

/// The place that food goes to: one that the household has, or one whose kind its name tells.
fn destination(draft: &mut Draft, moved: &Move) -> Result<PlaceId, Stop> {
    match &moved.to {
        Destination::Thawed => Ok(draft.place("fridge")),
        Destination::Place(words) => place_is::known(draft, words, moved.kind, |kind| {
            let kind = Some(kind);
            Command::Move(Move {
                kind,
                ..moved.clone()
            })
        }),
    }
}

fn put_one(
    draft: &mut Draft,
    moved: &Move,
    item: &Item,
    place: PlaceId,
) -> Result<Vec<(BatchId, AccountId)>, Stop> {
    let item = &scale::without_container(draft, item)?;
    let (found, places) = find::standing(draft, &item.name)?;
    let thawed = moved.to == Destination::Thawed;
    let lots = sources(draft, &found, moved, places.as_ref(), place);
    let there: Mass = lots.iter().map(|(_, lot)| lot.balance).sum();
    let name = draft.kitchen.batch(found[0]).name.clone();
    let problem = |kind: ProblemKind| Stop::Problem(kind.at(item.span.clone()));
    if lots.is_empty() {
        return Err(problem(match thawed {
            true => ProblemKind::NotFrozen { name },
            false => ProblemKind::NothingToMove { name },
        }));
    }
    let moved_on = draft.day_of(draft.occurred_at);
    let later = |(id, _): &&(BatchId, Lot)| draft.kitchen.batch(*id).made_on > moved_on;
    if let Some((id, _)) = lots.iter().find(later) {
        let made = draft.kitchen.batch(*id).made_on;
        return Err(problem(ProblemKind::BeforeMade { name, made }));
    }
    let parts = parts(draft, moved, item, &found, &lots).map_err(problem)?;
    let wanted: Mass = parts.iter().copied().sum();
    if wanted > there + DRIFT {
        return Err(problem(ProblemKind::TooMuch {
            name,
            asked: wanted,
            left: there,
        }));
    }
    let mut from: Vec<(BatchId, AccountId, Mass)> = lots
        .into_iter()
        .map(|(batch, lot)| (batch, lot.id, lot.balance))
        .collect();
    let mut opened = Vec::new();
    for part in parts {
        opened.extend(take(draft, &mut from, part, place));
    }
    Ok(opened)
}

/// The lots that are meant: frozen ones to thaw, those of the place that was named, otherwise all that do not
/// stand there already; what is due first before the rest.
fn sources(
    draft: &Draft,
    found: &[BatchId],
    moved: &Move,
    places: Option<&Places>,
    place: PlaceId,
) -> Vec<(BatchId, Lot)> {
    let kitchen = &draft.kitchen;
    let stands_in = |lot: &Lot, words: &Words| {
        let own = lot.place.and_then(|id| kitchen.place(id));
        own.is_some_and(|own| key(&own.name) == key(&words.text))
    };
    let freezes = kitchen
        .place(place)
        .is_some_and(|place| place.kind() == PlaceKind::Freezer);
    let meant = |lot: &Lot| match (&moved.from, &moved.to) {
        (_, Destination::Place(_)) if lot.place == Some(place) => false,
        _ if places.is_some() => places.is_some_and(|places| places.hold(lot)),
        (Some(from), _) => stands_in(lot, from),
        (None, Destination::Thawed) => kitchen.is_frozen(lot),
        // What is frozen already is not what somebody freezes now.
        (None, Destination::Place(_)) if freezes => !kitchen.is_frozen(lot),
        (None, Destination::Place(_)) => lot.place != Some(place) && !kitchen.is_frozen(lot),
    };
    let standing = |meant: &dyn Fn(&Lot) -> bool| -> Vec<(BatchId, Lot)> {
        let lots = kitchen.in_turn(found).into_iter();
        lots.filter(|(_, lot)| lot.balance.mg() > 0 && meant(lot))
            .map(|(batch, lot)| (batch, lot.clone()))
            .collect()
    };
    let lots = standing(&meant);
    // From one freezer to another, where nothing of it stands unfrozen.
    let carried = |lot: &Lot| kitchen.is_frozen(lot) && lot.place != Some(place);
    let named = kitchen
        .place(place)
        .is_some_and(|place| place.name != "freezer");
    match lots.is_empty() && freezes && named && moved.from.is_none() && places.is_none() {
        true => standing(&carried),
        false => lots,
    }
}

/// What goes into each new lot.
fn parts(
    draft: &Draft,
    moved: &Move,
    item: &Item,
    found: &[BatchId],
    lots: &[(BatchId, Lot)],
) -> Result<Vec<Mass>, ProblemKind> {
    let thing = Thing::Batches(found.to_vec());
    let measured = Measured {
        thing: &thing,
        name: &item.name.text,
    };
    let there: Mass = lots.iter().map(|(_, lot)| lot.balance).sum();
    let whole = match meant(&draft.kitchen, &item.amount, &measured)? {
        // What is moved in pieces is taken from the lots that are meant, which may differ by the piece.
        Meant::Quantity(quantity) => match pieces::said(&draft.kitchen, found, &item.amount) {
            Some(Said::Pieces(count)) => {
                let meant = lots.iter().map(|(batch, lot)| (*batch, lot));
                pieces::mass_of(&draft.kitchen, meant, count).unwrap_or(quantity.mass)
            }
            _ => quantity.mass,
        },
        Meant::Share(share) => there.share(share),
        Meant::Uncounted | Meant::Either(..) => {
            let name = item.name.text.clone();
            return Err(ProblemKind::MissingAmount { name });
        }
    };
    if moved.parts_grams.is_empty() {
        return Ok(vec![whole]);
    }
    let mass = |grams: &f64| {
        let text = grams.to_string();
        Mass::from_grams(*grams).ok_or(ProblemKind::NotAMass { text })
    };
    let parts: Vec<Mass> = moved
        .parts_grams
        .iter()
        .map(mass)
        .collect::<Result<_, _>>()?;
    let sum: Mass = parts.iter().copied().sum();
    let told = !matches!(item.amount, Amount::Share(_));
    if told && (sum - whole).abs() > PARTS_DIFFER {
        let words = [whole, sum]
            .map(|mass| format!("{} g", mass.grams()))
            .to_vec();
        return Err(ProblemKind::SeveralWeighings { words });
    }
    // What the bags hold is what was parted.
    Ok(parts)
}

/// Move a mass out of these lots, in their order; each gives a lot of its own. What the last one lacks is
/// the scale's: it is written down as a difference.
fn take(
    draft: &mut Draft,
    from: &mut [(BatchId, AccountId, Mass)],
    mass: Mass,
    place: PlaceId,
) -> Vec<(BatchId, AccountId)> {
    let mut opened = Vec::new();
    let mut wanted = mass;
    let last = from.len() - 1;
    for (at, (batch, source, held)) in from.iter_mut().enumerate() {
        let piece = if at == last {
            wanted
        } else {
            wanted.min(*held)
        };
        if piece.mg() <= 0 {
            continue;
        }
        *held -= piece;
        wanted -= piece;
        let id = draft.open_lot(*batch, Some(place), Some(*source));
        let ends = (Account::Lot(*source), Account::Lot(id));
        draft.enter(EntryKind::Move, ends, piece, Some(*batch), None, None);
        opened.push((*batch, id));
    }
    opened
}
