//! Finding what a command is about, or the question to ask.

use chrono::{Datelike, Days, Months, NaiveDate};

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Choice;
use super::super::problem::ProblemKind;
use super::super::resolve::{Thing, Unresolved, Use, resolve};
use super::super::stands::Places;
use super::{Asking, Stop};
use crate::lang::syntax::{Command, Day, Words};

/// The batches that a name means, in the order in which they are drawn. Where a place is no matter, a name
/// that tells one is not understood.
pub fn batches(draft: &Draft, name: &Words) -> Result<Vec<BatchId>, Stop> {
    match standing(draft, name)? {
        (batches, None) => Ok(batches),
        (_, Some(_)) => Err(unknown_batch(name, Vec::new())),
    }
}

/// The same, with the places that they are taken from: "freezer dal".
pub fn standing(draft: &Draft, name: &Words) -> Result<(Vec<BatchId>, Option<Places>), Stop> {
    match resolve(&draft.kitchen, name, Use::BatchOnly, draft.today()) {
        Ok(resolved) => match resolved.thing {
            Thing::Batches(batches) => Ok((draft.in_order(batches), resolved.from)),
            Thing::Packet(_) | Thing::Food(_) => Err(unknown_batch(name, Vec::new())),
        },
        Err(Unresolved::Unknown { near_batches, .. }) => {
            let near = near_batches
                .iter()
                .map(|id| draft.kitchen.batch(*id).name.clone())
                .collect();
            Err(unknown_batch(name, near))
        }
        Err(Unresolved::WhichBatch { batches, .. }) => Err(Stop::Problem(
            ProblemKind::UnknownName {
                words: name.text.clone(),
                near: batches
                    .iter()
                    .map(|id| draft.kitchen.batch(*id).name.clone())
                    .collect(),
            }
            .at(name.span.clone()),
        )),
        Err(other) => Err(Stop::Problem(
            other.problem(&name.text).at(name.span.clone()),
        )),
    }
}

/// Those of one name that still hold something, where it may be any of them.
pub fn not_told_apart(draft: &Draft, batches: &[BatchId]) -> Option<Vec<BatchId>> {
    let meant_before = batches.iter().any(|id| draft.meant_before.contains(id));
    let held = |id: &&BatchId| draft.held(**id).mg() > 0;
    let open: Vec<BatchId> = batches.iter().filter(held).copied().collect();
    (open.len() > 1 && !meant_before).then_some(open)
}

/// Batches as options of a question: each by name and code, with where it stands, in what, and when it was made,
/// as far as that tells them apart.
pub fn labels(draft: &Draft, batches: &[BatchId]) -> Vec<String> {
    let kitchen = &draft.kitchen;
    let stands = |id: &BatchId| -> Vec<String> {
        let lots = kitchen.batch(*id).lots.iter();
        let holding = lots.filter(|lot| lot.balance.mg() > 0);
        let mut all: Vec<String> = Vec::new();
        for lot in holding {
            let place = lot.place.and_then(|id| kitchen.place(id));
            let place = place.map_or("fridge", |place| place.name.as_str());
            let vessel = kitchen.vessel_name(lot);
            let told = vessel.map_or(place.to_owned(), |vessel| format!("{place}, {vessel}"));
            if !all.contains(&told) {
                all.push(told);
            }
        }
        all
    };
    let made = |id: &BatchId| kitchen.batch(*id).made_on;
    let differs = |others: &dyn Fn(&BatchId) -> bool| batches.iter().any(others);
    let label = |id: &BatchId| {
        let batch = kitchen.batch(*id);
        let mut told = format!("{} {}", batch.name, batch.code);
        let own = stands(id);
        if !own.is_empty() && differs(&|other| stands(other) != own) {
            told += &format!(", {}", own.join(" and "));
        }
        if batch.dated && differs(&|other| made(other) != made(id)) {
            told += &format!(", made {}", made(id).format("%-d %b"));
        }
        told
    };
    batches.iter().map(label).collect()
}

/// The batch that is being cooked or was last cooked: changes are about the newest of a name, while
/// portions are drawn from the oldest.
pub fn batch_to_change(draft: &Draft, name: &Words) -> Result<BatchId, Stop> {
    let found = batches(draft, name)?;
    let newest = |id: &BatchId| {
        let batch = draft.kitchen.batch(*id);
        let meant = draft.meant_before.contains(id);
        (meant, batch.open && batch.estimated(), batch.made_at, *id)
    };
    Ok(found
        .into_iter()
        .max_by_key(newest)
        .expect("a name means at least one batch"))
}

/// Of several pots of one name that nobody has weighed, which one is being changed is asked.
pub fn which_pot(draft: &Draft, command: &Command) -> Result<(), Stop> {
    let mut chosen = command.clone();
    let Some(name) = pot(&mut chosen).cloned() else {
        return Ok(());
    };
    let Ok(found) = batches(draft, &name) else {
        return Ok(());
    };
    let waits = |id: &&BatchId| {
        let batch = draft.kitchen.batch(**id);
        batch.open && batch.estimated()
    };
    let waiting: Vec<BatchId> = found.iter().filter(waits).copied().collect();
    let meant_before = found.iter().any(|id| draft.meant_before.contains(id));
    if waiting.len() < 2 || meant_before {
        return Ok(());
    }
    let options = waiting.iter().map(|id| {
        let batch = draft.kitchen.batch(*id);
        if let Some(name) = pot(&mut chosen) {
            *name = Words::plain(batch.code.clone());
        }
        let first = batch.lines.first().map_or("", |line| line.text.as_str());
        Choice {
            label: format!("{} {}: {first}", batch.name, batch.code),
            says: chosen.to_string(),
        }
    });
    let options = options.collect();
    Err(ask(About::WhichBatch, &name.text, None, options))
}

