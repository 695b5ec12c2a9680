//! What is poured away: fat leaves as fat, a marinade or brine in the proportion of its own lines.

use super::super::answer::{About, BatchEvent};
use super::super::batch::{LineState, PourKind};
use super::super::change::Detail;
use super::super::composition::{Composition, poured_lines};
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Choice;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::volume;
use super::line::Pending;
use super::{Asking, Step, Stop, batch, find};
use crate::foods::Nutrient;
use crate::lang::syntax::{Amount, Command, PourOff, Words};

/// What is called fat when it is poured off.
const FAT_WORDS: [&str; 6] = ["fat", "oil", "grease", "dripping", "drippings", "lard"];

pub fn pour_off(draft: &mut Draft, name: Option<&Words>, poured: &PourOff, anyway: bool) -> Step {
    let id = match name {
        Some(name) => find::batch_to_change(draft, name)?,
        None => newest(draft)?,
    };
    let mass = write(draft, id, poured, anyway)?;
    draft.settle();
    let event = BatchEvent::PouredOff(mass);
    Ok(batch::answer(draft, id, event, Vec::new(), Vec::new()))
}

/// Unnamed, it is about the pot that was opened last.
fn newest(draft: &Draft) -> Result<BatchId, Stop> {
    let newest = draft.kitchen.open_batches().max_by_key(|batch| {
        let meant = draft.meant_before.contains(&batch.id);
        (meant, batch.estimated(), batch.made_at, batch.id)
    });
    newest.map(|batch| batch.id).ok_or_else(|| {
        Stop::from(ProblemKind::UnknownName {
            words: "batch".into(),
            near: Vec::new(),
        })
    })
}

/// Write it down; more than can have been in the pot is asked about.
pub fn write(draft: &mut Draft, id: BatchId, poured: &PourOff, anyway: bool) -> Result<Mass, Stop> {
    let mass = match &poured.amount {
        Amount::Mass(grams) | Amount::Bare(grams) | Amount::Weighed { grams, .. } => {
            Mass::weighed_out(*grams).ok_or_else(|| {
                let text = format!("{grams} g");
                Stop::Problem(ProblemKind::NotAMass { text }.at(poured.what.span.clone()))
            })?
        }
        // What is poured away by volume is mostly water: a gram a millilitre.
        Amount::Volume { count, unit, .. } => {
            let system = draft.kitchen.settings().measures;
            let grams = volume::millilitres(*unit, system) * count;
            Mass::weighed_out(grams).ok_or_else(|| {
                let text = format!("{grams} ml");
                Stop::Problem(ProblemKind::NotAMass { text }.at(poured.what.span.clone()))
            })?
        }
        _ => {
            let name = poured.what.text.clone();
            return Err(ProblemKind::MissingAmount { name }.into());
        }
    };
    let kind = kind(&poured.what.text);
    let held = held(draft, id, &kind);
    if let Some(held) = held
        && mass > held
        && !anyway
    {
        return Err(confirm(draft, id, poured, mass, held));
    }
    let ends = (draft.pot(id), Account::Poured);
    let detail = Detail::PourOff(kind);
    draft.enter(EntryKind::PourOff, ends, mass, Some(id), None, Some(detail));
    Ok(mass)
}

/// As part of a batch's message: what is unclear about it waits, and the batch stands.
pub fn write_or_wait(draft: &mut Draft, id: BatchId, poured: &PourOff) -> Option<Pending> {
    let words = &poured.what.text;
    match write(draft, id, poured, false) {
        Ok(_) => None,
        Err(Stop::Ask(asking)) => {
            let kind = asking.problem.clone();
            Some(Pending {
                number: 0,
                problem: kind
                    .unwrap_or(ProblemKind::MissingAmount {
                        name: words.clone(),
                    })
                    .anywhere(),
                asking: *asking,
            })
        }
        Err(Stop::Problem(problem)) => Some(Pending {
            number: 0,
            asking: Asking {
                about: About::HowMuch,
                words: words.clone(),
                problem: Some(problem.kind.clone()),
                options: Vec::new(),
                pointed: None,
            },
            problem,
        }),
    }
}

fn kind(what: &str) -> PourKind {
    let what = what.trim().to_lowercase();
    let what = what.strip_prefix("the ").unwrap_or(&what);
    match what {
        "" => PourKind::Whole,
        _ if what.split(' ').any(|word| FAT_WORDS.contains(&word)) => PourKind::Fat,
        _ => PourKind::Part(what.to_owned()),
    }
}

/// The most of it that can have been there, if that is known.
fn held(draft: &Draft, id: BatchId, kind: &PourKind) -> Option<Mass> {
    let batch = draft.kitchen.batch(id);
    match kind {
        PourKind::Fat => {
            let fat = Composition::new(&draft.kitchen)
                .whole(id)
                .get(Nutrient::Fat);
            // What a line that nobody knows may bring is at most all of it.
            let unknown = batch
                .lines
                .iter()
                .filter(|line| line.state == LineState::NoFood);
            let unknown: Mass = unknown.map(|line| line.mass).sum();
            Some(Mass::from_grams(fat.amount.unwrap_or(0.0))? + unknown)
        }
        PourKind::Part(part) => {
            let lines = poured_lines(&draft.kitchen, batch, part);
            let went_in: Mass = lines.iter().map(|at| batch.lines[*at].mass).sum();
            // Meat gives juice to its marinade: a tenth more is no surprise.
            (!lines.is_empty()).then(|| went_in.share(1.1))
        }
        PourKind::Whole => (!batch.estimated()).then(|| batch.left()),
    }
}

fn confirm(draft: &Draft, id: BatchId, poured: &PourOff, asked: Mass, left: Mass) -> Stop {
    let batch = draft.kitchen.batch(id);
    let command = Command::PourOff {
        batch: Some(Words::plain(batch.code.clone())),
        poured: poured.clone(),
        anyway: true,
    };
    let problem = ProblemKind::TooMuch {
        name: format!("{} in {}", poured.what.text, batch.name),
        asked,
        left,
    };
    let options = vec![Choice {
        label: format!("yes, {} g", asked.grams()),
        says: command.to_string(),
    }];
    find::ask(About::Confirm, &poured.what.text, Some(problem), options)
}
