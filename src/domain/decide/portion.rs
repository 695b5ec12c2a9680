//! A portion: what somebody eats, drawn from batches and plain foods.

use std::collections::BTreeMap;

use chrono::{Duration, NaiveDate};

use super::super::answer::{About, Answer, Note, PortionAnswer};
use super::super::assumption::Assumption;
use super::super::change::{Change, Detail};
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::FoodChoice;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::plate::{Plate, PlatePortion};
use super::super::problem::ProblemKind;
use super::super::quantity::{self, Meant, Measured, Quantity};
use super::super::resolve::{Thing, Unresolved, Use, key, resolve_amount};
use super::super::stands::Places;
use super::super::view;
use super::divide::{self, Division};
use super::draw::{From, Piece, draw};
use super::of_pot::{count_first, share_of, taken_before};
use super::same_plate::same_again;
use super::scale;
use super::which::{
    self, before_its_pot, confirm, dry_on_a_plate, grams, nearly_next, option, unit_like, which,
    which_share,
};
use super::{Done, Step, Stop, big_plate, count, find, near_books, onto, served_in, when};
use crate::foods::Code;
use crate::lang::syntax::{Amount, Item, Portion};

/// One line of the plate, before it is written.
pub struct Taken {
    pub thing: Thing,
    /// Where it is taken from, if that was said.
    pub from: Option<Places>,
    pub quantity: Quantity,
    assumptions: Vec<Assumption>,
}

pub fn portion(draft: &mut Draft, portion: &Portion) -> Step {
    match scale::added(draft, portion)? {
        Some(added) => place(draft, &added, false),
        None => match near_books::counted(draft, portion)? {
            Some(counted) => count::count(draft, &counted, None, false),
            None => place(draft, portion, false),
        },
    }
}

/// A portion that repeats another on purpose.
pub fn meant(draft: &mut Draft, portion: &Portion) -> Step {
    place(draft, portion, true)
}

pub fn place(draft: &mut Draft, portion: &Portion, repeats: bool) -> Step {
    let portion = &onto::meant(draft, portion)?;
    let today = draft.today();
    let day = match &portion.day {
        Some(day) => find::date(day, today)?,
        None => today,
    };
    if day > today {
        return Err(ProblemKind::FutureDate.into());
    }
    if let Some(stop) = nearly_next(portion, day, today) {
        return Err(stop);
    }
    draft.occurred_at = when::moment(draft, portion, day);
    let mut notes = Vec::new();
    let mut taken = Vec::new();
    for (at, item) in portion.items.iter().enumerate() {
        match take(draft, portion, at, item, &taken)? {
            Some(line) => {
                notes.extend(taken_before(draft, item, &line.thing));
                taken.push(line);
            }
            None => notes.push(Note::NotCounted {
                words: item.name.text.clone(),
            }),
        }
    }
    if taken.is_empty() {
        let Some(item) = portion.items.first() else {
            return Err(ProblemKind::MissingName.into());
        };
        // "some dal": how much of it?
        let name = item.name.text.clone();
        return Err(grams(portion, 0, ProblemKind::MissingAmount { name }));
    }
    if let Some(stop) = before_its_pot(draft, portion, day, &taken) {
        return Err(stop);
    }
    if !repeats && let Some(stop) = same_again(draft, portion, &taken) {
        return Err(stop);
    }
    let total = taken.iter().map(|line| line.quantity.mass).sum();
    let division = divide::divide(draft, portion, total)?;
    if let Some(stop) = big_plate::one_or_all(draft, portion, &taken, division.eaters[0].member) {
        return Err(stop);
    }
    let weights: Vec<f64> = division.eaters.iter().map(|eater| eater.weight).collect();
    let plates: Vec<AccountId> = division
        .eaters
        .iter()
        .map(|eater| plate_for(draft, portion, eater.member, day))
        .collect();
    let mut assumptions = BTreeMap::new();
    let told_at = draft.occurred_at;
    let told_when = portion.hour.is_some() || portion.earlier.is_some();
    for (at, line) in taken.into_iter().enumerate() {
        if let Some((made_at, note)) = when::made_later(draft, &line.thing, told_when) {
            // What was made later cannot leave the pot before; the plate keeps the day.
            draft.occurred_at = made_at;
            notes.extend(note);
        }
        notes.extend(write(
            draft,
            portion,
            at,
            line,
            &division,
            &weights,
            &plates,
            &mut assumptions,
        )?);
        draft.occurred_at = told_at;
    }
    draft.settle();
    Ok(Done::saying(answer(draft, &plates, notes, &assumptions)))
}

/// Counted, no plate of fruit weighs more.
const COUNTED_MOST: Mass = Mass::from_mg(2_500_000);