/// The name of the batch that a command changes.
fn pot(command: &mut Command) -> Option<&mut Words> {
    match command {
        Command::Add { batch, .. }
        | Command::Amend { batch, .. }
        | Command::Weigh { batch, .. }
        | Command::PourOff {
            batch: Some(batch), ..
        } => Some(batch),
        _ => None,
    }
}

fn unknown_batch(name: &Words, all: Vec<String>) -> Stop {
    let mut near: Vec<String> = Vec::new();
    for name in all {
        if !near.contains(&name) {
            near.push(name);
        }
    }
    let kind = ProblemKind::UnknownName {
        words: name.text.clone(),
        near,
    };
    Stop::Problem(kind.at(name.span.clone()))
}

/// A question with options that are whole sentences.
pub fn ask(about: About, words: &str, problem: Option<ProblemKind>, options: Vec<Choice>) -> Stop {
    Stop::Ask(Box::new(Asking {
        about,
        words: words.to_owned(),
        problem,
        options,
        pointed: None,
    }))
}

/// A day as said, on the calendar; a weekday is the nearest in the past, today included.
pub fn date(day: &Day, today: NaiveDate) -> Result<NaiveDate, Stop> {
    let no_such = |text: String| Stop::from(ProblemKind::NoSuchDate { text });
    match day {
        Day::Today => Ok(today),
        Day::Yesterday => Ok(today - Days::new(1)),
        Day::Ahead => Ok(today + Days::new(1)),
        Day::InDays(days) => Ok(today + Days::new(u64::from(*days))),
        // Whoever can ask has asked on which day.
        Day::LastWeek => Err(no_such(day.to_string())),
        Day::DaysAgo(days) => Ok(today - Days::new(u64::from(*days))),
        Day::Weekday(weekday) => {
            let now = today.weekday().num_days_from_monday();
            let back = (7 + now - u32::from(*weekday) % 7) % 7;
            Ok(today - Days::new(u64::from(back)))
        }
        Day::OfMonth(day) => {
            let this = today.with_day(*day).filter(|date| *date <= today);
            let earlier = || {
                (1..=2).find_map(|back| today.checked_sub_months(Months::new(back))?.with_day(*day))
            };
            this.or_else(earlier)
                .ok_or_else(|| no_such(day.to_string()))
        }
        Day::Date {
            day,
            month,
            year: Some(year),
        } => NaiveDate::from_ymd_opt(*year, *month, *day)
            .ok_or_else(|| no_such(format!("{day}/{month}/{year}"))),
        Day::Date {
            day,
            month,
            year: None,
        } => {
            // Without a year, the one that puts it nearest to today.
            let of = |year| NaiveDate::from_ymd_opt(year, *month, *day);
            let years = today.year() - 1..=today.year() + 1;
            years
                .filter_map(of)
                .min_by_key(|date| (*date - today).num_days().abs())
                .ok_or_else(|| no_such(format!("{day}/{month}")))
        }
    }
}

/// A day that is printed on a packet: without a year, the first that has not been over for long.
pub fn printed_date(day: &Day, today: NaiveDate) -> Result<NaiveDate, Stop> {
    const OVER_DAYS: u64 = 60;
    let from = today - Days::new(OVER_DAYS);
    match day {
        Day::Weekday(weekday) => {
            let now = today.weekday().num_days_from_monday();
            let ahead = (7 + u32::from(*weekday) % 7 - now) % 7;
            Ok(today + Days::new(u64::from(ahead)))
        }
        Day::OfMonth(day) => {
            let months = (0..=2).filter_map(|ahead| today.checked_add_months(Months::new(ahead)));
            let dates = months.filter_map(|month| month.with_day(*day));
            let text = day.to_string();
            let ahead = dates.filter(|date| *date >= today).min();
            ahead.ok_or_else(|| ProblemKind::NoSuchDate { text }.into())
        }
        Day::Date {
            day: number,
            month,
            year: None,
        } => {
            let years = from.year()..=today.year() + 4;
            let dates = years.filter_map(|year| NaiveDate::from_ymd_opt(year, *month, *number));
            let text = format!("{number}/{month}");
            let ahead = dates.filter(|date| *date >= from).min();
            ahead.ok_or_else(|| ProblemKind::NoSuchDate { text }.into())
        }
        _ => date(day, today),
    }
}

/// The name in an ingredient line as typed, without its amount: what a chosen food is remembered under.
pub fn name_in_line(text: &str) -> String {
    let parsed = crate::lang::ingredient_line(text);
    match parsed.content {
        crate::lang::syntax::LineContent::Ingredient { name, .. } => name.text,
        crate::lang::syntax::LineContent::Unclear(_) => String::new(),
    }
}
