//! A recount: the scale says what is left, of a dish or of what stands in one place.

use super::super::answer::{About, Answer, CountAnswer, CountLine};
use super::super::batch::Lot;
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::{Choice, PlaceKind};
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::problem::{FarCount, ProblemKind};
use super::super::resolve::key;
use super::super::view;
use super::draw::TooMuch;
use super::shortage::drift;
use super::{Done, Step, Stop, find, weigh};
use crate::lang::syntax::{Amount, Command, Destination, Item, Move, Weighed, Weighing, Words};

/// A count that differs by so much, and by such a share of the books, is asked about first.
const LARGE: Mass = Mass::from_mg(200_000);
const LARGE_SHARE: f64 = 0.5;

/// What one item of a count is about.
struct Counted {
    batch: BatchId,
    /// What is drawn first in front.
    lots: Vec<AccountId>,
    reading: weigh::Reading,
    place: Option<String>,
}

pub fn count(draft: &mut Draft, items: &[Weighed], anyway: bool) -> Step {
    let mut counted = Vec::new();
    for at in 0..items.len() {
        counted.push(counted_one(draft, items, at)?);
    }
    let far: Vec<usize> = (0..items.len())
        .filter(|at| !anyway && is_doubtful(draft, &counted[*at]))
        .collect();
    if !far.is_empty() {
        return Err(confirm(draft, items, &counted, &far));
    }
    let lines = counted.iter().map(|one| write(draft, one)).collect();
    Ok(answer(draft, lines))
}

/// A weighing of what is left of a batch whose whole is known.
pub fn count_as(draft: &mut Draft, id: BatchId, reading: weigh::Reading) -> Step {
    let line = write_count(draft, id, reading);
    Ok(answer(draft, vec![line]))
}

pub fn write_count(draft: &mut Draft, id: BatchId, reading: weigh::Reading) -> CountLine {
    let counted = Counted {
        batch: id,
        lots: everywhere(draft, id, reading.net()),
        reading,
        place: None,
    };
    write(draft, &counted)
}

fn answer(draft: &mut Draft, lines: Vec<CountLine>) -> Done {
    draft.settle();
    let counted = |lot: &Lot| draft.changes.iter().any(|change| change.counts(lot.id));
    let batches = draft.kitchen.batches.values();
    let concerned = batches.filter(|batch| batch.lots.iter().any(counted));
    let elsewhere = concerned.flat_map(|batch| {
        let others = batch.lots.iter().filter(|lot| !counted(lot));
        let others = others.filter(|lot| lot.balance.mg() > 0);
        others.map(|lot| view::lot(&draft.kitchen, batch, lot))
    });
    Done::saying(Answer::Count(CountAnswer {
        elsewhere: elsewhere.collect(),
        lines,
        today: draft.today(),
        notes: Vec::new(),
        message: draft.credit,
    }))
}

fn counted_one(draft: &Draft, items: &[Weighed], at: usize) -> Result<Counted, Stop> {
    let item = &items[at];
    let nothing = item.weighing.is_nothing();
    let mut found = find::batches(draft, &item.name)?;
    if let Some(place) = &item.place {
        let there = |id: &BatchId| !in_place(draft, *id, place).is_empty();
        let standing: Vec<BatchId> = found.iter().copied().filter(there).collect();
        if standing.is_empty() && !nothing {
            return Err(not_there(draft, items, at, found[0]));
        }
        if !standing.is_empty() {
            found = standing;
        }
    }
    if !nothing && let Some(open) = find::not_told_apart(draft, &found) {
        return Err(which(draft, items, at, &open));
    }
    let batch = found[0];
    let reading = match nothing {
        true => weigh::Reading::NOTHING,
        false => weigh::net(draft, &item.weighing)?,
    };
    let lots = match &item.place {
        Some(place) => in_place(draft, batch, place),
        None => everywhere(draft, batch, reading.net()),
    };
    Ok(Counted {
        batch,
        lots,
        reading,
        place: item.place.as_ref().map(|place| place.text.clone()),
    })
}

/// So far from the books that it may be a slip; a batch that was thought to be finished may well be found again.
fn is_doubtful(draft: &Draft, one: &Counted) -> bool {
    let guessed = draft.kitchen.batch(one.batch).estimated();
    let booked = held(draft, &one.lots, one.batch);
    !guessed && booked.mg() > 0 && is_far(one.reading.net(), booked)
}

/// Whether a count is so far from the books that it may be something else.
pub fn is_far(counted: Mass, booked: Mass) -> bool {
    let difference = (counted - booked).abs();
    difference > LARGE && difference > booked.share(LARGE_SHARE)
}

/// The lots of a batch that hold something at the time of the count, what is drawn first in front.
fn holding<'a>(draft: &'a Draft, id: BatchId) -> Vec<&'a Lot> {
    let batch = draft.kitchen.batch(id);
    draft
        .kitchen
        .in_turn(&[id])
        .into_iter()
        .map(|(_, lot)| lot)
        .filter(|lot| lot.held_at(batch, draft.occurred_at).mg() > 0)
        .collect()
}

