//! A dish topped up: what is left of it, with something stirred in, is a new batch. Earlier plates stay as they
//! were eaten, and the new batch keeps the earliest date of what went in.

use super::super::answer::{About, BatchEvent};
use super::super::batch::{Batch, Lot};
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::{Choice, Kitchen};
use super::super::ledger::Account;
use super::super::mass::Mass;
use super::super::opening::Opening;
use super::super::origin::Origin;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::super::vessel::Vessel;
use super::line::Pending;
use super::mixed::{Part, put_in};
use super::{Asking, Step, Stop, batch, find, scale, shortage, vessel, weigh};
use crate::lang::syntax::{Amount, Command, LineContent, TopUp, WeighedOf, Weighing, Words};

/// What a dish is topped up with most often.
const USUAL: [&str; 2] = ["water", "stock"];
/// Where food stands of which nobody said where.
const UNSAID_PLACE: &str = "fridge";

pub fn top_up(draft: &mut Draft, said: &TopUp) -> Step {
    let old = topped(draft, said)?;
    let known = draft.kitchen.batch(old);
    if is_on_the_stove(known) {
        return into_the_pot(draft, old, said);
    }
    let rest = rest(draft, old, said)?;
    let said = &reckoned(draft, old, &rest, said)?;
    // What is frozen is thawed before anything is stirred in.
    let ready = rest.first().filter(|lot| !draft.kitchen.is_frozen(lot));
    let place = ready.and_then(|lot| lot.place);
    let (name, raw) = (known.name.clone(), known.raw);
    let (code, estimated) = (known.code.clone(), known.estimated());
    let new = draft.open_batch(&Opening {
        name: &name,
        raw,
        origin: Origin::ToppedUp,
        dated: true,
        made_at: draft.input.said_at,
        place,
    });
    // It goes on in the pot or jar that it stood in.
    let mut vessels: Vec<Option<Vessel>> = rest.iter().map(Lot::vessel).collect();
    vessels.dedup();
    let went_on: Mass = rest.iter().map(|lot| lot.balance).sum();
    for lot in rest {
        let part = Part {
            text: format!("the rest of {name} {code}"),
            from: Account::Lot(lot.id),
            mass: lot.balance,
            estimated,
            profile: None,
            source: Some(old),
        };
        put_in(draft, new, 1, part);
    }
    if let [vessel @ Some(_)] = vessels[..] {
        let lot = draft.kitchen.batch(new).lots[0].id;
        vessel::stand(draft, new, lot, vessel);
    }
    let mut pending = batch::lines(draft, new, 2, &said.lines);
    if let Some(grams) = said.by_grams {
        pending.push(unnamed(draft, new, grams)?);
    }
    let weighings = said.weighing.as_slice();
    pending.extend(weigh::write_or_wait(draft, new, weighings));
    draft.settle();
    let more = draft.kitchen.batch(new).net_mass() - went_on;
    scale::topped_up(draft, &said.batch, more);
    let notes = batch::odd_yield(draft, new).into_iter().collect();
    let event = BatchEvent::ToppedUp { of: code };
    Ok(batch::answer(draft, new, event, notes, pending))
}

