//! A batch that stands in a vessel whose empty weight is known: what the scale shows of it may hold the vessel too,
//! and the books tell which.

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::BatchId;
use super::super::kitchen::{Choice, Container};
use super::super::mass::Mass;
use super::super::resolve::key;
use super::weigh::{self, Reading};
use super::{Stop, count, find};
use crate::lang::syntax::{Command, Weighed, Weighing, Words};

/// So near is what a scale shows of what nobody ate from.
const NEAR_SHARE: f64 = 0.1;
/// A vessel is put on the scale empty, and is about as heavy as before.
const HEAVIER_MOST: Mass = Mass::from_mg(100_000);

/// What the scale said of a batch. Where nobody told of a vessel and it stands in one, that is taken off if only so
/// it fits what is there, and asked about if both would.
pub fn reading(draft: &Draft, id: BatchId, weighing: &Weighing) -> Result<Reading, Stop> {
    let read = weigh::net(draft, weighing)?;
    let told = !weighing.tares.is_empty() || weighing.container.is_some();
    let Some((vessel, tare)) = around(draft, id).filter(|_| !told) else {
        return Ok(read);
    };
    if tare >= read.gross {
        return Ok(read);
    }
    let less = Reading {
        gross: read.gross,
        tare,
    };
    let near = |net: Mass| count::is_near(draft, id, net, NEAR_SHARE);
    match (near(less.net()), near(read.net())) {
        (true, true) => Err(with_or_without(draft, id, vessel, less)),
        (true, false) => Ok(less),
        (false, _) => Ok(read),
    }
}

/// The vessel that a batch stands in, and what it weighs empty.
fn around<'a>(draft: &'a Draft, id: BatchId) -> Option<(&'a Container, Mass)> {
    let vessels = draft.kitchen.containers.iter();
    let holding = vessels.filter(|vessel| vessel.holds() == Some(id));
    let last = holding.max_by_key(|vessel| vessel.contents.last().map(|(entry, _)| *entry))?;
    Some((last, last.tare()?))
}

fn with_or_without(draft: &Draft, id: BatchId, vessel: &Container, less: Reading) -> Stop {
    let batch = draft.kitchen.batch(id);
    let choice = |net: Mass, how: String| Choice {
        label: format!("{} g: {how}", net.grams()),
        says: counted(&batch.code, Weighing::net(net.grams(), 0..0), true).to_string(),
    };
    let options = vec![
        choice(less.net(), format!("the {} is taken off", vessel.name)),
        choice(less.gross, format!("weighed without the {}", vessel.name)),
    ];
    let words = format!("{} weighed {} g", batch.name, less.gross.grams());
    find::ask(About::WhichWeighing, &words, None, options)
}

fn counted(code: &str, weighing: Weighing, anyway: bool) -> Command {
    Command::Count {
        items: vec![Weighed {
            name: Words::plain(code),
            place: None,
            weighing,
        }],
        rest: None,
        anyway,
    }
}

/// What a vessel is said to weigh that is known to be lighter: with what stands in it, or empty after all?
pub fn filled(draft: &Draft, name: &Words, shown: Mass) -> Result<Option<Vec<Weighed>>, Stop> {
    let wanted = key(&name.text);
    let mut vessels = draft.kitchen.containers.iter();
    let vessel = vessels.find(|vessel| key(&vessel.name) == wanted);
    let known = vessel.and_then(|vessel| Some((vessel, vessel.tare()?)));
    let said_empty = ["empty", "tare"]
        .iter()
        .any(|word| draft.input.text.to_lowercase().contains(word));
    let Some((vessel, tare)) = known.filter(|(_, tare)| !said_empty && shown > *tare) else {
        return Ok(None);
    };
    let held = vessel.holds().map(|id| draft.kitchen.batch(id));
    if let Some(batch) = held.filter(|batch| batch.open) {
        let booked = count::booked(draft, batch.id, shown - tare);
        if !count::is_far(shown - tare, booked) {
            return Ok(Some(vec![Weighed {
                name: Words::plain(batch.code.clone()),
                place: None,
                weighing: Weighing {
                    readings_grams: vec![shown.grams()],
                    gross: true,
                    container: Some(name.clone()),
                    ..Weighing::default()
                },
            }]));
        }
    }
    if shown <= tare + tare && shown - tare <= HEAVIER_MOST {
        return Ok(None);
    }
    let empty = Command::TeachContainer {
        name: name.clone(),
        tare_grams: shown.grams(),
    };
    let options = vec![
        Choice {
            label: format!("{} g empty", shown.grams()),
            says: empty.to_string(),
        },
        Choice {
            label: "with something in it: nothing to book".into(),
            says: Command::Drop.to_string(),
        },
    ];
    Err(find::ask(About::Confirm, &name.text, None, options))
}
