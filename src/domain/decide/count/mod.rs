//! A recount: the scale says what is left, of a dish or of what stands in one place.

mod ask;
mod lean;
mod lots;
pub mod waiting;

pub use ask::topped_up;
pub use lots::{booked, held, in_place, in_vessel, ready};

use chrono::{DateTime, Duration, Utc};

use super::super::answer::{Answer, CountAnswer, CountLine};
use super::super::batch::{Batch, Lot};
use super::super::change::{Change, Detail};
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::pieces;
use super::super::problem::ProblemKind;
use super::super::view;
use super::shortage::drift;
use super::{Done, Step, Stop, find, sheet, vessel, weigh, weighed_again};
use crate::lang::syntax::{Amount, Command, Rest, Weighed, Weighing, Words};
use lots::{everywhere, holding, ids};

/// A count that differs by so much, and by such a share of the books, is asked about first. A dinner for all is
/// no slip, several are.
const LARGE: Mass = Mass::from_mg(200_000);
const LARGE_SHARE: f64 = 0.5;
const DINNERS: Mass = Mass::from_mg(500_000);
const DINNERS_SHARE: f64 = 1.0 / 3.0;
/// The same of more than there was: nothing grows by itself.
const GAIN_SHARE: f64 = 0.1;

/// What one item of a count is about.
struct Counted {
    batch: BatchId,
    /// What is drawn first in front.
    lots: Vec<AccountId>,
    reading: weigh::Reading,
    place: Option<String>,
    /// As it was said: what was weighed in a vessel stands in it.
    weighing: Option<Weighing>,
}

/// What a count says.
#[derive(Clone)]
struct Said {
    items: Vec<Weighed>,
    rest: Option<Rest>,
}

impl Said {
    /// The sentence with other items.
    fn with(&self, items: Vec<Weighed>, anyway: bool) -> Command {
        let rest = self.rest;
        Command::Count {
            items,
            rest,
            anyway,
        }
    }
}

pub fn count(draft: &mut Draft, items: &[Weighed], rest: Option<Rest>, anyway: bool) -> Step {
    let items = each_batch(draft, items);
    let said = Said { items, rest };
    if rest.is_none() && said.items.iter().all(|item| is_no_news(draft, item)) {
        return Err(ProblemKind::NothingToFix.into());
    }
    let mut counted = Vec::new();
    for at in 0..said.items.len() {
        counted.push(counted_one(draft, &said, at, anyway)?);
    }
    let far: Vec<usize> = (0..counted.len())
        .filter(|at| !anyway && is_doubtful(draft, &counted[*at]))
        .collect();
    if !far.is_empty() {
        return Err(ask::confirm(draft, &said, &counted, &far));
    }
    for question in waiting::answered(draft, &counted) {
        draft.push(Change::CloseQuestion(question));
    }
    let mut lines: Vec<CountLine> = counted.iter().map(|one| write(draft, one)).collect();
    for one in all_others(draft, rest) {
        lines.push(write(draft, &one));
    }
    // "rest gone" where nothing stands.
    if lines.is_empty() {
        return super::sheet::sheet(draft);
    }
    Ok(answer(draft, lines))
}

/// "we're out of dal" among people, of what the books are out of as well.
fn is_no_news(draft: &Draft, item: &Weighed) -> bool {
    let found = find::batches(draft, &item.name);
    let out = |found: Vec<BatchId>| found.iter().all(|id| draft.held(*id).is_zero());
    item.weighing.is_nothing() && !draft.input.addressed && found.is_ok_and(out)
}

/// "dal gone", "dal same" of several batches of that name is said of each.
fn each_batch(draft: &Draft, items: &[Weighed]) -> Vec<Weighed> {
    let mut each = Vec::new();
    for item in items {
        let alike = item.weighing.is_nothing() || item.weighing.is_as_booked();
        let found = find::batches(draft, &item.name).ok().filter(|_| alike);
        let mut holding = found.unwrap_or_default();
        holding.retain(|id| match &item.place {
            Some(place) => !in_place(draft, *id, place).is_empty(),
            None => draft.held(*id).mg() > 0,
        });
        if holding.len() < 2 {
            each.push(item.clone());
            continue;
        }
        each.extend(holding.iter().map(|id| Weighed {
            name: Words::new(
                draft.kitchen.batch(*id).code.clone(),
                item.name.span.clone(),
            ),
            ..item.clone()
        }));
    }
    each
}

/// All that is left to say of what was not named. What nobody has weighed in is for its own count to tell.
fn all_others(draft: &Draft, rest: Option<Rest>) -> Vec<Counted> {
    let Some(rest) = rest else {
        return Vec::new();
    };
    let mut others = Vec::new();
    for batch in draft
        .kitchen
        .open_batches()
        .filter(|batch| !batch.estimated())
    {
        let mut lots = ids(&holding(draft, batch.id));
        lots.retain(|lot| !is_done(draft, batch, *lot));
        let net = match rest {
            Rest::Same => held(draft, &lots, batch.id),
            Rest::Gone => Mass::ZERO,
        };
        if !lots.is_empty() {
            others.push(Counted {
                batch: batch.id,
                lots,
                reading: weigh::Reading::of(net),
                place: None,
                weighing: None,
            });
        }
    }
    others
}

