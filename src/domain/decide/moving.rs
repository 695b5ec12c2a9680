//! Food put elsewhere: every move opens a lot, and what it has been through goes with it.

use super::super::answer::{Answer, LotView, MoveAnswer};
use super::super::batch::Lot;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::pieces::{self, Said};
use super::super::problem::ProblemKind;
use super::super::quantity::{Meant, Measured, meant};
use super::super::resolve::Thing;
use super::super::vessel::Vessel;
use super::super::view;
use super::shortage::DRIFT;
use super::{
    Asking, Done, Step, Stop, find, moved_from, moved_when, place_is, scale, unnamed, vessel,
};
use crate::lang;
use crate::lang::syntax::{Amount, Command, Destination, Item, Move, Words};

/// Fewer grams of a dish are a count.
const COUNT_MAX: f64 = 25.0;
/// A lot that differs by no more is told by its weight.
const SAME_LOT: Mass = Mass::from_mg(2_000);
/// Bags that are further from what was said to be parted contradict it.
const PARTS_DIFFER: Mass = Mass::from_mg(5_000);

pub fn put(draft: &mut Draft, moved: &Move) -> Step {
    let moved = &unnamed::spoken_of(draft, moved)?;
    let place = destination(draft, moved)?;
    let bag = bag(moved)?;
    moved_when::told(draft, moved)?;
    let mut done = Moved::default();
    for item in &moved.items {
        put_one(draft, moved, item, place, bag, &mut done)?;
    }
    draft.settle();
    let thawed = moved.to == Destination::Thawed;
    Ok(done.told(draft, thawed, moved.packed))
}

/// What was put elsewhere.
#[derive(Default)]
pub struct Moved {
    batches: Vec<BatchId>,
    /// The lots that hold it now.
    opened: Vec<AccountId>,
}

impl Moved {
    pub fn told(&self, draft: &Draft, thawed: bool, packed: bool) -> Done {
        let lots = |new: bool| -> Vec<LotView> {
            let batches = draft.kitchen.batches.values();
            let concerned = batches.filter(|batch| self.batches.contains(&batch.id));
            let lots = concerned.flat_map(|batch| batch.lots.iter().map(move |lot| (batch, lot)));
            let meant = lots
                .filter(|(_, lot)| self.opened.contains(&lot.id) == new && lot.balance.mg() > 0);
            meant
                .map(|(batch, lot)| view::lot(&draft.kitchen, batch, lot))
                .collect()
        };
        Done::saying(Answer::Move(MoveAnswer {
            lots: lots(true),
            elsewhere: lots(false),
            thawed,
            packed,
            today: draft.today(),
            notes: Vec::new(),
            message: draft.credit,
        }))
    }
}

/// How cold is it where this batch was put?
pub fn ask_place(draft: &Draft, id: BatchId, place: &Words) -> Asking {
    let batch = Words::plain(draft.kitchen.batch(id).code.clone());
    place_is::asking(place, |kind| {
        let item = Item::new(Amount::Share(1.0), batch.clone());
        let moved = Move {
            kind: Some(kind),
            ..Move::to(vec![item], Destination::Place(place.clone()))
        };
        Command::Move(moved).to_string()
    })
}

/// The place that food goes to: one that the household has, or one whose kind its name tells.
fn destination(draft: &mut Draft, moved: &Move) -> Result<Option<PlaceId>, Stop> {
    let place = match &moved.to {
        Destination::Here => return Ok(None),
        Destination::Thawed => draft.place("fridge"),
        Destination::Place(words) => place_is::known(draft, words, moved.kind, |kind| {
            let kind = Some(kind);
            Command::Move(Move {
                kind,
                ..moved.clone()
            })
        })?,
    };
    Ok(Some(place))
}

/// What each bag weighs empty, if that was told.
fn bag(moved: &Move) -> Result<Option<Mass>, Stop> {
    let Some(grams) = moved.bag_grams else {
        return Ok(None);
    };
    let text = format!("{grams} g");
    let bag = Mass::weighed_out(grams).ok_or(ProblemKind::NotAMass { text })?;
    Ok(Some(bag))
}

/// The vessel that an item goes into. What is told of a vessel in which some of it stands already is where that is
/// taken from: "froze the dal in the glass jar".
fn vessel_of(
    draft: &mut Draft,
    moved: &Move,
    item: &Item,
    found: &[BatchId],
) -> Result<(Option<ContainerId>, Option<ContainerId>), Stop> {
    let told = item.container.as_ref();
    let known = told.and_then(|words| draft.kitchen.container_named(&words.text));
    let known = known.map(|container| container.id);
    let standing = known.filter(|id| {
        let mut standing = draft.kitchen.standing_in(*id).into_iter();
        standing.any(|(batch, _)| found.contains(&batch.id))
    });
    let into = match &moved.vessel {
        Some(words) => Some(draft.container(&words.text)),
        None => known.filter(|_| standing.is_none()),
    };
    if let Some(into) = into {
        vessel::is_free(draft, into, found[0], &Command::Move(moved.clone()))?;
    }
    Ok((standing, into))
}