/// "topped up to 1200": what the whole weighs tells how much of the one thing went in.
fn reckoned(draft: &Draft, old: BatchId, rest: &[Lot], said: &TopUp) -> Result<TopUp, Stop> {
    let mut told = said.clone();
    let untold = match told.lines.as_slice() {
        [] => said.by_grams.is_none(),
        [line] => matches!(&line.content, LineContent::Ingredient { amount: None, .. }),
        _ => false,
    };
    let Some(weighing) = said.weighing.as_ref().filter(|_| untold) else {
        return Ok(told);
    };
    let lots: Vec<AccountId> = rest.iter().map(|lot| lot.id).collect();
    let in_vessel = weighing.gross || weighing.container.is_some() || !weighing.tares.is_empty();
    let whole = match in_vessel {
        true => vessel::reading(draft, old, &lots, weighing)?,
        false => weigh::net(draft, weighing)?,
    };
    let whole = whole.net();
    let held: Mass = rest.iter().map(|lot| lot.balance).sum();
    let more = whole - held;
    if more.mg() <= 0 {
        let name = draft.kitchen.batch(old).name.clone();
        let kind = ProblemKind::NoMoreThan { name, held, whole };
        return Err(Stop::Problem(kind.at(weighing.span.clone())));
    }
    match told.lines.first_mut() {
        Some(line) => {
            if let LineContent::Ingredient { amount, name } = &mut line.content {
                *amount = Some(Amount::Mass(more.grams()));
                line.text = format!("{} g {name}", more.grams());
            }
        }
        None => told.by_grams = Some(more.grams()),
    }
    told.weighing = Some(Weighing::net(whole.grams(), weighing.span.clone()));
    Ok(told)
}

/// So much of something that nobody has named: it counts with its weight, and is asked about.
fn unnamed(draft: &mut Draft, dish: BatchId, grams: f64) -> Result<Pending, Stop> {
    let text = format!("{grams} g");
    let mass = Mass::weighed_out(grams);
    let mass = mass.ok_or_else(|| ProblemKind::NotAMass { text: text.clone() })?;
    let number = draft.kitchen.batch(dish).last_number + 1;
    let part = Part {
        text: text.clone(),
        from: Account::Bought,
        mass,
        estimated: false,
        profile: None,
        source: None,
    };
    put_in(draft, dish, number, part);
    let code = &draft.kitchen.batch(dish).code;
    let options = USUAL.map(|food| Choice {
        label: food.into(),
        says: format!("{code} line {number}: {text} {food}"),
    });
    let problem = ProblemKind::MissingName;
    let asking = Asking {
        about: About::WhichFood,
        words: text,
        problem: Some(problem.clone()),
        options: options.into(),
        pointed: None,
    };
    Ok(Pending {
        number,
        problem: problem.anywhere(),
        asking,
    })
}

/// The batch that was topped up: the one of its name of which something is left.
fn topped(draft: &Draft, said: &TopUp) -> Result<BatchId, Stop> {
    let found = find::batches(draft, &said.batch)?;
    let stands = |id: &&BatchId| {
        let batch = draft.kitchen.batch(**id);
        let here = |lot: &Lot| is_there(&draft.kitchen, lot, said.from.as_ref());
        let held = batch
            .lots
            .iter()
            .any(|lot| here(lot) && lot.balance.mg() > 0);
        held || batch.open && shortage::weight_unknown(batch)
    };
    let standing: Vec<BatchId> = found.iter().filter(stands).copied().collect();
    let meant = standing.iter().find(|id| draft.meant_before.contains(id));
    match (meant, standing.as_slice()) {
        (Some(one), _) | (None, [one]) => Ok(*one),
        (None, []) => {
            let name = draft.kitchen.batch(found[0]).name.clone();
            let kind = ProblemKind::UsedUp { name, food: None };
            Err(Stop::Problem(kind.at(said.batch.span.clone())))
        }
        (None, several) => Err(which(draft, said, several)),
    }
}

/// Nobody has eaten of it, and nobody has weighed it: it is still being cooked.
fn is_on_the_stove(batch: &Batch) -> bool {
    let moved = batch.lots.iter().any(|lot| lot.came_from.is_some());
    batch.estimated() && !batch.is_put_together() && batch.drawn().is_zero() && !moved
}

