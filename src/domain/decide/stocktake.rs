//! A recount (the scale says what is left) and waste.

use super::super::answer::{About, Answer, CountAnswer, CountLine, DrawAnswer, DrawLine};
use super::super::batch::Lot;
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::{AccountId, BatchId};
use super::super::kitchen::Choice;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::quantity::{Meant, Measured, meant};
use super::super::resolve::Thing;
use super::draw::{TooMuch, draw, in_turn};
use super::shortage::drift;
use super::{Done, Step, Stop, find, weigh};
use crate::lang::syntax::{Amount, Command, Item, Weighed, Weighing, Words};

/// A count that differs by so much, and by such a share of the books, is asked about first.
const LARGE: Mass = Mass::from_mg(200_000);
const LARGE_SHARE: f64 = 0.5;

pub fn count(draft: &mut Draft, items: &[Weighed], anyway: bool) -> Step {
    let mut lines = Vec::new();
    for (at, item) in items.iter().enumerate() {
        lines.push(count_one(draft, items, at, item, anyway)?);
    }
    draft.settle();
    Ok(Done::saying(Answer::Count(CountAnswer {
        lines,
        notes: Vec::new(),
        message: draft.credit,
    })))
}

fn count_one(
    draft: &mut Draft,
    items: &[Weighed],
    at: usize,
    item: &Weighed,
    anyway: bool,
) -> Result<CountLine, Stop> {
    let found = find::batches(draft, &item.name)?;
    if !item.weighing.is_nothing()
        && let Some(open) = find::not_told_apart(draft, &found)
    {
        return Err(which(draft, items, at, &open));
    }
    let id = found[0];
    let reading = match item.weighing.is_nothing() {
        true => weigh::Reading::NOTHING,
        false => weigh::net(draft, &item.weighing)?,
    };
    let guessed = draft.kitchen.batch(id).estimated();
    let booked = held(draft, &counted(draft, id, reading.net()), id);
    let large = is_far(reading.net(), booked);
    // A batch that was thought to be finished may well be found again.
    if large && !guessed && !anyway && booked.mg() > 0 {
        return Err(confirm(items, at, reading.net(), booked));
    }
    Ok(write_count(draft, id, reading))
}

/// Whether a count is so far from the books that it may be something else.
pub fn is_far(counted: Mass, booked: Mass) -> bool {
    let difference = (counted - booked).abs();
    difference > LARGE && difference > booked.share(LARGE_SHARE)
}

/// A weighing of what is left of a batch whose whole is known.
pub fn count_as(draft: &mut Draft, id: BatchId, reading: weigh::Reading) -> Step {
    let lines = vec![write_count(draft, id, reading)];
    draft.settle();
    Ok(Done::saying(Answer::Count(CountAnswer {
        lines,
        notes: Vec::new(),
        message: draft.credit,
    })))
}

