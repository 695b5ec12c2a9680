//! What stands in which vessel: what is told of that, what a scale shows of what stands in one, and what a vessel is
//! said to weigh that is known to be lighter.

use super::super::answer::{About, Answer};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::{Choice, Container};
use super::super::mass::Mass;
use super::super::problem::{Problem, ProblemKind};
use super::super::resolve::key;
use super::super::vessel::{Vessel, VesselView};
use super::shortage::{ANYWAY, DRIFT};
use super::weigh::{self, Reading};
use super::{Done, Step, Stop, count, find};
use crate::lang::syntax::{Command, Tare, Weighed, Weighing, Words};

/// So near is what a scale shows of what nobody ate from.
const NEAR_SHARE: f64 = 0.1;
/// A vessel is put on the scale empty, and is about as heavy as before.
const HEAVIER_MOST: Mass = Mass::from_mg(100_000);

/// What a vessel weighs empty, or each that the household knows, and what stands in it.
pub fn tares(draft: &Draft, name: Option<&Words>) -> Step {
    let kitchen = &draft.kitchen;
    let told = match name {
        None => kitchen.containers.iter().collect(),
        Some(name) => {
            let known = kitchen.container_named(&name.text);
            let name = name.text.clone();
            vec![known.ok_or(ProblemKind::UnknownTare { name })?]
        }
    };
    let view = |container: &Container| VesselView {
        name: container.name.clone(),
        tare: container.tare(),
        holds: kitchen
            .standing_in(container.id)
            .into_iter()
            .map(|(batch, lot)| {
                let weighed = (!batch.estimated()).then_some(lot.balance);
                (batch.name.clone(), weighed)
            })
            .collect(),
    };
    let views = told.into_iter().map(view).collect();
    Ok(Done::saying(Answer::Tares(views)))
}

/// "blue pot holds dal": of what stands ready, and of that what stands in nothing yet.
pub fn holds(draft: &mut Draft, container: &Words, dish: &Words) -> Step {
    let (found, places) = find::standing(draft, dish)?;
    let id = match &places {
        Some(_) => found[0],
        None => find::batch_to_change(draft, dish)?,
    };
    let batch = draft.kitchen.batch(id);
    let mut lots = match &places {
        Some(places) => {
            let there = batch.lots.iter().filter(|lot| places.hold(lot));
            there.map(|lot| lot.id).collect()
        }
        None => count::ready(draft, id),
    };
    let bare = |lot: &AccountId| batch.lot(*lot).is_some_and(|lot| lot.vessel().is_none());
    if lots.iter().any(bare) {
        lots.retain(bare);
    }
    let lot = lots.first().copied().unwrap_or(batch.lots[0].id);
    let name = batch.name.clone();
    let vessel = draft.container(&container.text);
    let says = Command::ContainerHolds {
        container: container.clone(),
        batch: dish.clone(),
    };
    is_free(draft, vessel, id, &says)?;
    stand(draft, id, lot, Some(Vessel::Named(vessel)));
    Ok(Done::saying(Answer::ContainerHolds {
        container: container.text.clone(),
        batch: name,
    }))
}

/// A vessel in which another dish stands by the books is asked about, unless that was confirmed.
pub fn is_free(
    draft: &Draft,
    vessel: ContainerId,
    dish: BatchId,
    says: &Command,
) -> Result<(), Stop> {
    let kitchen = &draft.kitchen;
    let mut standing = kitchen.standing_in(vessel).into_iter();
    let other = standing.rfind(|(batch, _)| batch.id != dish);
    let Some((batch, lot)) = other.filter(|_| !draft.input.anyway) else {
        return Ok(());
    };
    let name = format!("{} {}", batch.name, batch.code);
    let mut options = vec![Choice {
        label: format!("the {} is out of it, and stands elsewhere", batch.name),
        says: format!("{says}{ANYWAY}"),
    }];
    let others = batch.lots.iter().filter(|other| other.balance.mg() > 0);
    if others.clone().all(|other| other.id == lot.id) {
        let gone = counted(&batch.code, Weighing::net(0.0, 0..0), true);
        options.push(Choice {
            label: format!("the {} is finished", batch.name),
            says: format!("{gone}\n{says}{ANYWAY}"),
        });
    }
    let problem = ProblemKind::VesselHolds {
        vessel: kitchen
            .container(vessel)
            .map_or_else(String::new, |known| known.name.clone()),
        name: name.clone(),
        held: (!batch.estimated()).then_some(lot.balance),
    };
    Err(find::ask(About::Confirm, &name, Some(problem), options))
}

