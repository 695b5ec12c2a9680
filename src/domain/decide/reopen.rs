//! A dish that was thought to be finished stands after all: what there is of it is counted, and so it is on the
//! board again. The difference to the books is an entry of its own, as with every count.

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::shortage::drift;
use super::{Step, Stop, count, find, moving, stock, weigh};
use crate::lang::syntax::{
    Amount, Command, Destination, Item, Move, Reopen, Weighed, Weighing, Words,
};

pub fn reopen(draft: &mut Draft, said: &Reopen) -> Step {
    let found = find::batches(draft, &said.dish)?;
    let mass = match said.grams {
        Some(grams) => Some(Mass::weighed_out(grams).ok_or_else(|| {
            let text = format!("{grams} g");
            Stop::from(ProblemKind::NotAMass { text })
        })?),
        None => None,
    };
    let standing = found.iter().copied().find(|id| !is_finished(draft, *id));
    match (standing, mass) {
        (Some(_), None) => stock::how_much(draft, &said.dish),
        (Some(id), Some(mass)) => {
            let booked = draft.held(id);
            match (mass - booked).abs() <= drift(draft.kitchen.batch(id)) {
                true => count::count_as(draft, id, weigh::Reading::of(mass), &Weighing::default()),
                false => Err(all_or_more(draft, id, mass)),
            }
        }
        (None, _) => {
            let last = |id: &BatchId| (draft.kitchen.batch(*id).made_at, *id);
            let id = found.into_iter().max_by_key(last);
            let id = id.expect("a name means at least one batch");
            match mass {
                Some(mass) => back_on_the_board(draft, id, mass, said.place.as_ref()),
                None => Err(how_much(draft, id, said)),
            }
        }
    }
}

/// "there's more dal after all": how much of it?
fn how_much(draft: &Draft, id: BatchId, said: &Reopen) -> Stop {
    let name = draft.kitchen.batch(id).name.clone();
    let stand_in = Reopen {
        dish: Words::plain(name.clone()),
        grams: Some(1.0),
        ..said.clone()
    };
    let options = vec![Choice {
        label: String::new(),
        says: Command::Reopen(stand_in).to_string(),
    }];
    let problem = ProblemKind::MissingAmount { name: name.clone() };
    find::ask(About::Grams, &name, Some(problem), options)
}

/// By the books nothing is left of it that anybody would find.
pub fn is_finished(draft: &Draft, id: BatchId) -> bool {
    draft.held(id) <= draft.kitchen.batch(id).crumbs()
}

/// Where it is found it stands, wherever it stood before.
fn back_on_the_board(draft: &mut Draft, id: BatchId, mass: Mass, place: Option<&Words>) -> Step {
    let mut done = count::count_as(draft, id, weigh::Reading::of(mass), &Weighing::default())?;
    let lots = draft.kitchen.batch(id).lots.iter();
    let stands = lots.filter(|lot| lot.balance.mg() > 0);
    let stood = stands
        .filter_map(|lot| draft.kitchen.place(lot.place?))
        .next();
    let elsewhere = place.filter(|place| {
        let there = stood.map_or("fridge", |place| place.name.as_str());
        key(there) != key(&place.text)
    });
    if let Some(place) = elsewhere {
        let item = Item::new(
            Amount::Mass(mass.grams()),
            Words::plain(draft.kitchen.batch(id).code.clone()),
        );
        let moved = Move::to(vec![item], Destination::Place(place.clone()));
        let more = moving::put(draft, &moved)?;
        done.answers.extend(more.answers);
        done.asks.extend(more.asks);
    }
    Ok(done)
}

/// By the books it is not finished: is that all that there is of it, or beside what they hold?
fn all_or_more(draft: &Draft, id: BatchId, mass: Mass) -> Stop {
    let batch = draft.kitchen.batch(id);
    let booked = draft.held(id);
    let option = |counted: Mass, label: String| {
        let weighed = Weighed {
            name: Words::plain(batch.code.clone()),
            place: None,
            weighing: Weighing::net(counted.grams(), 0..0),
        };
        let count = Command::Count {
            items: vec![weighed],
            rest: None,
            anyway: true,
        };
        Choice {
            label,
            says: count.to_string(),
        }
    };
    let options = vec![
        option(mass, format!("{} g is all that there is", mass.grams())),
        option(
            booked + mass,
            format!(
                "{} g more than the {} g booked",
                mass.grams(),
                booked.grams()
            ),
        ),
    ];
    find::ask(About::Confirm, &batch.name, None, options)
}