pub fn put_one(
    draft: &mut Draft,
    moved: &Move,
    item: &Item,
    place: Option<PlaceId>,
    bag: Option<Mass>,
    done: &mut Moved,
) -> Result<(), Stop> {
    let (found, places) = find::standing(draft, &item.name)?;
    let (from_vessel, into) = vessel_of(draft, moved, item, &found)?;
    let item = &match from_vessel {
        Some(_) => Item {
            container: None,
            ..item.clone()
        },
        None => scale::without_container(draft, item)?,
    };
    let thawed = moved.to == Destination::Thawed;
    let mut lots = moved_from::lots(draft, &found, moved, places.as_ref(), place);
    if let Some(vessel) = from_vessel {
        lots.retain(|(_, lot)| lot.stands_in(vessel));
    }
    if let (None, Some(vessel)) = (place, into) {
        lots.retain(|(_, lot)| !lot.stands_in(vessel));
    }
    let there: Mass = lots.iter().map(|(_, lot)| lot.balance).sum();
    let name = draft.kitchen.batch(found[0]).name.clone();
    let problem = |kind: ProblemKind| Stop::Problem(kind.at(item.span.clone()));
    let stands_there = |id: &&BatchId| {
        let mut lots = draft.kitchen.batch(**id).lots.iter();
        lots.any(|lot| lot.balance.mg() > 0 && lot.place == place)
    };
    let there_already: Vec<BatchId> = found.iter().filter(stands_there).copied().collect();
    if lots.is_empty() && moved.from.is_none() && !thawed && !there_already.is_empty() {
        done.batches.extend(there_already);
        return Ok(());
    }
    // "take out 300 chilli", of which nothing is frozen, may be said of a shop.
    if lots.is_empty() && thawed && !draft.input.addressed && !speaks_of_cold(draft) {
        return Err(ProblemKind::NothingToFix.into());
    }
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
    moved_when::none_counted_since(draft, item, &lots)?;
    let only_packed = moved.packed && place.is_none() && into.is_none();
    if only_packed && moved.parts_grams.is_empty() {
        done.batches.extend(lots.iter().map(|(id, _)| *id));
        return Ok(());
    }
    let parts = parts(draft, moved, item, &found, &lots, bag)?;
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
    let into = match bag {
        Some(bag) => Into::Vessel(Vessel::Bag(bag)),
        None => into.map_or(Into::AsItStood, |id| Into::Vessel(Vessel::Named(id))),
    };
    let into = match into {
        Into::AsItStood if !moved.parts_grams.is_empty() => Into::Bags,
        into => into,
    };
    for part in parts {
        // "Thaw the 640 bag", "refreeze the 500": a lot of just that weight is meant before the others.
        from.sort_by_key(|(_, _, held)| (*held - part).abs() > SAME_LOT);
        let opened = take(draft, &mut from, part, place, into);
        done.batches.extend(opened.iter().map(|(id, _)| *id));
        done.opened.extend(opened.iter().map(|(_, lot)| *lot));
    }
    Ok(())
}

fn speaks_of_cold(draft: &Draft) -> bool {
    let text = draft.input.text.to_lowercase();
    ["freez", "froze", "thaw", "defrost"]
        .iter()
        .any(|word| text.contains(word))
}

/// What goes into each new lot.
fn parts(
    draft: &Draft,
    moved: &Move,
    item: &Item,
    found: &[BatchId],
    lots: &[(BatchId, Lot)],
    bag: Option<Mass>,
) -> Result<Vec<Mass>, Stop> {
    let at = |kind: ProblemKind| Stop::Problem(kind.at(item.span.clone()));
    let whole = match &moved.kept {
        None => so_much(draft, item, &item.amount, found, lots)?,
        Some(kept) => {
            let all = so_much(draft, item, &item.amount, found, lots)?;
            let kept = so_much(draft, item, kept, found, lots)?;
            if kept >= all {
                let name = draft.kitchen.batch(found[0]).name.clone();
                let (asked, left) = (kept, all);
                return Err(at(ProblemKind::TooMuch { name, asked, left }));
            }
            all - kept
        }
    };
    if moved.parts_grams.is_empty() {
        return Ok(vec![whole]);
    }
    let mass = |grams: &f64| {
        let text = grams.to_string();
        let full = Mass::from_grams(*grams).ok_or_else(|| at(ProblemKind::NotAMass { text }))?;
        bag.map_or(Ok(full), |bag| Ok(vessel::less_bag(full, bag)?))
    };
    let parts: Result<Vec<Mass>, Stop> = moved.parts_grams.iter().map(mass).collect();
    let parts = parts?;
    let sum: Mass = parts.iter().copied().sum();
    let told = !matches!(item.amount, Amount::Share(_));
    if told && (sum - whole).abs() > PARTS_DIFFER {
        let words = [whole, sum]
            .map(|mass| format!("{} g", mass.grams()))
            .to_vec();
        return Err(at(ProblemKind::SeveralWeighings { words }));
    }
    // What the bags hold is what was parted.
    Ok(parts)
}

