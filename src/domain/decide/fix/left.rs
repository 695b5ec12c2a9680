//! "40 rice left": in its pot, which counts it, or on the plate, which is less by it. The books tell which it can be: what is
//! about what the pot holds, or as much as lies on the plate, is the pot's; what may be either is asked about.

use super::super::super::answer::About;
use super::super::super::draft::Draft;
use super::super::super::ids::*;
use super::super::super::in_hand;
use super::super::super::kitchen::Choice;
use super::super::super::mass::Mass;
use super::super::super::pieces::{self, Said};
use super::super::super::plate::PlatePortion;
use super::super::super::problem::ProblemKind;
use super::super::{Step, count, find};
use super::amount::new_mass;
use super::find_line::{Found, lines};
use crate::lang::syntax::{Amount, Command, Fix, Item, Line, Weighed, Weighing, Words};

/// Scales and spoons make so much of a difference in a pot.
const SAME_SHARE: f64 = 0.05;

pub fn left(draft: &mut Draft, item: &Item) -> Step {
    let back = Fix::PutBack(vec![item.clone()]);
    let Some((batch, eaten, on_plate)) = in_hand(draft, item) else {
        return near_in_pot(draft, item);
    };
    let Some(id) = batch else {
        return super::fix(draft, &back);
    };
    if let Some(pieces) = in_pieces(draft, id, &item.amount) {
        return counted(draft, id, pieces);
    }
    let mass = new_mass(draft, &eaten, &item.amount)?;
    if mass >= on_plate || count::is_near(draft, id, mass, SAME_SHARE) {
        return counted(draft, id, mass.grams());
    }
    if item.name.text.is_empty() {
        return super::fix(draft, &back);
    }
    Err(which(draft, id, item, mass))
}

/// The dish that was eaten of a moment ago: its pot, its newest line, and how much lies on the plate.
fn in_hand(draft: &Draft, item: &Item) -> Option<(Option<BatchId>, PlatePortion, Mass)> {
    let line = Line {
        name: (!item.name.text.is_empty()).then(|| item.name.clone()),
        ..Line::default()
    };
    let found = lines(&mut draft.clone(), &Fix::Left(item.clone()), &line).ok()?;
    let fresh = |(_, line): &&Found| in_hand::holds(draft.input, line.recorded_at);
    let fresh: Vec<&Found> = found.iter().filter(fresh).collect();
    let (_, newest) = fresh.last()?;
    let of_it = fresh.iter().filter(|(_, line)| line.batch == newest.batch);
    let on_plate = of_it.map(|(_, line)| line.mass).sum();
    Some((newest.batch, newest.clone(), on_plate))
}

/// Of what nobody has just eaten it is a count, where the books hold about as much.
fn near_in_pot(draft: &mut Draft, item: &Item) -> Step {
    let (Amount::Bare(grams) | Amount::Mass(grams)) = item.amount else {
        return Err(ProblemKind::NothingToFix.into());
    };
    let found = find::batches(draft, &item.name);
    let (Ok(found), Some(mass)) = (found, Mass::from_grams(grams)) else {
        return Err(ProblemKind::NothingToFix.into());
    };
    match count::is_near(draft, found[0], mass, SAME_SHARE) {
        true => counted(draft, found[0], grams),
        false => Err(ProblemKind::NothingToFix.into()),
    }
}

/// "3 left" of what is counted: what it says as pieces, or else what so many weigh.
fn in_pieces(draft: &Draft, id: BatchId, amount: &Amount) -> Option<f64> {
    if let Some(Said::Pieces(count)) = pieces::said(&draft.kitchen, &[id], amount) {
        return Some(count);
    }
    let each_grams = draft.kitchen.batch(id).piece_grams()?;
    match amount {
        Amount::Bare(count) if count.fract() == 0.0 && *count < each_grams => {
            Some((count * each_grams).round())
        }
        _ => None,
    }
}

fn counted(draft: &mut Draft, id: BatchId, grams: f64) -> Step {
    count::count(draft, &[weighed(draft, id, grams)], None, false)
}

/// By its name, where that means one batch.
fn weighed(draft: &Draft, id: BatchId, grams: f64) -> Weighed {
    let batch = draft.kitchen.batch(id);
    let named = Words::plain(batch.name.clone());
    let alone = find::batches(draft, &named).is_ok_and(|found| found == [id]);
    Weighed {
        name: if alone {
            named
        } else {
            Words::plain(batch.code.clone())
        },
        place: None,
        weighing: Weighing::net(grams, 0..0),
    }
}

/// On the plate, or in the pot?
fn which(draft: &Draft, id: BatchId, item: &Item, mass: Mass) -> super::Stop {
    let batch = draft.kitchen.batch(id);
    let back = Item::new(Amount::Mass(mass.grams()), item.name.clone());
    let count = Command::Count {
        items: vec![weighed(draft, id, mass.grams())],
        rest: None,
        anyway: true,
    };
    let options = vec![
        Choice {
            label: format!("on the plate: {} g less eaten", mass.grams()),
            says: Command::Fix(Fix::PutBack(vec![back])).to_string(),
        },
        Choice {
            label: format!("in the pot: {} g of {}", mass.grams(), batch.name),
            says: count.to_string(),
        },
    ];
    let problem = ProblemKind::LeftInPot {
        left: mass,
        pots: count::booked(draft, id, mass),
        name: batch.name.clone(),
    };
    find::ask(About::Confirm, &batch.name, Some(problem), options)
}
