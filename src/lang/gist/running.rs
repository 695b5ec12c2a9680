//! A plate that fills on the scale: each reading holds the ones before it.
//!
//! ```text
//! running := [empty | zeroed] food reading { food reading } [empty]
//! ```
//! "plate 388, beans 561, salsa 700"; "tared the bowl, 110 rice, dal took it to 295"; "chilli and plate 655,
//! same plate, 388". The foods go with the readings in their order. What the readings start from has to be
//! told: an empty vessel weighed here, one whose tare is known, or a zero beside words of adding up.

use super::mark::Mark;
use super::scale::{
    Reading, eaten, foods, is_added, is_shown, known_vessel, readings, says, vessel,
};
use super::sentence::Sentence;
use super::tale::is_governed;
use crate::lang::lost;
use crate::lang::syntax::{Command, Item, Portion, Words};

pub fn read(sentence: &Sentence<'_>) -> Option<Vec<Command>> {
    if lost::signs(sentence.input).is_some() || is_governed(sentence, &[]) {
        return None;
    }
    let readings = readings(sentence)?;
    let empties = (0..readings.len())
        .filter(|&at| is_empty(sentence, &readings[at]))
        .count();
    let shared = (0..sentence.marks.len()).any(|at| sentence.cue(at, "share").is_some());
    if readings.len() < 2 || empties > 1 || shared || readings.iter().any(|it| it.difference) {
        return None;
    }
    let who = eater(sentence)?;
    let items = filled(sentence, readings)?;
    let portion = Portion {
        items,
        who,
        day: sentence.day(),
        meal: meal(sentence),
        ..Portion::default()
    };
    Some(vec![Command::Portion(portion)])
}

/// Who is named: nobody, or one.
fn eater(sentence: &Sentence<'_>) -> Option<Option<Words>> {
    let mut named = sentence.marks.iter().filter_map(|it| match &it.mark {
        Mark::Person(who) => Some(who.clone()),
        _ => None,
    });
    let first = named.next();
    named.next().is_none().then_some(first)
}

fn meal(sentence: &Sentence<'_>) -> Option<crate::lang::syntax::MealName> {
    sentence.marks.iter().find_map(|it| match &it.mark {
        Mark::Meal(meal) => Some(*meal),
        _ => None,
    })
}

/// "plate 388", "dish by itself is 290": a vessel and no food.
fn is_empty(sentence: &Sentence<'_>, reading: &Reading) -> bool {
    let plain = foods(sentence, reading.region.clone()).is_empty();
    let gross = says(sentence, reading.region.clone(), "gross")
        || says(sentence, reading.region.clone(), "left");
    // "took a spoon off, 505"
    let stands = is_shown(reading) && !is_taken(sentence, reading);
    plain && stands && vessel(sentence, reading.region.clone()) && !gross
}

/// What each reading added to the one before.
fn filled(sentence: &Sentence<'_>, mut readings: Vec<Reading>) -> Option<Vec<Item>> {
    let foods = foods(sentence, 0..sentence.marks.len());
    let empty = readings.iter().position(|it| is_empty(sentence, it));
    let base = empty.map(|at| readings.remove(at));
    // "1 ladle = 180 g dal": so little is no vessel's weight.
    if base.as_ref().is_some_and(|it| !is_shown(it)) {
        return None;
    }
    let base = base.map(|it| it.grams);
    let mut names = foods.iter().map(|(_, name)| name);
    let (mut last, vessel) = match base {
        Some(grams) => (grams, None),
        None => (0.0, start(sentence, &readings)?),
    };
    let mut items: Vec<(&Words, f64, usize)> = Vec::new();
    for reading in &readings {
        let grams = reading.grams - last;
        match items.last_mut() {
            // "took some back out, 115"
            Some(item) if grams < 0.0 && is_taken(sentence, reading) => item.1 += grams,
            _ => items.push((names.next()?, grams, reading.at)),
        }
        last = reading.grams;
    }
    let filled = items.iter().all(|(_, grams, _)| *grams > 0.0);
    if !filled || names.next().is_some() || !readings.iter().all(is_shown) {
        return None;
    }
    let items = items
        .into_iter()
        .map(|(name, grams, at)| eaten(sentence, name, grams, at));
    let mut items: Vec<Item> = items.collect();
    items.first_mut()?.container = vessel;
    Some(items)
}

/// What the readings start from, where no empty vessel was weighed: a vessel whose tare is known, or zero;
/// nothing where they may be weights of their own.
fn start(sentence: &Sentence<'_>, readings: &[Reading]) -> Option<Option<Words>> {
    let all = 0..sentence.marks.len();
    let (first, later) = readings.split_first()?;
    let adds = later.iter().filter(|it| is_added(sentence, it)).count();
    let goes_on = later
        .iter()
        .all(|it| is_added(sentence, it) || is_next(sentence, it));
    let known = known_vessel(sentence, all.clone());
    if known.is_some() {
        let filled = is_added(sentence, first) || adds > 0 && adds == later.len();
        return filled.then_some(known);
    }
    let zeroed = says(sentence, 0..first.region.end, "zero") && adds > 0;
    let total = later
        .last()
        .is_some_and(|it| says(sentence, it.at..it.region.end, "gross"));
    let told = zeroed || total || adds > 0 && goes_on || says(sentence, all, "running");
    (told && !later.is_empty()).then_some(None)
}

/// "then olive oil, 218": it goes on, beside one that adds.
fn is_next(sentence: &Sentence<'_>, reading: &Reading) -> bool {
    let mut region = reading.region.clone();
    region.any(|at| matches!(sentence.norm(at), "then" | "added" | "plus" | "next"))
}

/// Something was taken off the plate again.
fn is_taken(sentence: &Sentence<'_>, reading: &Reading) -> bool {
    let mut region = reading.region.clone();
    region.any(|at| {
        matches!(
            sentence.norm(at),
            "out" | "back" | "away" | "off" | "removed"
        )
    })
}
