//! One dish put in several places: what is told of where it stands stays there, the rest is whatever nothing else was
//! told of, and each other part is a move.

use super::super::answer::About;
use super::super::batch::Lot;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::super::problem::{FarCount, ProblemKind};
use super::shortage::DRIFT;
use super::{Step, Stop, count, find, moving, place_is, unnamed};
use crate::lang::syntax::{
    Amount, Command, Destination, Item, Move, Spread, SpreadPart, Weighed, Weighing, Words,
};

/// So much of a dish in one place.
struct Told<'a> {
    part: &'a SpreadPart,
    place: PlaceId,
    /// `None`: the rest.
    mass: Option<Mass>,
    /// What stands there already.
    here: Mass,
}

pub fn spread(draft: &mut Draft, said: &Spread) -> Step {
    let dish = unnamed::named(draft, &said.dish)?;
    let said = &Spread {
        dish: dish.clone(),
        ..said.clone()
    };
    let mut places = Vec::new();
    for part in &said.parts {
        places.push(place_is::known_in(draft, &part.place, said)?);
    }
    let (found, from) = find::standing(draft, &dish)?;
    let name = draft.kitchen.batch(found[0]).name.clone();
    let lots = standing(draft, &found, |lot| {
        from.as_ref().is_none_or(|from| from.hold(lot))
    });
    if lots.is_empty() {
        return Err(ProblemKind::NothingToMove { name }.into());
    }
    let there: Mass = lots.iter().map(|(_, lot)| lot.balance).sum();
    let mut told = Vec::new();
    for (part, place) in said.parts.iter().zip(places) {
        let here = lots.iter().filter(|(_, lot)| lot.place == Some(place));
        told.push(Told {
            part,
            place,
            mass: mass(draft, part, &dish, &found, &lots)?,
            here: here.map(|(_, lot)| lot.balance).sum(),
        });
    }
    let sum: Mass = told.iter().filter_map(|told| told.mass).sum();
    if sum > there + DRIFT {
        if let Some(items) = counted(draft, &dish, &found, &told) {
            return count::count(draft, &items, None, false);
        }
        let (asked, left) = (sum, there);
        return Err(ProblemKind::TooMuch { name, asked, left }.into());
    }
    adds_up(said, &told, sum, there)?;
    let mut done = moving::Moved::default();
    // What goes elsewhere goes first: what stays is what is left then.
    told.sort_by_key(|told| told.here.mg() > 0);
    for told in &told {
        let whole = told.mass.unwrap_or(there - sum);
        put(draft, &dish, told, whole.min(there), &mut done)?;
    }
    draft.settle();
    Ok(done.told(draft, false, false))
}

/// "dal in the fridge 450 and in the freezer 1200", where some of it stands in each of the places: more cannot be put
/// there, so that is what the scale says of each.
fn counted(
    draft: &Draft,
    dish: &Words,
    found: &[BatchId],
    told: &[Told<'_>],
) -> Option<Vec<Weighed>> {
    let [id] = found else { return None };
    let each = told.iter().map(|told| {
        let place = &told.part.place;
        let stands = !count::in_place(draft, *id, place).is_empty();
        let plain = matches!(told.part.amount, Some(Amount::Bare(_) | Amount::Mass(_)));
        let weighing = Weighing::net(told.mass?.grams(), 0..0);
        (stands && plain).then(|| Weighed {
            name: dish.clone(),
            weighing,
            place: Some(place.clone()),
        })
    });
    each.collect()
}

/// What stands ready, or else what is frozen.
fn standing(draft: &Draft, found: &[BatchId], meant: impl Fn(&Lot) -> bool) -> Vec<(BatchId, Lot)> {
    let lots = draft.kitchen.in_turn(found).into_iter();
    let holding = lots.filter(|(_, lot)| lot.balance.mg() > 0 && meant(lot));
    let all: Vec<(BatchId, Lot)> = holding.map(|(id, lot)| (id, lot.clone())).collect();
    let frozen = |(_, lot): &(BatchId, Lot)| draft.kitchen.is_frozen(lot);
    match all.iter().all(frozen) {
        true => all,
        false => all.into_iter().filter(|it| !frozen(it)).collect(),
    }
}

fn mass(
    draft: &Draft,
    part: &SpreadPart,
    dish: &Words,
    found: &[BatchId],
    lots: &[(BatchId, Lot)],
) -> Result<Option<Mass>, Stop> {
    let Some(amount) = &part.amount else {
        return Ok(None);
    };
    let item = Item::new(amount.clone(), dish.clone());
    moving::so_much(draft, &item, amount, found, lots).map(Some)
}

/// All that is said to be where it stood, and no rest: what the books hold beside it is asked about.
fn adds_up(said: &Spread, told: &[Told<'_>], sum: Mass, there: Mass) -> Result<(), Stop> {
    let all_told = told.iter().all(|told| told.mass.is_some());
    let stays = told.iter().position(|told| told.here.mg() > 0);
    let Some(stays) = stays.filter(|_| all_told && (there - sum).abs() > DRIFT) else {
        return Ok(());
    };
    let counted = Command::Count {
        items: vec![Weighed {
            name: said.dish.clone(),
            weighing: Weighing::net(sum.grams(), 0..0),
            place: None,
        }],
        rest: None,
        anyway: true,
    };
    let mut rest = said.clone();
    rest.parts[stays].amount = None;
    let rest = Command::Spread(rest);
    let place = &told[stays].part.place;
    let options = vec![
        Choice {
            label: format!("{} g is all there is", sum.grams().round()),
            says: format!("{counted}\n{}", Command::Spread(said.clone())),
        },
        Choice {
            label: format!(
                "the other {} g are in the {place} too",
                (there - sum).grams().round()
            ),
            says: rest.to_string(),
        },
    ];
    let problem = ProblemKind::FarFromBooks {
        dishes: vec![FarCount {
            name: said.dish.text.clone(),
            place: None,
            counted: sum,
            booked: there,
            weighed_in: None,
        }],
    };
    Err(find::ask(
        About::Confirm,
        &said.dish.text,
        Some(problem),
        options,
    ))
}

/// Put as much there as does not stand there yet; in boxes, where that was told.
fn put(
    draft: &mut Draft,
    dish: &Words,
    told: &Told<'_>,
    whole: Mass,
    done: &mut moving::Moved,
) -> Result<(), Stop> {
    let parts_grams = match &told.part.amount {
        Some(Amount::Each { count, grams, .. }) => vec![*grams; *count as usize],
        _ => Vec::new(),
    };
    let stays = told.here.mg() > 0;
    let more = whole - told.here.min(whole);
    if parts_grams.is_empty() && more.is_zero() {
        return Ok(());
    }
    let mass = if parts_grams.is_empty() { more } else { whole };
    let item = Item::new(Amount::Mass(mass.grams()), dish.clone());
    let place = &told.part.place;
    // Boxes are filled where it stands; what is more comes from elsewhere.
    let parted = stays && !parts_grams.is_empty();
    let moved = Move {
        parts_grams,
        from: parted.then(|| place.clone()),
        ..Move::to(
            vec![item.clone()],
            match parted {
                true => Destination::Here,
                false => Destination::Place(place.clone()),
            },
        )
    };
    let to = (!parted).then_some(told.place);
    moving::put_one(draft, &moved, &item, to, None, done)
}
