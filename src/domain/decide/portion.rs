//! A portion: what somebody eats, drawn from batches and plain foods.

use chrono::Duration;

use super::super::answer::{About, Answer, Note, PlateView, PortionAnswer, PortionLine};
use super::super::assumption::{Assumption, FoodState};
use super::super::change::Detail;
use super::super::composition::Composition;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::{Choice, Member};
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::nutrients::Totals;
use super::super::problem::ProblemKind;
use super::super::quantity::{Meant, Measured, Quantity, meant};
use super::super::resolve::{Resolved, Thing, Unresolved, Use, key, resolve};
use super::draw::{TooMuch, draw};
use super::{Done, Step, Stop, find};
use crate::foods::{self, Code};
use crate::lang::syntax::{Amount, Command, Item, Portion, Words};

/// One line of the plate, before it is written.
struct Taken {
    thing: Thing,
    quantity: Quantity,
    assumptions: Vec<Assumption>,
    name: String,
}

pub fn portion(draft: &mut Draft, portion: &Portion) -> Step {
    let member = whose(draft, portion)?;
    let today = draft.today();
    let day = match &portion.day {
        Some(day) => find::date(day, today)?,
        None => today,
    };
    if day > today {
        return Err(ProblemKind::FutureDate.into());
    }
    draft.occurred_at = draft.input.said_at - Duration::days((today - day).num_days());
    let mut notes = Vec::new();
    let mut taken = Vec::new();
    for (at, item) in portion.items.iter().enumerate() {
        match take(draft, portion, at, item)? {
            Some(line) => taken.push(line),
            None => notes.push(Note::NotCounted {
                words: item.name.text.clone(),
            }),
        }
    }
    if taken.is_empty() {
        return Err(ProblemKind::MissingAmount {
            name: portion
                .items
                .first()
                .map_or_else(String::new, |item| item.name.text.clone()),
        }
        .into());
    }
    let plate = draft.plate(member.id, day, portion.meal);
    let mut lines = Vec::new();
    for (at, line) in taken.into_iter().enumerate() {
        write(draft, portion, at, line, plate, &mut lines, &mut notes)?;
    }
    draft.settle();
    Ok(Done::saying(answer(
        draft, portion, member, day, lines, notes,
    )))
}

fn whose(draft: &Draft, portion: &Portion) -> Result<Member, Stop> {
    let member = match &portion.who {
        None => draft.kitchen.member(draft.input.sender),
        Some(who) => {
            let wanted = key(&who.text);
            let found = draft
                .kitchen
                .members
                .iter()
                .find(|member| key(&member.name) == wanted);
            if found.is_none() {
                let near = draft
                    .kitchen
                    .members
                    .iter()
                    .map(|member| member.name.clone());
                let kind = ProblemKind::UnknownName {
                    words: who.text.clone(),
                    near: near.collect(),
                };
                return Err(Stop::Problem(kind.at(who.span.clone())));
            }
            found
        }
    };
    Ok(member.expect("whoever sends is a member").clone())
}