/// An amount of what stands in these lots.
pub fn so_much(
    draft: &Draft,
    item: &Item,
    amount: &Amount,
    found: &[BatchId],
    lots: &[(BatchId, Lot)],
) -> Result<Mass, Stop> {
    let at = |kind: ProblemKind| Stop::Problem(kind.at(item.span.clone()));
    if let Amount::Pieces { count, measure } = amount
        && let Some(mass) = bags_of(draft, found[0], lots, *count, measure)
    {
        return Ok(mass);
    }
    if let Amount::Bare(count) = amount
        && is_count(draft, found[0], item, *count)
    {
        let name = draft.kitchen.batch(found[0]).name.clone();
        let measure = "piece".to_owned();
        return Err(at(ProblemKind::UnknownMeasure { measure, name }));
    }
    let thing = Thing::Batches(found.to_vec());
    let measured = Measured {
        thing: &thing,
        name: &item.name.text,
    };
    match meant(&draft.kitchen, amount, &measured).map_err(at)? {
        // What is moved in pieces is taken from the lots that are meant, which may differ by the piece.
        Meant::Quantity(quantity) => Ok(match pieces::said(&draft.kitchen, found, amount) {
            Some(Said::Pieces(count)) => {
                let meant = lots.iter().map(|(batch, lot)| (*batch, lot));
                pieces::mass_of(&draft.kitchen, meant, count).unwrap_or(quantity.mass)
            }
            _ => quantity.mass,
        }),
        Meant::Share(share) => {
            let there: Mass = lots.iter().map(|(_, lot)| lot.balance).sum();
            Ok(there.share(share))
        }
        Meant::Uncounted | Meant::Either(..) => {
            let name = item.name.text.clone();
            Err(at(ProblemKind::MissingAmount { name }))
        }
    }
}

/// "a bag of chilli", "2 tubs of it": so many of the lots that are meant, what is due first before the rest.
fn bags_of(
    draft: &Draft,
    id: BatchId,
    lots: &[(BatchId, Lot)],
    count: f64,
    measure: &[String],
) -> Option<Mass> {
    const BAGS: [&str; 6] = ["bag", "tub", "box", "container", "jar", "pack"];
    let [word] = measure else { return None };
    let counted = draft.kitchen.batch(id).pieces().is_some();
    let told = BAGS.contains(&word.as_str()) && count.fract() == 0.0 && !counted;
    let enough = count >= 1.0 && lots.len() >= count as usize && lots.len() > 1;
    let first = lots.iter().take(count as usize);
    (told && enough).then(|| first.map(|(_, lot)| lot.balance).sum())
}

/// "8 of the meatballs", which nobody has counted: nobody puts eight grams anywhere.
fn is_count(draft: &Draft, id: BatchId, item: &Item, count: f64) -> bool {
    let batch = draft.kitchen.batch(id);
    let name = item.name.text.to_lowercase();
    let last = name.rsplit(' ').next().unwrap_or_default();
    let plural = lang::singular(last) != last;
    batch.pieces().is_none() && plural && count.fract() == 0.0 && count < COUNT_MAX
}

/// What the food that is moved stands in then.
#[derive(Clone, Copy)]
enum Into {
    /// All of what stood in a vessel goes with it.
    AsItStood,
    /// Bags of which nobody said anything.
    Bags,
    Vessel(Vessel),
}

/// Move a mass out of these lots, in their order; each gives a lot of its own, unless all of it goes into another
/// vessel where it stands. What the last one lacks is the scale's: it is written down as a difference.
fn take(
    draft: &mut Draft,
    from: &mut [(BatchId, AccountId, Mass)],
    mass: Mass,
    place: Option<PlaceId>,
    into: Into,
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
        let whole = piece >= *held;
        *held -= piece;
        wanted -= piece;
        let known = draft.kitchen.batch(*batch).lot(*source);
        let (stood, stands) = known.map_or((None, None), |lot| (lot.vessel(), lot.place));
        let vessel = match into {
            Into::AsItStood => stood.filter(|_| whole),
            Into::Bags => None,
            Into::Vessel(vessel) => Some(vessel),
        };
        if place.is_none() && whole {
            vessel::stand(draft, *batch, *source, vessel);
            opened.push((*batch, *source));
            continue;
        }
        let id = draft.open_lot(*batch, place.or(stands), Some(*source));
        let ends = (Account::Lot(*source), Account::Lot(id));
        draft.enter(EntryKind::Move, ends, piece, Some(*batch), None, None);
        if vessel.is_some() {
            vessel::stand(draft, *batch, id, vessel);
        }
        opened.push((*batch, id));
    }
    opened
}
