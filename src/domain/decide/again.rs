//! A plate eaten again: the same as on another day, the same as last time, or one's usual.

use std::collections::BTreeMap;

use chrono::{Duration, NaiveDate};

use super::super::draft::Draft;
use super::super::mass::Mass;
use super::super::plate::Plate;
use super::super::problem::ProblemKind;
use super::{Step, find, portion};
use crate::lang::syntax::{Again, AgainOf, Amount, Item, Portion, Words};

/// How long somebody else's plate is what "the same" means.
const FRESH_MINUTES: i64 = 30;

pub fn again(draft: &mut Draft, again: &Again) -> Step {
    let today = draft.today();
    let mine = |plate: &&Plate| plate.member == draft.input.sender && !plate.portions.is_empty();
    let of_meal = |plate: &&Plate| again.meal.is_none() || plate.meal == again.meal;
    let plates: Vec<&Plate> = draft
        .kitchen
        .plates
        .iter()
        .filter(mine)
        .filter(of_meal)
        .collect();
    let items = match &again.of {
        AgainOf::Day(day) => {
            let date = find::date(day, today)?;
            let of_day = plates.iter().filter(|plate| plate.day == date);
            of_day.flat_map(|plate| items(draft, plate)).collect()
        }
        AgainOf::Last => {
            // "same for me": what somebody else has just had, if one's own is older.
            let last = draft
                .kitchen
                .plates
                .iter()
                .filter(|plate| plate.touched_at().is_some());
            let last = last.max_by_key(|plate| plate.touched_at());
            let fresh = last.filter(|plate| {
                plate.touched_at().is_some_and(|touched| {
                    draft.input.now - touched <= Duration::minutes(FRESH_MINUTES)
                })
            });
            let plate = fresh.or(plates.last().copied());
            plate.map(|plate| items(draft, plate)).unwrap_or_default()
        }
        AgainOf::Usual => usual(draft, &plates, today),
    };
    if items.is_empty() {
        return Err(ProblemKind::NothingToRepeat.into());
    }
    let again = Portion {
        items,
        meal: again.meal,
        ..Portion::default()
    };
    portion::meant(draft, &again)
}

/// What was on a plate, as it would be said today: dishes by their names, so that the batch that
/// stands ready now is drawn.
fn items(draft: &Draft, plate: &Plate) -> Vec<Item> {
    let mut sums: BTreeMap<String, Mass> = BTreeMap::new();
    for portion in &plate.portions {
        let name = match (portion.batch, portion.profile) {
            (Some(batch), _) => draft.kitchen.batch(batch).name.clone(),
            (None, Some(profile)) => match draft.kitchen.profiles.get(&profile) {
                Some(known) => match (known.food, &known.packet) {
                    (Some(code), _) => code.to_string(),
                    (None, Some(packet)) => packet.clone(),
                    (None, None) => continue,
                },
                None => continue,
            },
            (None, None) => continue,
        };
        *sums.entry(name).or_default() += portion.mass;
    }
    let item = |(name, mass): (String, Mass)| Item {
        amount: Amount::Mass(mass.grams()),
        name: Words::plain(name),
        container: None,
        span: 0..0,
    };
    sums.into_iter().map(item).collect()
}

/// The set of things that was eaten most often, in the amounts of the last time.
fn usual(draft: &Draft, plates: &[&Plate], today: NaiveDate) -> Vec<Item> {
    let mut sets: BTreeMap<Vec<String>, (usize, Vec<Item>)> = BTreeMap::new();
    for plate in plates.iter().filter(|plate| plate.day <= today) {
        let items = items(draft, plate);
        let names = items.iter().map(|item| item.name.text.clone()).collect();
        let entry = sets.entry(names).or_default();
        entry.0 += 1;
        entry.1 = items;
    }
    let most = sets.values().map(|(times, _)| *times).max().unwrap_or(0);
    let mut usual = sets.into_values().filter(|(times, _)| *times == most);
    match (usual.next(), usual.next()) {
        // One plate, or several equally often, make no habit.
        (Some((times, items)), None) if times > 1 => items,
        _ => Vec::new(),
    }
}