/// A lot stands in a vessel from now on, and whatever stood in that before stands in none.
pub fn stand(draft: &mut Draft, batch: BatchId, lot: AccountId, vessel: Option<Vessel>) {
    if let Some(Vessel::Named(container)) = vessel {
        let standing = draft.kitchen.standing_in(container).into_iter();
        let others = standing.filter(|(other, _)| other.id != batch);
        let others: Vec<AccountId> = others.map(|(_, lot)| lot.id).collect();
        for lot in others {
            draft.fact(Detail::Vessel { lot, vessel: None });
        }
    }
    draft.fact(Detail::Vessel { lot, vessel });
}

/// What was weighed in a vessel that the household knows stands in that from now on.
pub fn keep(draft: &mut Draft, id: BatchId, lots: &[AccountId], weighing: &Weighing) {
    let ([lot], Some(container)) = (lots, weighed_in(draft, weighing)) else {
        return;
    };
    let known = draft.kitchen.batch(id).lot(*lot);
    if known.is_some_and(|lot| !lot.stands_in(container)) {
        stand(draft, id, *lot, Some(Vessel::Named(container)));
    }
}

fn weighed_in(draft: &Draft, weighing: &Weighing) -> Option<ContainerId> {
    let less = match weighing.tares.as_slice() {
        [one] if one.each_grams.is_none() && one.count <= 1.0 => one.name.as_ref(),
        _ => None,
    };
    let words = weighing.container.as_ref().or(less)?;
    let known = draft.kitchen.container_named(&words.text)?;
    known.tare().map(|_| known.id)
}

/// Where several lots of a batch hold something, those that stand in the vessel that it was weighed in: "dal in the
/// glass jar 900".
pub fn told_apart<'a>(draft: &Draft, id: BatchId, weighing: &'a Weighing) -> Option<&'a Words> {
    let words = weighing.container.as_ref()?;
    let container = draft.kitchen.container_named(&words.text)?.id;
    let lots = draft.kitchen.batch(id).lots.iter();
    let mut holding = lots.filter(|lot| lot.balance.mg() > 0);
    let apart = holding.clone().any(|lot| lot.stands_in(container))
        && holding.any(|lot| !lot.stands_in(container));
    apart.then_some(words)
}

/// The vessels that lots stand in, by the books.
struct Around {
    /// What they are called together.
    name: String,
    vessels: Vec<Vessel>,
    /// Each of them, empty.
    tare: Mass,
}

fn around(draft: &Draft, id: BatchId, lots: &[AccountId]) -> Option<Around> {
    let batch = draft.kitchen.batch(id);
    let mut vessels: Vec<Vessel> = Vec::new();
    for lot in lots.iter().filter_map(|lot| batch.lot(*lot)) {
        let Some(vessel) = lot.vessel() else { continue };
        let own = matches!(vessel, Vessel::Bag(_));
        if own || !vessels.contains(&vessel) {
            vessels.push(vessel);
        }
    }
    let tares: Option<Vec<Mass>> = vessels
        .iter()
        .map(|vessel| draft.kitchen.tare_of(*vessel))
        .collect();
    let name = match vessels.as_slice() {
        [] => return None,
        [Vessel::Named(id)] => draft.kitchen.container(*id)?.name.clone(),
        [Vessel::Bag(_)] => "bag".into(),
        several if several.iter().all(|one| matches!(one, Vessel::Bag(_))) => "bags".into(),
        _ => "vessels".into(),
    };
    let tare = tares?.into_iter().sum();
    Some(Around {
        name,
        vessels,
        tare,
    })
}

/// "1400 with the pot" of what stands in the blue pot, "640 with the bag" of what stands in one: the vessel that is
/// meant is its own.
fn with_own(draft: &Draft, id: BatchId, lots: &[AccountId], said: &Weighing) -> Weighing {
    let mut own = said.clone();
    let unnamed = said.gross && said.tares.is_empty() && said.container.is_none();
    let strange = said.container.as_ref().filter(|words| {
        let known = draft.kitchen.container_named(&words.text);
        known.is_none_or(|known| known.tare().is_none())
    });
    let Some(around) = around(draft, id, lots).filter(|_| unnamed || strange.is_some()) else {
        return own;
    };
    let said = strange.map_or_else(String::new, |words| key(&words.text));
    let meant = match around.vessels.as_slice() {
        [Vessel::Named(_)] => format!(" {}", key(&around.name)).ends_with(&format!(" {said}")),
        _ => !said.contains(' '),
    };
    if unnamed || meant {
        own.gross = false;
        own.container = None;
        own.tares.push(Tare {
            count: 1.0,
            each_grams: Some(around.tare.grams()),
            name: None,
        });
    }
    own
}