/// The lots that a count speaks of, what is drawn first in front: what stands ready, or, where that fits
/// the scale and nothing else does, all with what is frozen.
fn counted(draft: &Draft, id: BatchId, net: Mass) -> Vec<AccountId> {
    let batch = draft.kitchen.batch(id);
    let holding: Vec<&Lot> = in_turn(&draft.kitchen, &[id])
        .into_iter()
        .map(|(_, lot)| lot)
        .filter(|lot| lot.held_at(batch, draft.occurred_at).mg() > 0)
        .collect();
    let ids = |lots: &[&Lot]| -> Vec<AccountId> { lots.iter().map(|lot| lot.id).collect() };
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

/// What these lots of a batch held at the time of the count.
fn held(draft: &Draft, lots: &[AccountId], id: BatchId) -> Mass {
    let batch = draft.kitchen.batch(id);
    let own = batch.lots.iter().filter(|lot| lots.contains(&lot.id));
    own.map(|lot| lot.held_at(batch, draft.occurred_at)).sum()
}

pub fn write_count(draft: &mut Draft, id: BatchId, reading: weigh::Reading) -> CountLine {
    let lots = counted(draft, id, reading.net());
    let mut difference = reading.net() - held(draft, &lots, id);
    let batch = draft.kitchen.batch(id);
    let line = CountLine {
        name: batch.name.clone(),
        batch: batch.code.clone(),
        counted: reading.net(),
        difference,
    };
    // Of a batch that nobody has weighed a count tells the whole: there is nothing to differ from.
    let pot = draft.pot(id);
    let whole = lots.iter().all(|lot| Account::Lot(*lot) == pot);
    if batch.estimated() && whole {
        let ends = (Account::Difference, pot);
        let counted = Some(Detail::Weighing {
            gross: reading.gross,
            tare: reading.tare,
        });
        draft.enter(EntryKind::Count, ends, Mass::ZERO, Some(id), None, counted);
        return line;
    }
    let alone = lots.len() == 1;
    for (at, lot) in lots.iter().enumerate() {
        let before = held(draft, &[*lot], id);
        // What is missing was taken from what is drawn first.
        let change = difference.max(Mass::ZERO - before);
        let last = at + 1 == lots.len();
        if change.is_zero() && !(alone || last && at == 0) {
            continue;
        }
        difference -= change;
        let detail = match alone {
            true => Detail::Weighing {
                gross: reading.gross,
                tare: reading.tare,
            },
            false => Detail::Weighing {
                gross: before + change,
                tare: Mass::ZERO,
            },
        };
        let ends = (Account::Difference, Account::Lot(*lot));
        draft.enter(EntryKind::Count, ends, change, Some(id), None, Some(detail));
    }
    line
}

/// One reading does not tell several batches of one name apart.
fn which(draft: &Draft, items: &[Weighed], at: usize, open: &[BatchId]) -> Stop {
    let options = open.iter().map(|id| {
        let batch = draft.kitchen.batch(*id);
        let mut chosen = items.to_vec();
        chosen[at].name = Words::plain(batch.code.clone());
        let command = Command::Count {
            items: chosen,
            anyway: false,
        };
        Choice {
            label: format!(
                "{} {}: {} g",
                batch.name,
                batch.code,
                draft.held(*id).grams()
            ),
            says: command.to_string(),
        }
    });
    let options = options.collect();
    find::ask(About::WhichBatch, &items[at].name.text, None, options)
}

fn confirm(items: &[Weighed], at: usize, counted: Mass, booked: Mass) -> Stop {
    let name = items[at].name.text.clone();
    let command = Command::Count {
        items: items.to_vec(),
        anyway: true,
    };
    let only_this = Command::Count {
        items: vec![Weighed {
            name: Words::plain(name.clone()),
            weighing: Weighing::net(booked.grams(), 0..0),
        }],
        anyway: false,
    };
    let options = vec![
        Choice {
            label: format!("yes, {} g", counted.grams()),
            says: command.to_string(),
        },
        Choice {
            label: format!("no, the books are right: {} g", booked.grams()),
            says: only_this.to_string(),
        },
    ];
    let problem = ProblemKind::FarFromBooks {
        name: name.clone(),
        counted,
        booked,
    };
    find::ask(TooMuch::ABOUT, &name, Some(problem), options)
}

pub fn waste(draft: &mut Draft, items: &[Item], reason: Option<&str>, anyway: bool) -> Step {
    let mut lines = Vec::new();
    for item in items {
        waste_one(draft, items, item, reason, anyway, &mut lines)?;
    }
    draft.settle();
    for line in &mut lines {
        let batch = draft
            .kitchen
            .batches
            .values()
            .find(|batch| batch.code == line.batch);
        line.left = batch.map_or(Mass::ZERO, super::super::batch::Batch::left);
    }
    Ok(Done::saying(Answer::Waste(DrawAnswer {
        lines,
        reason: reason.map(str::to_owned),
        notes: Vec::new(),
        message: draft.credit,
    })))
}

fn waste_one(
    draft: &mut Draft,
    items: &[Item],
    item: &Item,
    reason: Option<&str>,
    anyway: bool,
    lines: &mut Vec<DrawLine>,
) -> Result<(), Stop> {
    let found = find::batches(draft, &item.name)?;
    let thing = Thing::Batches(found.clone());
    let measured = Measured {
        thing: &thing,
        name: &item.name.text,
    };
    let problem = |kind: ProblemKind| Stop::Problem(kind.at(item.span.clone()));
    let mass = match meant(&draft.kitchen, &item.amount, &measured).map_err(problem)? {
        Meant::Quantity(quantity) => quantity.mass,
        Meant::Share(share) => draft.held(found[0]).share(share),
        Meant::Uncounted | Meant::Either(..) => {
            let name = item.name.text.clone();
            return Err(problem(ProblemKind::MissingAmount { name }));
        }
    };
    if mass.mg() <= 0 {
        let name = draft.kitchen.batch(found[0]).name.clone();
        return Err(problem(ProblemKind::UsedUp { name, food: None }));
    }
    let drawn = draw(draft, &found, mass, anyway).map_err(|too_much| {
        let mut options = vec![Choice {
            label: format!("{} g all the same", too_much.asked.grams()),
            says: says(items, reason, true),
        }];
        if too_much.left.mg() > 0 && items.len() == 1 {
            let mut left = items.to_vec();
            left[0].amount = Amount::Mass(too_much.left.grams());
            options.push(Choice {
                label: format!("only the {} g that are left", too_much.left.grams()),
                says: says(&left, reason, false),
            });
        }
        find::ask(
            TooMuch::ABOUT,
            &item.name.text,
            Some(too_much.problem()),
            options,
        )
    })?;
    for piece in drawn {
        let ends = (piece.lot, Account::Waste);
        draft.enter(
            EntryKind::Waste,
            ends,
            piece.mass,
            Some(piece.batch),
            None,
            None,
        );
        let batch = draft.kitchen.batch(piece.batch);
        lines.push(DrawLine {
            name: batch.name.clone(),
            batch: batch.code.clone(),
            mass: piece.mass,
            left: batch.left(),
        });
    }
    Ok(())
}

fn says(items: &[Item], reason: Option<&str>, anyway: bool) -> String {
    Command::Waste {
        items: items.to_vec(),
        reason: reason.map(str::to_owned),
        anyway,
    }
    .to_string()
}