fn ids(lots: &[&Lot]) -> Vec<AccountId> {
    lots.iter().map(|lot| lot.id).collect()
}

/// The lots that a count speaks of which names no place: what stands ready, or, where that fits the scale and
/// nothing else does, all with what is frozen.
fn everywhere(draft: &Draft, id: BatchId, net: Mass) -> Vec<AccountId> {
    let batch = draft.kitchen.batch(id);
    let holding = holding(draft, id);
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

/// The lots that stand ready, or, where none does, those that are frozen.
pub fn ready(draft: &Draft, id: BatchId) -> Vec<AccountId> {
    let holding = holding(draft, id);
    let frozen = |lot: &&&Lot| draft.kitchen.is_frozen(lot);
    let ready: Vec<&Lot> = holding.iter().filter(|lot| !frozen(lot)).copied().collect();
    match ready.is_empty() {
        true => ids(&holding),
        false => ids(&ready),
    }
}

/// The lots that stand in a place by the books. What nobody has given a place stands in the fridge, as its date
/// is reckoned.
pub fn in_place(draft: &Draft, id: BatchId, place: &Words) -> Vec<AccountId> {
    let kitchen = &draft.kitchen;
    let wanted = key(&place.text);
    let mut places = kitchen.places.iter();
    let known = places.find(|place| key(&place.name) == wanted);
    let holding = holding(draft, id);
    let of = |place: Option<PlaceId>| {
        let there: Vec<&Lot> = holding
            .iter()
            .copied()
            .filter(|lot| lot.place == place)
            .collect();
        ids(&there)
    };
    let there = known.map(|place| of(Some(place.id))).unwrap_or_default();
    let fridge = match known {
        Some(place) => place.kind == PlaceKind::Fridge,
        None => wanted.contains("fridge"),
    };
    match there.is_empty() && fridge {
        true => of(None),
        false => there,
    }
}

/// What these lots of a batch held at the time of the count.
fn held(draft: &Draft, lots: &[AccountId], id: BatchId) -> Mass {
    let batch = draft.kitchen.batch(id);
    let own = batch.lots.iter().filter(|lot| lots.contains(&lot.id));
    own.map(|lot| lot.held_at(batch, draft.occurred_at)).sum()
}

fn write(draft: &mut Draft, one: &Counted) -> CountLine {
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

/// By the books nothing of it stands there: it was put there, or another place is meant.
fn not_there(draft: &Draft, items: &[Weighed], at: usize, id: BatchId) -> Stop {
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
    let mut others = items.to_vec();
    others.remove(at);
    let counted = |items: Vec<Weighed>| Command::Count {
        items,
        anyway: false,
    };
    let mut options = Vec::new();
    if holding(draft, id)
        .iter()
        .any(|lot| lot.balance + drift(batch) >= net)
    {
        let moved = Command::Move(Move {
            items: vec![Item {
                amount: Amount::Mass(net.grams()),
                name: Words::plain(batch.code.clone()),
                container: None,
                span: 0..0,
            }],
            to: Destination::Place(place.clone()),
            from: None,
            parts_grams: Vec::new(),
        });
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
        let mut chosen = items.to_vec();
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

/// All that is far from the books is asked about at once.
fn confirm(draft: &Draft, items: &[Weighed], counted: &[Counted], far: &[usize]) -> Stop {
    let command = Command::Count {
        items: items.to_vec(),
        anyway: true,
    };
    let dishes: Vec<FarCount> = far
        .iter()
        .map(|at| FarCount {
            name: items[*at].name.text.clone(),
            place: counted[*at].place.clone(),
            counted: counted[*at].reading.net(),
            booked: held(draft, &counted[*at].lots, counted[*at].batch),
        })
        .collect();
    let names: Vec<&str> = dishes.iter().map(|dish| dish.name.as_str()).collect();
    let words = names.join(", ");
    // The books' own figure, counted, changes nothing and says that somebody looked.
    let mut by_the_books = items.to_vec();
    for (at, dish) in far.iter().zip(&dishes) {
        by_the_books[*at].weighing = Weighing::net(dish.booked.grams(), 0..0);
    }
    let labels = match dishes.as_slice() {
        [one] => (
            format!("yes, {} g", one.counted.grams()),
            format!("no, the books are right: {} g", one.booked.grams()),
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
            says: Command::Count {
                items: by_the_books,
                anyway: false,
            }
            .to_string(),
        },
    ];
    if items.len() > far.len() {
        // Whoever drops the question drops the rest of the message too: it is named whole.
        let said = Command::Count {
            items: items.to_vec(),
            anyway: false,
        };
        options.push(Choice::as_said(said.to_string()));
    }
    let problem = ProblemKind::FarFromBooks { dishes };
    find::ask(TooMuch::ABOUT, &words, Some(problem), options)
}
