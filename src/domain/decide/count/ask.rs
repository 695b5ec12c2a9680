//! What is asked about a count before it is booked.

use super::super::super::answer::About;
use super::super::super::draft::Draft;
use super::super::super::ids::*;
use super::super::super::kitchen::Choice;
use super::super::super::mass::Mass;
use super::super::super::problem::{FarCount, ProblemKind, WeighedIn};
use super::super::draw::TooMuch;
use super::super::shortage::drift;
use super::super::weigh::{self, Reading};
use super::super::{Stop, find};
use super::lots::{held, holding};
use super::{Counted, Said};
use crate::lang::syntax::{
    Amount, Command, Destination, Item, Move, TopUp, Weighed, Weighing, Words,
};

/// One reading does not tell several batches of one name apart.
pub fn which(draft: &Draft, said: &Said, at: usize, open: &[BatchId]) -> Stop {
    let items = &said.items;
    let labels = find::labels(draft, open);
    let options = open.iter().zip(labels).map(|(id, label)| {
        let batch = draft.kitchen.batch(*id);
        let mut chosen = items.clone();
        chosen[at].name = Words::plain(batch.code.clone());
        let command = said.with(chosen, false);
        Choice {
            label: format!("{label}: {} g", draft.held(*id).grams()),
            says: command.to_string(),
        }
    });
    let options = options.collect();
    find::ask(About::WhichBatch, &items[at].name.text, None, options)
}

/// By the books nothing of it stands there: it was put there, or another place is meant.
pub fn not_there(draft: &Draft, said: &Said, at: usize, id: BatchId) -> Stop {
    let items = &said.items;
    let item = &items[at];
    let place = item.place.clone().unwrap_or_default();
    let batch = draft.kitchen.batch(id);
    let problem = ProblemKind::NotThere {
        name: batch.name.clone(),
        place: place.text.clone(),
    };
    let Ok(reading) = weigh::net(draft, &item.weighing) else {
        return Stop::Problem(problem.at(item.name.span.clone()));
    };
    let net = reading.net();
    let mut others = items.clone();
    others.remove(at);
    let counted = |items: Vec<Weighed>| said.with(items, false);
    let mut options = Vec::new();
    if holding(draft, id)
        .iter()
        .any(|lot| lot.balance + drift(batch) >= net)
    {
        let item = Item::new(Amount::Mass(net.grams()), Words::plain(batch.code.clone()));
        let to = Destination::Place(place.clone());
        let moved = Command::Move(Move::to(vec![item], to));
        let first = (!others.is_empty()).then(|| counted(others).to_string());
        let says: Vec<String> = first.into_iter().chain([moved.to_string()]).collect();
        options.push(Choice {
            label: format!("{} g were put in the {}", net.grams(), place.text),
            says: says.join("\n"),
        });
    }
    let mut elsewhere: Vec<String> = Vec::new();
    for lot in holding(draft, id) {
        let place = lot.place.and_then(|id| draft.kitchen.place(id));
        let place = place.map_or("fridge".into(), |place| place.name.clone());
        if elsewhere.contains(&place) {
            continue;
        }
        let mut chosen = items.clone();
        chosen[at].place = Some(Words::plain(place.clone()));
        options.push(Choice {
            label: format!("it is what is left in the {place}"),
            says: counted(chosen).to_string(),
        });
        elsewhere.push(place);
    }
    match options.is_empty() {
        true => Stop::Problem(problem.at(item.name.span.clone())),
        false => find::ask(About::Confirm, &batch.name, Some(problem), options),
    }
}

/// Less than the vessel that was told weighs empty: it may have been weighed without it.
pub fn without_vessel(said: &Said, at: usize, stop: Stop) -> Stop {
    let Stop::Problem(problem) = &stop else {
        return stop;
    };
    let ProblemKind::BelowTare { gross, .. } = &problem.kind else {
        return stop;
    };
    let mut bare = said.items.clone();
    bare[at].weighing = Weighing::net(gross.grams(), 0..0);
    let options = vec![Choice {
        label: format!("{} g without it", gross.rounded_grams()),
        says: said.with(bare, true).to_string(),
    }];
    let words = &said.items[at].name.text;
    find::ask(
        About::WhichWeighing,
        words,
        Some(problem.kind.clone()),
        options,
    )
}

/// Food does not grow: somebody may have put more in.
pub fn topped_up(draft: &Draft, id: BatchId, more: Mass) -> Choice {
    let topped_up = Command::TopUp(TopUp {
        batch: Words::plain(draft.kitchen.batch(id).code.clone()),
        from: None,
        lines: Vec::new(),
        by_grams: Some(more.grams()),
        weighing: None,
    });
    Choice {
        label: format!("topped up: {} g went in", more.rounded_grams()),
        says: topped_up.to_string(),
    }
}

/// What the scale showed, and with which vessel, if one came off.
fn weighed_in(item: &Weighed, reading: &Reading) -> Option<WeighedIn> {
    let named = item.weighing.tares.iter().map(|tare| tare.name.as_ref());
    let named = named.chain([item.weighing.container.as_ref()]).flatten();
    let named: Vec<&str> = named.map(|words| words.text.as_str()).collect();
    (reading.tare.mg() > 0).then(|| WeighedIn {
        gross: reading.gross,
        vessel: (!named.is_empty()).then(|| named.join(" and the ")),
    })
}

/// All that is far from the books is asked about at once.
pub fn confirm(draft: &Draft, said: &Said, counted: &[Counted], far: &[usize]) -> Stop {
    let items = &said.items;
    let command = said.with(items.clone(), true);
    let dishes: Vec<FarCount> = far
        .iter()
        .map(|at| FarCount {
            name: items[*at].name.text.clone(),
            place: counted[*at].place.clone(),
            counted: counted[*at].reading.net(),
            booked: held(draft, &counted[*at].lots, counted[*at].batch),
            weighed_in: weighed_in(&items[*at], &counted[*at].reading),
        })
        .collect();
    let names: Vec<&str> = dishes.iter().map(|dish| dish.name.as_str()).collect();
    let words = names.join(", ");
    // The books' own figure, counted, changes nothing and says that somebody looked.
    let mut by_the_books = items.clone();
    for (at, dish) in far.iter().zip(&dishes) {
        by_the_books[*at].weighing = Weighing::net(dish.booked.grams(), 0..0);
    }
    let labels = match dishes.as_slice() {
        [one] => (
            format!("yes, {} g", one.counted.rounded_grams()),
            format!("no, the books are right: {} g", one.booked.rounded_grams()),
        ),
        several => (
            "yes, as counted".into(),
            format!("no, the books are right about these {}", several.len()),
        ),
    };
    let mut options = vec![
        Choice {
            label: labels.0,
            says: command.to_string(),
        },
        Choice {
            label: labels.1,
            says: said.with(by_the_books, true).to_string(),
        },
    ];
    if let ([one], [at]) = (dishes.as_slice(), far)
        && one.counted > one.booked
    {
        options.insert(
            1,
            topped_up(draft, counted[*at].batch, one.counted - one.booked),
        );
    }
    if items.len() > far.len() || said.rest.is_some() {
        // Whoever drops the question drops the rest of the message too: it is named whole.
        let whole = said.with(items.clone(), false);
        options.push(Choice::as_said(whole.to_string()));
    }
    let problem = ProblemKind::FarFromBooks { dishes };
    find::ask(TooMuch::ABOUT, &words, Some(problem), options)
}