/// Into a pot on the stove goes a line more.
fn into_the_pot(draft: &mut Draft, id: BatchId, said: &TopUp) -> Step {
    let code = Words::plain(draft.kitchen.batch(id).code.clone());
    let next = draft.kitchen.batch(id).last_number + 1;
    let mut pending = batch::lines(draft, id, next, &said.lines);
    if let Some(grams) = said.by_grams {
        pending.push(unnamed(draft, id, grams)?);
    }
    draft.settle();
    let event = BatchEvent::LinesAdded(said.lines.len().max(1));
    let mut done = batch::answer(draft, id, event, Vec::new(), pending);
    if let Some(weighing) = &said.weighing {
        let weighed = weigh::weigh(draft, &code, weighing, WeighedOf::Whole)?;
        done.answers = weighed.answers;
        done.asks.extend(weighed.asks);
    }
    Ok(done)
}

/// Where it was said to stand, if that was said.
fn is_there(kitchen: &Kitchen, lot: &Lot, said: Option<&Words>) -> bool {
    said.is_none_or(|said| key(place_of(kitchen, lot)) == key(&said.text))
}

fn place_of<'a>(kitchen: &'a Kitchen, lot: &Lot) -> &'a str {
    let place = lot.place.and_then(|id| kitchen.place(id));
    place.map_or(UNSAID_PLACE, |place| place.name.as_str())
}

/// What is left of it in the one place where it was topped up: what stands ready, or all that is frozen.
fn rest(draft: &Draft, old: BatchId, said: &TopUp) -> Result<Vec<Lot>, Stop> {
    let kitchen = &draft.kitchen;
    let batch = kitchen.batch(old);
    let holding = batch.lots.iter().filter(|lot| lot.balance.mg() > 0);
    let here = holding.filter(|lot| is_there(kitchen, lot, said.from.as_ref()));
    let (frozen, ready): (Vec<Lot>, Vec<Lot>) =
        here.cloned().partition(|lot| kitchen.is_frozen(lot));
    let rest = if ready.is_empty() { frozen } else { ready };
    let mut places: Vec<&str> = rest.iter().map(|lot| place_of(kitchen, lot)).collect();
    places.sort_unstable();
    places.dedup();
    match places.as_slice() {
        [] => {
            let name = batch.name.clone();
            let kind = ProblemKind::MissingAmount { name };
            Err(Stop::Problem(kind.at(said.batch.span.clone())))
        }
        // What the count found is the dish as it was topped up, or was not.
        [_] if draft.counted_since(&rest) => {
            let (name, held) = (batch.name.clone(), batch.left());
            let kind = ProblemKind::CountedSince { name, held };
            Err(Stop::Problem(kind.at(said.batch.span.clone())))
        }
        [_] => Ok(rest),
        several => Err(where_from(draft, old, said, several, &rest)),
    }
}

/// "dal" of two batches: which was it?
fn which(draft: &Draft, said: &TopUp, several: &[BatchId]) -> Stop {
    let labels = find::labels(draft, several);
    let options = several.iter().zip(labels).map(|(id, label)| {
        let batch = draft.kitchen.batch(*id);
        let mut chosen = said.clone();
        chosen.batch = Words::plain(batch.code.clone());
        Choice {
            label: format!("{label}: {} g", batch.left().grams()),
            says: Command::TopUp(chosen).to_string(),
        }
    });
    find::ask(About::WhichBatch, &said.batch.text, None, options.collect())
}

/// It stands in several places: which of it was it?
fn where_from(draft: &Draft, old: BatchId, said: &TopUp, places: &[&str], rest: &[Lot]) -> Stop {
    let options = places.iter().map(|place| {
        let here = rest
            .iter()
            .filter(|lot| place_of(&draft.kitchen, lot) == *place);
        let there: Mass = here.map(|lot| lot.balance).sum();
        let mut chosen = said.clone();
        chosen.batch = Words::plain(draft.kitchen.batch(old).code.clone());
        chosen.from = Some(Words::plain(*place));
        Choice {
            label: format!("in the {place}: {} g", there.grams()),
            says: Command::TopUp(chosen).to_string(),
        }
    });
    find::ask(About::WhichBatch, &said.batch.text, None, options.collect())
}