/// What the scale said of these lots of a batch. Where nobody told of a vessel and they stand in one, that is taken
/// off if only so it fits what is there, and asked about if both would.
pub fn reading(
    draft: &Draft,
    id: BatchId,
    lots: &[AccountId],
    weighing: &Weighing,
) -> Result<Reading, Stop> {
    let weighing = &with_own(draft, id, lots, weighing);
    let read = weigh::net(draft, weighing)?;
    let told = !weighing.tares.is_empty() || weighing.container.is_some();
    // What weighs next to nothing is no matter.
    let light = |around: &Around| around.tare <= DRIFT || around.tare >= read.gross;
    let Some(around) = around(draft, id, lots).filter(|around| !told && !light(around)) else {
        return Ok(read);
    };
    let less = Reading {
        gross: read.gross,
        tare: around.tare,
    };
    let near = |net: Mass| count::is_near(draft, id, net, NEAR_SHARE);
    match (near(less.net()), near(read.net())) {
        (true, true) => Err(with_or_without(draft, id, &around.name, less)),
        (true, false) => Ok(less),
        (false, _) => Ok(read),
    }
}

fn with_or_without(draft: &Draft, id: BatchId, vessel: &str, less: Reading) -> Stop {
    let batch = draft.kitchen.batch(id);
    let choice = |net: Mass, how: String| Choice {
        label: format!("{} g: {how}", net.grams()),
        says: counted(&batch.code, Weighing::net(net.grams(), 0..0), true).to_string(),
    };
    let options = vec![
        choice(less.net(), format!("the {vessel} is taken off")),
        choice(less.gross, format!("weighed without the {vessel}")),
    ];
    let words = format!("{} weighed {} g", batch.name, less.gross.grams());
    find::ask(About::WhichWeighing, &words, None, options)
}

fn counted(code: &str, weighing: Weighing, anyway: bool) -> Command {
    Command::Count {
        items: vec![Weighed {
            name: Words::plain(code),
            place: None,
            weighing,
        }],
        rest: None,
        anyway,
    }
}

/// What a vessel is said to weigh that is known to be lighter, and was not said to be empty: with what stands in it,
/// or empty after all?
pub fn filled(draft: &Draft, name: &Words, shown: Mass) -> Result<Option<Vec<Weighed>>, Stop> {
    let known = draft.kitchen.container_named(&name.text);
    let known = known.and_then(|vessel| Some((vessel, vessel.tare()?)));
    let Some((vessel, tare)) = known.filter(|(_, tare)| shown > *tare) else {
        return Ok(None);
    };
    if let Some((batch, _)) = draft.kitchen.standing_in(vessel.id).last() {
        let item = Weighed {
            name: Words::plain(batch.code.clone()),
            place: None,
            weighing: Weighing {
                readings_grams: vec![shown.grams()],
                gross: true,
                container: Some(name.clone()),
                ..Weighing::default()
            },
        };
        let lots = count::in_vessel(draft, batch.id, vessel.id);
        let booked = count::held(draft, &lots, batch.id);
        // Much more than it weighs empty is what stands in it, however far that is from the books: which is asked there.
        if !count::is_far(shown - tare, booked) || shown - tare > HEAVIER_MOST {
            return Ok(Some(vec![item]));
        }
    }
    if shown <= tare + tare && shown - tare <= HEAVIER_MOST {
        return Ok(None);
    }
    let empty = Command::TeachContainer {
        name: name.clone(),
        tare_grams: shown.grams(),
        empty: true,
    };
    let options = vec![
        Choice {
            label: format!("{} g empty", shown.grams()),
            says: empty.to_string(),
        },
        Choice {
            label: "with something in it: nothing to book".into(),
            says: Command::Drop.to_string(),
        },
    ];
    Err(find::ask(About::Confirm, &name.text, None, options))
}

/// Bags and tubs weighed as they are, less what each weighs empty.
pub fn less_bag(full: Mass, bag: Mass) -> Result<Mass, Problem> {
    match full > bag {
        true => Ok(full - bag),
        false => Err(ProblemKind::BelowTare {
            gross: full,
            tare: bag,
        }
        .anywhere()),
    }
}