/// It is counted, by this message or on the walk that it is part of.
fn is_done(draft: &Draft, batch: &Batch, lot: AccountId) -> bool {
    let since = |opened_at: DateTime<Utc>| {
        let mut counts = batch.lot(lot).into_iter().flat_map(|lot| &lot.counts);
        counts.any(|count| count.occurred_at >= opened_at)
    };
    is_counted(draft, lot) || sheet::opened_at(draft).is_some_and(since)
}

fn is_counted(draft: &Draft, lot: AccountId) -> bool {
    draft.changes.iter().any(|change| change.counts(lot))
}

/// A weighing of what is left of a batch whose whole is known.
pub fn count_as(
    draft: &mut Draft,
    id: BatchId,
    reading: weigh::Reading,
    weighing: &Weighing,
) -> Step {
    let line = write_count(draft, id, reading, weighing);
    Ok(answer(draft, vec![line]))
}

pub fn write_count(
    draft: &mut Draft,
    id: BatchId,
    reading: weigh::Reading,
    weighing: &Weighing,
) -> CountLine {
    let counted = Counted {
        batch: id,
        lots: everywhere(draft, id, reading.net()),
        reading,
        place: None,
        weighing: Some(weighing.clone()),
    };
    write(draft, &counted)
}

fn answer(draft: &mut Draft, lines: Vec<CountLine>) -> Done {
    draft.settle();
    let notes = lean::noticed(draft).into_iter().collect();
    let walk = sheet::opened_at(draft).is_some();
    let kitchen = &draft.kitchen;
    let batches = kitchen.batches.values().filter(|batch| {
        let counted = batch.lots.iter().any(|lot| is_counted(draft, lot.id));
        counted || walk && batch.open
    });
    let elsewhere = batches.flat_map(|batch| {
        let done = |lot: &&Lot| match walk {
            true => is_done(draft, batch, lot.id),
            false => is_counted(draft, lot.id),
        };
        let others = batch.lots.iter().filter(move |lot| !done(lot));
        let others = others.filter(|lot| lot.balance > batch.crumbs());
        others.map(|lot| view::lot(kitchen, batch, lot))
    });
    Done::saying(Answer::Count(CountAnswer {
        elsewhere: elsewhere.collect(),
        walk,
        lines,
        today: draft.today(),
        notes,
        message: draft.credit,
    }))
}

fn counted_one(draft: &Draft, said: &Said, at: usize, anyway: bool) -> Result<Counted, Stop> {
    let item = &said.items[at];
    let nothing = item.weighing.is_nothing();
    let told = !nothing && !item.weighing.is_as_booked();
    let mut found = find::batches(draft, &item.name)?;
    if let Some(place) = &item.place {
        let there = |id: &BatchId| !in_place(draft, *id, place).is_empty();
        let standing: Vec<BatchId> = found.iter().copied().filter(there).collect();
        if standing.is_empty() && !nothing {
            return Err(ask::not_there(draft, said, at, found[0]));
        }
        if !standing.is_empty() {
            found = standing;
        }
    }
    if told && let Some(open) = find::not_told_apart(draft, &found) {
        return Err(ask::which(draft, said, at, &open));
    }
    let batch = found[0];
    let same = item.weighing.is_as_booked();
    let place = item.place.as_ref();
    let place = place.or_else(|| vessel::told_apart(draft, batch, &item.weighing));
    let standing = match place {
        Some(place) => in_place(draft, batch, place),
        None => ready(draft, batch),
    };
    let reading = match nothing || same {
        true => weigh::Reading::of(Mass::ZERO),
        false => match in_pieces(draft, batch, item) {
            Some(mass) => weigh::Reading::of(mass),
            None if anyway => weigh::net(draft, &item.weighing)?,
            None => vessel::reading(draft, batch, &standing, &item.weighing)
                .map_err(|stop| ask::without_vessel(said, at, stop))?,
        },
    };
    let lots = match place {
        Some(_) => standing,
        None if same => ids(&holding(draft, batch)),
        None => everywhere(draft, batch, reading.net()),
    };
    let reading = match same {
        true => weigh::Reading::of(held(draft, &lots, batch)),
        false => reading,
    };
    Ok(Counted {
        batch,
        lots,
        reading,
        place: place.map(|place| place.text.clone()),
        weighing: Some(item.weighing.clone()),
    })
}