/// "30 apples on it": a bare number that would count more than anybody has on a plate is what the scale shows.
fn by_weight(item: &Item, quantity: Quantity) -> Quantity {
    match item.amount {
        Amount::Bare(grams) if quantity.estimated && quantity.mass > COUNTED_MOST => {
            let mass = Mass::weighed_out(grams).unwrap_or(quantity.mass);
            Quantity {
                mass,
                estimated: false,
                assumptions: Vec::new(),
            }
        }
        _ => quantity,
    }
}

/// How long a bowl stays open for more.
pub const BOWL_OPEN_MINUTES: i64 = 20;
/// A second bowl so soon after the first is of the same meal.
pub const MEAL_OPEN_MINUTES: i64 = 120;

/// The plate that a portion goes on: the person's open bowl, or a new one.
fn plate_for(draft: &mut Draft, portion: &Portion, member: MemberId, day: NaiveDate) -> AccountId {
    let now = draft.input.now;
    let last = draft
        .kitchen
        .plates
        .iter()
        .filter(|plate| plate.member == member && plate.day == day && !plate.portions.is_empty())
        .max_by_key(|plate| plate.touched_at());
    let age = |plate: &Plate| plate.touched_at().map(|touched| now - touched);
    let within =
        |plate: &Plate, minutes| age(plate).is_some_and(|age| age <= Duration::minutes(minutes));
    // "tonight" is not of the breakfast before it; without a word about when, it is more of the same.
    let unsaid = portion.meal.is_none() && portion.day.is_none();
    let meal_fits = |plate: &Plate| unsaid || portion.meal == plate.meal;
    if let Some(plate) = last {
        let open = !plate.closed && within(plate, BOWL_OPEN_MINUTES) && meal_fits(plate);
        if open || portion.with_last {
            return plate.id;
        }
    }
    // What was told of lunch in the evening says nothing of what is eaten then.
    let same_meal = last
        .filter(|plate| unsaid && within(plate, MEAL_OPEN_MINUTES))
        .and_then(|plate| plate.meal)
        .filter(|meal| when::is_hour_of(draft, *meal, draft.input.said_at));
    draft.plate(member, day, portion.meal.or(same_meal))
}

pub fn portion_label(draft: &Draft, portion: &PlatePortion) -> String {
    match (portion.batch, portion.profile) {
        (Some(batch), _) => draft
            .kitchen
            .batches
            .get(&batch)
            .map(|batch| batch.name.clone()),
        (None, Some(profile)) => draft
            .kitchen
            .profiles
            .get(&profile)
            .map(|known| known.description.clone()),
        (None, None) => None,
    }
    .unwrap_or_default()
}

/// What an item is and how much of it; `None` for a pinch, which is named and not counted.
fn take(
    draft: &Draft,
    portion: &Portion,
    at: usize,
    item: &Item,
    before: &[Taken],
) -> Result<Option<Taken>, Stop> {
    let item = &scale::without_container(draft, item)?;
    let amount = Some(&item.amount);
    let today = draft.today();
    let mut resolved = match resolve_amount(&draft.kitchen, amount, &item.name, Use::Eaten, today) {
        Ok(resolved) => resolved,
        Err(Unresolved::Unknown { .. }) if unit_like(draft, &item.name) => {
            let word = item
                .name
                .text
                .split(' ')
                .next()
                .unwrap_or_default()
                .to_owned();
            return Err(Stop::Problem(
                ProblemKind::UnknownUnit { word }.at(item.name.span.clone()),
            ));
        }
        Err(unresolved) => return Err(which(draft, portion, at, unresolved)),
    };
    if let Thing::Batches(batches) = &mut resolved.thing {
        *batches = draft.in_order(std::mem::take(batches));
    }
    let of_pot = matches!(resolved.thing, Thing::Batches(_)) && resolved.from.is_none();
    if of_pot && let Some(stop) = served_in::with_or_without(draft, portion, at) {
        return Err(stop);
    }
    if let Some(stop) = dry_on_a_plate(portion, at, &resolved) {
        return Err(stop);
    }
    let measured = Measured {
        thing: &resolved.thing,
        name: &item.name.text,
    };
    let problem = |kind: ProblemKind| Stop::Problem(kind.at(item.span.clone()));
    let meant = match quantity::meant(&draft.kitchen, &item.amount, &measured) {
        Err(kind @ ProblemKind::UnknownMeasure { .. }) => return Err(grams(portion, at, kind)),
        other => other.map_err(problem)?,
    };
    let quantity = match meant {
        Meant::Uncounted => return Ok(None),
        Meant::Quantity(quantity) => quantity,
        Meant::Share(share) => {
            if let Some(stop) = which_share(draft, portion, at, &resolved.thing) {
                return Err(stop);
            }
            share_of(draft, &resolved, share, item, before)?
        }
        Meant::Either(low, high) => {
            let options = [low, high].map(|amount| {
                let label = match amount {
                    Amount::Bare(_) => format!("{amount} {}", item.name.text),
                    _ => amount_label(&amount),
                };
                option(portion, at, amount, item.name.clone(), label)
            });
            let words = &item.name.text;
            return Err(which::ask(
                portion,
                About::HowMuch,
                words,
                None,
                options.into(),
            ));
        }
    };
    let quantity = by_weight(item, quantity);
    if let Some(stop) = count_first(draft, portion, item, &resolved.thing, quantity.mass) {
        return Err(stop);
    }
    Ok(Some(Taken {
        assumptions: [resolved.assumptions, quantity.assumptions.clone()].concat(),
        thing: resolved.thing,
        from: resolved.from,
        quantity,
    }))
}

