//! Running readings on one scale over several messages: "plate 388", then "beans 500", "rice 650".
//! What stood on the scale last waits as an open question of its own kind; each reading is less the
//! one before.

use chrono::Duration;

use super::super::answer::{About, Answer};
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::{Choice, OpenQuestion, SCALE};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::{Done, Stop, find};
use crate::lang::syntax::{Amount, Command, Item, Portion};

/// How long a scale stays as it was.
const STANDS_MINUTES: i64 = 20;
/// What one eats from and puts on a scale first.
const VESSELS: [&str; 6] = ["plate", "bowl", "dish", "lunchbox", "mug", "tupperware"];

/// An empty vessel and nothing else: "plate 388". Nothing is booked; the next readings count from it.
pub fn empty(draft: &mut Draft, portion: &Portion) -> Option<Done> {
    let [item] = portion.items.as_slice() else {
        return None;
    };
    let grams = reading(item)?;
    let name = key(&item.name.text);
    let name = name.strip_prefix("empty ").unwrap_or(&name);
    let is_food = draft
        .kitchen
        .open_batches()
        .any(|batch| key(&batch.name) == name);
    if is_food || !VESSELS.contains(&name) {
        return None;
    }
    stand(draft, grams);
    Some(Done::saying(Answer::OnScale { mass: grams }))
}

/// The portion with each reading turned into what was added, if the sender's scale has something on it.
pub fn added(draft: &mut Draft, portion: &Portion) -> Result<Option<Portion>, Stop> {
    let Some(open) = standing(draft) else {
        return Ok(None);
    };
    let Some(mut last) = open.words.parse().ok().map(Mass::from_mg) else {
        return Ok(None);
    };
    let readings: Option<Vec<Mass>> = portion.items.iter().map(reading).collect();
    let (Some(readings), None, None) = (readings, &portion.day, &portion.share) else {
        return Ok(None);
    };
    let mut added = portion.clone();
    for (item, reading) in added.items.iter_mut().zip(readings) {
        if reading <= last {
            return Err(falls(portion, last));
        }
        item.amount = Amount::Mass((reading - last).grams());
        last = reading;
    }
    draft.push(Change::CloseQuestion(open.id));
    stand(draft, last);
    Ok(Some(added))
}

/// A bare number as a scale shows it.
fn reading(item: &Item) -> Option<Mass> {
    match item.amount {
        Amount::Bare(grams) if item.container.is_none() => Mass::weighed_out(grams),
        _ => None,
    }
}

fn standing(draft: &Draft) -> Option<OpenQuestion> {
    let mine = |open: &&OpenQuestion| {
        open.member == draft.input.sender
            && open.about == SCALE
            && open.expires_at >= draft.input.now
    };
    draft.kitchen.questions.iter().rev().find(mine).cloned()
}

fn stand(draft: &mut Draft, mass: Mass) {
    if let Some(before) = standing(draft) {
        draft.push(Change::CloseQuestion(before.id));
    }
    draft.push(Change::Ask(OpenQuestion {
        id: QuestionId(draft.kitchen.next.question),
        member: draft.input.sender,
        message: draft.credit,
        about: SCALE.to_owned(),
        words: mass.mg().to_string(),
        options: Vec::new(),
        said_at: draft.input.said_at,
        expires_at: draft.input.now + Duration::minutes(STANDS_MINUTES),
        pointed: None,
        mentioned: true,
    }));
}

/// A total that falls cannot be: the plate was taken off, or this was weighed by itself.
fn falls(portion: &Portion, last: Mass) -> Stop {
    let mut by_itself = portion.clone();
    for item in &mut by_itself.items {
        if let Amount::Bare(grams) = item.amount {
            item.amount = Amount::Mass(grams);
        }
    }
    let words: Vec<&str> = portion
        .items
        .iter()
        .map(|item| item.name.text.as_str())
        .collect();
    let options = vec![Choice {
        label: "weighed by itself".into(),
        says: Command::Portion(by_itself).to_string(),
    }];
    let problem = ProblemKind::ScaleFell { last };
    find::ask(
        About::WhichWeighing,
        &words.join(", "),
        Some(problem),
        options,
    )
}