/// "9 meatballs left" of a dish that is counted: what so many weigh, and where the books have as many, what they say.
fn in_pieces(draft: &Draft, id: BatchId, item: &Weighed) -> Option<Mass> {
    let [number] = item.weighing.readings_grams[..] else {
        return None;
    };
    let plain = item.weighing.tares.is_empty() && item.weighing.container.is_none();
    let said = pieces::said(&draft.kitchen, &[id], &Amount::Bare(number));
    let Some(pieces::Said::Pieces(count)) = said.filter(|_| plain) else {
        return None;
    };
    let lots = match &item.place {
        Some(place) => in_place(draft, id, place),
        None => ready(draft, id),
    };
    let batch = draft.kitchen.batch(id);
    let lots = lots.iter().filter_map(|lot| Some((id, batch.lot(*lot)?)));
    pieces::mass_of(&draft.kitchen, lots, count)
}

/// So far from the books that it may be a slip; a batch that was thought to be finished may well be found again.
fn is_doubtful(draft: &Draft, one: &Counted) -> bool {
    let guessed = draft.kitchen.batch(one.batch).estimated();
    let booked = held(draft, &one.lots, one.batch);
    let net = one.reading.net();
    // Who has the books before them and says that there is none has not slipped.
    let seen =
        net.is_zero() && (sheet::opened_at(draft).is_some() || is_said_gone(draft, one.batch));
    !guessed && !seen && booked.mg() > 0 && is_far(net, booked)
}

/// "dal's all gone": no digit that could have slipped, and of a pot that was eaten from or stood a while "finished" does
/// not say that it is cooked. What one is out of may stand in the cupboard, and "no more dal" may be said of a plate.
fn is_said_gone(draft: &Draft, id: BatchId) -> bool {
    let text = draft.input.text.to_lowercase();
    let doubtful = ["out of", "no more"].iter().any(|said| text.contains(said));
    let plain = !text.contains(|sign: char| sign.is_ascii_digit()) && !doubtful;
    let since = draft.occurred_at - draft.kitchen.batch(id).made_at;
    plain && (weighed_again::is_touched(draft, id) || since >= Duration::hours(COOKED_HOURS))
}

/// So long after it was made nobody says any more that a pot is done.
const COOKED_HOURS: i64 = 6;

/// Whether a count is so far from the books that it may be something else.
pub fn is_far(counted: Mass, booked: Mass) -> bool {
    let difference = (counted - booked).abs();
    let share = match counted > booked {
        true => GAIN_SHARE,
        false if difference > DINNERS => DINNERS_SHARE,
        false => LARGE_SHARE,
    };
    difference > LARGE && difference > booked.share(share)
}

/// So little of what there is that somebody may have it on a plate.
pub fn is_little(net: Mass, booked: Mass) -> bool {
    let difference = booked - net;
    difference > LARGE && difference > booked.share(LARGE_SHARE)
}

/// Whether it is what the books hold, but for a share of that or the drift of scales.
pub fn is_near(draft: &Draft, id: BatchId, net: Mass, share: f64) -> bool {
    let booked = booked(draft, id, net);
    let slack = drift(draft.kitchen.batch(id)).max(booked.share(share));
    (net - booked).abs() <= slack
}

fn write(draft: &mut Draft, one: &Counted) -> CountLine {
    let line = write_entries(draft, one);
    if let Some(weighing) = &one.weighing {
        vessel::keep(draft, one.batch, &one.lots, weighing);
    }
    line
}

fn write_entries(draft: &mut Draft, one: &Counted) -> CountLine {
    let (id, lots, reading) = (one.batch, &one.lots, one.reading);
    let mut difference = reading.net() - held(draft, lots, id);
    let batch = draft.kitchen.batch(id);
    let mut line = CountLine {
        unweighed: Mass::ZERO,
        name: batch.name.clone(),
        batch: batch.code.clone(),
        place: one.place.clone(),
        counted: reading.net(),
        difference,
    };
    // Of a batch that nobody has weighed a count tells the whole: there is nothing to differ from.
    let pot = draft.pot(id);
    let whole = lots.iter().all(|lot| Account::Lot(*lot) == pot);
    if batch.estimated() && whole && one.place.is_none() {
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
        // What is missing was taken from what is drawn first; what is found too much stands there.
        let last = at + 1 == lots.len();
        let change = match last {
            true => difference,
            false => difference.max(Mass::ZERO - before),
        };
        difference -= change;
        // Each lot is counted, whether it differs or not: so the sum stays true whatever is put right of before.
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
        let account = account_of(draft, id, *lot, change);
        if account == Account::Unweighed {
            line.unweighed -= change;
        }
        let ends = (account, Account::Lot(*lot));
        draft.enter(EntryKind::Count, ends, change, Some(id), None, Some(detail));
    }
    line
}

/// What is missing of a lot that somebody took from since its last count went with them.
fn account_of(draft: &Draft, id: BatchId, lot: AccountId, change: Mass) -> Account {
    let batch = draft.kitchen.batch(id);
    let now = draft.occurred_at;
    let taken = batch.lot(lot).is_some_and(|lot| {
        let before = lot.counts.iter().map(|count| count.occurred_at);
        let last = before.filter(|counted| *counted <= now).max();
        lot.was_taken_from(batch, last, now)
    });
    match change.is_negative() && taken {
        true => Account::Unweighed,
        false => Account::Difference,
    }
}