/// That a lot is past its date is said once in so many hours.
const SAID_HOURS: i64 = 12;

/// Write one line, divided among the plates to the milligram.
#[allow(clippy::too_many_arguments)]
fn write(
    draft: &mut Draft,
    portion: &Portion,
    at: usize,
    taken: Taken,
    division: &Division,
    weights: &[f64],
    plates: &[AccountId],
    assumptions: &mut BTreeMap<EntryId, Vec<Assumption>>,
) -> Result<Vec<Note>, Stop> {
    let mut notes = Vec::new();
    let mass = taken.quantity.mass.share(division.times);
    let pieces: Vec<(Account, Mass, Option<BatchId>, Option<ProfileId>)> = match &taken.thing {
        Thing::Batches(batches) => {
            let from = From::told(taken.from.as_ref());
            let drawn = draw(draft, batches, mass, from, portion.anyway)
                .map_err(|too_much| confirm(portion, at, &too_much))?;
            notes.extend(drawn.iter().filter_map(|piece| past_date(draft, piece)));
            drawn
                .into_iter()
                .map(|piece| (piece.lot, piece.mass, Some(piece.batch), None))
                .collect()
        }
        Thing::Food(code) => vec![(Account::Bought, mass, None, Some(draft.profile(*code)))],
        Thing::Packet(profile) => vec![(Account::Bought, mass, None, Some(*profile))],
    };
    for (from, mass, batch, profile) in pieces {
        for (part, plate) in mass.split(weights).into_iter().zip(plates) {
            if part.is_zero() {
                continue;
            }
            let detail = Detail::Portion {
                estimated: taken.quantity.estimated,
            };
            let ends = (from, Account::Plate(*plate));
            let entry = draft.enter(EntryKind::Portion, ends, part, batch, profile, Some(detail));
            assumptions.insert(entry, taken.assumptions.clone());
        }
    }
    Ok(notes)
}

/// What is drawn was due before that day. It is not said again while people eat of the same lot.
fn past_date(draft: &Draft, piece: &Piece) -> Option<Note> {
    let batch = draft.kitchen.batch(piece.batch);
    let lot = batch.lot_of(piece.lot)?;
    let due_on = draft.kitchen.use_by(batch, lot)?.on;
    let said = |portion: &PlatePortion| {
        portion.from == piece.lot
            && portion.occurred_at >= draft.occurred_at - Duration::hours(SAID_HOURS)
    };
    let plates = draft.before.plates.iter();
    let told = plates.flat_map(|plate| &plate.portions).any(said);
    let past = due_on < draft.day_of(draft.occurred_at) && !told;
    past.then(|| Note::PastDate {
        name: batch.name.clone(),
        due_on,
    })
}

/// The plates as they now stand.
pub fn answer(
    draft: &Draft,
    plates: &[AccountId],
    notes: Vec<Note>,
    assumptions: &BTreeMap<EntryId, Vec<Assumption>>,
) -> Answer {
    let plates = plates.iter().filter_map(|id| draft.kitchen.plate(*id));
    Answer::Portion(PortionAnswer {
        plates: plates
            .map(|plate| view::plate(&draft.kitchen, plate, assumptions))
            .collect(),
        notes,
        message: draft.credit,
    })
}

/// The message whose answer grows, when everything that was put on plates went on an open bowl.
pub fn grown(draft: &Draft) -> Option<MessageId> {
    let mut openings = draft.changes.iter().filter_map(|change| match change {
        Change::Entry { entry, .. } if entry.kind == EntryKind::Portion => match entry.to {
            Account::Plate(id) => draft.kitchen.plate(id).map(|plate| plate.message),
            _ => None,
        },
        _ => None,
    });
    let first = openings.next()?;
    let one = openings.all(|message| message == first);
    (one && first != draft.credit).then_some(first)
}

/// From now on these words mean this food here.
pub fn remember(draft: &mut Draft, words: &str, food: Code, eaten: bool) {
    let key = key(words);
    if !key.is_empty() && key.parse::<Code>().is_err() {
        draft.fact(Detail::Choice(FoodChoice { key, food, eaten }));
    }
}

/// An amount in few words, for a button.
pub fn amount_label(amount: &Amount) -> String {
    match amount {
        Amount::Mass(grams) | Amount::Weighed { grams, .. } => format!("{grams} g"),
        Amount::Bare(number) => number.to_string(),
        other => other.to_string(),
    }
}