/// What an item is and how much of it; `None` for a pinch, which is named and not counted.
fn take(draft: &Draft, portion: &Portion, at: usize, item: &Item) -> Result<Option<Taken>, Stop> {
    let resolved = match resolve(&draft.kitchen, &item.name, Use::Eaten, draft.today()) {
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
    if let Some(stop) = dry_on_a_plate(portion, at, &resolved) {
        return Err(stop);
    }
    let measured = Measured {
        thing: &resolved.thing,
        name: &item.name.text,
    };
    let problem = |kind: ProblemKind| Stop::Problem(kind.at(item.span.clone()));
    let quantity = match meant(&draft.kitchen, &item.amount, &measured).map_err(problem)? {
        Meant::Uncounted => return Ok(None),
        Meant::Quantity(quantity) => quantity,
        Meant::Share(share) => share_of(draft, &resolved.thing, share, item)?,
        Meant::Between(low, high) => {
            let options = [low, high].map(|mass| {
                let amount = Amount::Mass(mass.grams());
                option(
                    portion,
                    at,
                    amount,
                    item.name.clone(),
                    format!("{} g", mass.grams()),
                )
            });
            return Err(find::ask(
                About::HowMuch,
                &item.name.text,
                None,
                options.into(),
            ));
        }
    };
    Ok(Some(Taken {
        assumptions: [resolved.assumptions, quantity.assumptions.clone()].concat(),
        name: name_of(draft, &resolved.thing),
        thing: resolved.thing,
        quantity,
    }))
}

/// "12 quonks dal": the first word stands where a unit should, before a name that is known.
fn unit_like(draft: &Draft, name: &Words) -> bool {
    let Some((first, rest)) = name.text.split_once(' ') else {
        return false;
    };
    let rest = Words::plain(rest.trim_start_matches("of "));
    !foods::table().knows_word(first)
        && resolve(&draft.kitchen, &rest, Use::Eaten, draft.today()).is_ok()
}

/// "half the dal": of what is left of it now.
fn share_of(draft: &Draft, thing: &Thing, share: f64, item: &Item) -> Result<Quantity, Stop> {
    let Thing::Batches(batches) = thing else {
        let name = item.name.text.clone();
        return Err(Stop::Problem(
            ProblemKind::MissingAmount { name }.at(item.span.clone()),
        ));
    };
    let first = draft.kitchen.batch(batches[0]);
    let mass = first.left().share(share);
    if mass.mg() <= 0 {
        let name = first.name.clone();
        return Err(ProblemKind::UsedUp { name, food: None }.into());
    }
    Ok(Quantity {
        mass,
        // A share of a pot is judged by eye.
        estimated: share < 1.0,
        assumptions: Vec::new(),
    })
}

/// Rice, lentils and pasta are eaten cooked but may have been weighed dry; the difference is
/// threefold, so it is asked about once and then remembered.
fn dry_on_a_plate(portion: &Portion, at: usize, resolved: &Resolved) -> Option<Stop> {
    let Thing::Food(code) = resolved.thing else {
        return None;
    };
    let cooked = resolved
        .assumptions
        .iter()
        .find_map(|assumption| match assumption {
            Assumption::State {
                taken: FoodState::Dry,
                other,
            } => Some(*other),
            _ => None,
        })?;
    let item = &portion.items[at];
    let problem = ProblemKind::UnknownFood {
        words: item.name.text.clone(),
        near: vec![cooked, code],
    };
    let options = food_options(portion, at, &[cooked, code]);
    Some(find::ask(
        About::WhichFood,
        &item.name.text,
        Some(problem),
        options,
    ))
}

/// The question which thing an item means, with the whole message in every option.
fn which(draft: &Draft, portion: &Portion, at: usize, unresolved: Unresolved) -> Stop {
    let item = &portion.items[at];
    let problem = unresolved.clone().problem(&item.name.text);
    let (about, options) = match unresolved {
        Unresolved::WhichBatch { batches, food } => {
            let mut options: Vec<Choice> = batches
                .iter()
                .map(|id| batch_option(draft, portion, at, *id))
                .collect();
            options.extend(food_options(portion, at, food.as_slice()));
            (About::WhichBatch, options)
        }
        Unresolved::WhichFood(codes) => (About::WhichFood, food_options(portion, at, &codes)),
        Unresolved::Unknown { near, .. } => (About::WhichFood, food_options(portion, at, &near)),
        Unresolved::UsedUp { name, food } => {
            let mut options = food_options(portion, at, food.as_slice());
            let last = draft
                .kitchen
                .batches
                .values()
                .filter(|batch| batch.name == name && !batch.voided)
                .max_by_key(|batch| batch.id);
            if let Some(last) = last {
                let mut again = portion.clone();
                again.anyway = true;
                let mut choice = batch_option(draft, &again, at, last.id);
                choice.label = format!("{} {} is not finished: recount", last.name, last.code);
                options.push(choice);
            }
            options.push(Choice {
                label: format!("a batch of {name} not entered yet"),
                says: format!("batch {name}"),
            });
            (About::WhichBatch, options)
        }
    };
    find::ask(about, &item.name.text, Some(problem), options)
}

fn batch_option(draft: &Draft, portion: &Portion, at: usize, id: BatchId) -> Choice {
    let batch = draft.kitchen.batch(id);
    let label = format!("{} {}", batch.name, batch.code);
    let name = Words::plain(batch.code.clone());
    option(portion, at, portion.items[at].amount.clone(), name, label)
}

fn food_options(portion: &Portion, at: usize, codes: &[Code]) -> Vec<Choice> {
    codes
        .iter()
        .filter_map(|code| {
            let food = foods::table().get(*code)?;
            let name = Words::plain(code.to_string());
            let amount = portion.items[at].amount.clone();
            Some(option(
                portion,
                at,
                amount,
                name,
                food.description.to_string(),
            ))
        })
        .collect()
}

/// The whole message with one item replaced: choosing it is as good as having written it.
fn option(portion: &Portion, at: usize, amount: Amount, name: Words, label: String) -> Choice {
    let mut chosen = portion.clone();
    chosen.items[at].amount = amount;
    chosen.items[at].name = name;
    Choice {
        label,
        says: Command::Portion(chosen).to_string(),
    }
}

fn write(
    draft: &mut Draft,
    portion: &Portion,
    at: usize,
    taken: Taken,
    plate: Account,
    lines: &mut Vec<PortionLine>,
    notes: &mut Vec<Note>,
) -> Result<(), Stop> {
    let mass = taken.quantity.mass;
    let line = |name: String, batch: Option<BatchId>, mass: Mass| PortionLine {
        name,
        batch: batch.map(|id| draft.kitchen.batch(id).code.clone()),
        food: None,
        packet: None,
        mass,
        mass_estimated: taken.quantity.estimated,
        left: None,
        batch_estimated: false,
        totals: Totals::default(),
        assumptions: taken.assumptions.clone(),
    };
    let profile = match &taken.thing {
        Thing::Batches(batches) => {
            let drawn = draw(draft, batches, mass, portion.anyway)
                .map_err(|too_much| confirm(portion, at, &too_much))?;
            notes.extend(drawn.note);
            for piece in drawn.pieces {
                let ends = (piece.lot, plate);
                draft.enter(
                    EntryKind::Portion,
                    ends,
                    piece.mass,
                    Some(piece.batch),
                    None,
                    None,
                );
                let name = draft.kitchen.batch(piece.batch).name.clone();
                lines.push(PortionLine {
                    batch: Some(draft.kitchen.batch(piece.batch).code.clone()),
                    name,
                    food: None,
                    packet: None,
                    mass: piece.mass,
                    mass_estimated: taken.quantity.estimated,
                    left: None,
                    batch_estimated: false,
                    totals: Totals::default(),
                    assumptions: taken.assumptions.clone(),
                });
            }
            return Ok(());
        }
        Thing::Food(code) => {
            let mut line = line(taken.name.clone(), None, mass);
            line.food = Some(*code);
            lines.push(line);
            draft.profile(*code)
        }
        Thing::Packet(profile) => {
            let mut line = line(taken.name.clone(), None, mass);
            line.packet = Some(taken.name.clone());
            lines.push(line);
            *profile
        }
    };
    let ends = (Account::Bought, plate);
    draft.enter(EntryKind::Portion, ends, mass, None, Some(profile), None);
    let totals = Totals::of(&draft.kitchen.profiles[&profile].per_100g, mass);
    lines.last_mut().expect("a line was pushed").totals = totals;
    Ok(())
}

/// More than the books hold: book it all the same, or only what is left.
fn confirm(portion: &Portion, at: usize, too_much: &TooMuch) -> Stop {
    let item = &portion.items[at];
    let mut all = portion.clone();
    all.anyway = true;
    let mut options = vec![Choice {
        label: format!("{} g all the same", too_much.asked.grams()),
        says: Command::Portion(all).to_string(),
    }];
    if too_much.left.mg() > 0 {
        let left = Amount::Mass(too_much.left.grams());
        let label = format!("only the {} g that are left", too_much.left.grams());
        options.push(option(portion, at, left, item.name.clone(), label));
    }
    find::ask(
        TooMuch::ABOUT,
        &item.name.text,
        Some(too_much.problem()),
        options,
    )
}

fn name_of(draft: &Draft, thing: &Thing) -> String {
    match thing {
        Thing::Batches(batches) => draft.kitchen.batch(batches[0]).name.clone(),
        Thing::Packet(profile) => draft
            .kitchen
            .profiles
            .get(profile)
            .map_or_else(String::new, |profile| profile.description.clone()),
        Thing::Food(code) => foods::table()
            .get(*code)
            .map_or_else(String::new, |food| food.description.to_string()),
    }
}

fn answer(
    draft: &Draft,
    portion: &Portion,
    member: Member,
    day: chrono::NaiveDate,
    mut lines: Vec<PortionLine>,
    notes: Vec<Note>,
) -> Answer {
    let mut composition = Composition::new(&draft.kitchen);
    let mut totals = Totals::default();
    for line in &mut lines {
        if let Some(code) = &line.batch {
            let batch = draft
                .kitchen
                .batches
                .values()
                .find(|batch| &batch.code == code);
            let batch = batch.expect("a drawn batch is loaded");
            line.left = Some(batch.left());
            line.batch_estimated = batch.estimated();
            line.totals = composition.portion(batch.id, line.mass);
        }
        totals.add(&line.totals);
    }
    Answer::Portion(PortionAnswer {
        plates: vec![PlateView {
            member: member.name,
            day,
            meal: portion.meal,
            lines,
            totals,
        }],
        notes,
        message: draft.credit,
    })
}

/// From now on these words mean this food here.
pub fn remember(draft: &mut Draft, words: &str, food: Code) {
    let key = key(words);
    if !key.is_empty() && key.parse::<Code>().is_err() {
        draft.fact(Detail::Choice { key, food });
    }
}

/// An amount in few words, for a button.
pub fn amount_label(amount: &Amount) -> String {
    match amount {
        Amount::Mass(grams) => format!("{grams} g"),
        Amount::Bare(number) => number.to_string(),
        other => format!("{other:?}"),
    }
}
