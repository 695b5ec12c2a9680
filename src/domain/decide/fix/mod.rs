//! Corrections of what was booked last: the sender's own latest plate, or the one replied to. The
//! first entry is taken back and the right one written at the same moment on the same plate.

mod amount;
mod find_line;
mod left;
mod owner;
mod whole;
mod whose;

use std::collections::BTreeMap;

use chrono::Duration;

use super::super::act::Act;
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::in_hand::InHand;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::plate::{Plate, PlatePortion};
use super::super::problem::ProblemKind;
use super::draw::{From, draw};
use super::{Done, Step, Stop, portion, retell, undo};
use crate::lang::syntax::{Command, Fix};
pub use find_line::{Found, Target, label, names};
pub use owner::may_confirm;

/// So long a correction that names nothing means the sender's own.
const LATELY_HOURS: i64 = 2;

/// A correction that stops with a question leaves standing what the message put right before it.
pub fn fix(draft: &mut Draft, fix: &Fix) -> Step {
    if let Fix::Left(item) = fix {
        return left::left(draft, item);
    }
    let mut trial = draft.clone();
    match carried_out(&mut trial, fix).and_then(|done| long_ago(draft, fix).map(|()| done)) {
        Ok(done) => {
            *draft = trial;
            Ok(done)
        }
        Err(Stop::Ask(asking)) => {
            draft.about = trial.about;
            Ok(Done {
                answers: Vec::new(),
                asks: vec![*asking],
            })
        }
        Err(problem) => Err(problem),
    }
}

/// A bare correction means what was just booked; of something older it is asked first.
fn long_ago(draft: &Draft, fix: &Fix) -> Result<(), Stop> {
    let Some(act) = reach(draft).into_iter().next() else {
        return Ok(());
    };
    match draft.input.pointed {
        Some(_) => Ok(()),
        None => undo::long_ago(draft, &act, &Command::Fix(fix.clone()), "change"),
    }
}

fn carried_out(draft: &mut Draft, fix: &Fix) -> Step {
    match fix {
        Fix::Amount { new, line } => amount::amount(draft, fix, new, line),
        Fix::Name { new, old, amount } => {
            amount::rename(draft, fix, new, old.as_ref(), amount.as_ref())
        }
        Fix::Remove(line) => amount::remove(draft, fix, line),
        Fix::PutBack(items) => amount::put_back(draft, fix, items),
        Fix::Left(item) => left::left(draft, item),
        Fix::Each { by, more } => amount::each(draft, fix, by, *more),
        Fix::More(more) => amount::more(draft, fix, more),
        Fix::Swapped => amount::swapped(draft, fix),
        Fix::Whose { who, of } => whose::whose(draft, fix, who, of),
        Fix::Shared { share, of } => whose::shared(draft, fix, share, of),
        Fix::When { day, meal, of } => whose::when(draft, fix, (day.as_ref(), *meal), of),
    }
}

/// What the newest act of the sender, or the one pointed at, wrote.
fn newest(draft: &mut Draft, fix: &Fix) -> Result<Target, Stop> {
    // What a reply points at may have been corrected by somebody since: its plate is still meant.
    let pointed = draft.input.pointed.clone();
    if pointed.is_none()
        && !ate_lately(draft)
        && let Some(target) = of_another(draft)
    {
        return Ok(target);
    }
    let act = pointed
        .or_else(|| undo::pointed_or_newest(draft).filter(|act| !retell::is_of_stock(act)))
        .or_else(|| plate_before(draft))
        .or_else(|| corrected_since(draft))
        .ok_or(ProblemKind::NothingToFix)?;
    draft.about = Some(act.message);
    undo::own(draft, &act, &Command::Fix(fix.clone()))?;
    Target::of(draft, &act).ok_or(ProblemKind::NothingToFix.into())
}

/// The sender has put something on a plate not long ago.
fn ate_lately(draft: &Draft) -> bool {
    let acts = draft.kitchen.recent.iter();
    let lately = |act: &&Act| draft.input.now - act.sent_at <= Duration::hours(LATELY_HOURS);
    acts.filter(lately)
        .any(|act| Target::of(draft, act).is_some())
}

/// Where the sender has booked nothing, the one thing on the plate that was filled last in the chat.
fn of_another(draft: &mut Draft) -> Option<Target> {
    let plate = InHand::of(draft.before, draft.input).of_another()?.clone();
    draft.about = Some(plate.message);
    Some(Target::on(plate))
}

/// What was only counted, moved or thrown away since is no plate: the one before it is meant.
fn plate_before(draft: &Draft) -> Option<Act> {
    let mut recent = draft.kitchen.recent.iter().filter(|act| act.stands());
    recent.find(|act| !retell::is_of_stock(act)).cloned()
}

/// The sender's newest act whose plates are full, though somebody else has put right what it wrote.
fn corrected_since(draft: &Draft) -> Option<Act> {
    let full = |act: &&Act| Target::of(draft, act).is_some_and(|target| !target.lines().is_empty());
    draft.kitchen.recent.iter().find(full).cloned()
}

/// The acts that a correction may reach back to, the newest first.
pub fn reach(draft: &Draft) -> Vec<Act> {
    if let Some(pointed) = &draft.input.pointed {
        return vec![pointed.clone()];
    }
    let standing = |act: &&Act| act.stands() && !act.only_reverses();
    draft
        .kitchen
        .recent
        .iter()
        .filter(standing)
        .cloned()
        .collect()
}

/// Take the line back and write it with another mass; nothing is left of it at zero.
fn change_mass(
    draft: &mut Draft,
    plate: AccountId,
    line: &PlatePortion,
    mass: Mass,
) -> Result<(), Stop> {
    draft.reverse_portion(plate, line);
    match mass.is_zero() {
        true => Ok(()),
        false => write(draft, plate, line, mass),
    }
}

/// Write a line that was taken back anew, at its first moment.
fn write(draft: &mut Draft, plate: AccountId, line: &PlatePortion, mass: Mass) -> Result<(), Stop> {
    let pieces = match line.batch {
        // What the books lack by it is asked about when all of it is known.
        Some(batch) => draw(draft, &[batch], mass, From::First(line.from), true)
            .map_err(|too_much| Stop::from(too_much.problem()))?
            .into_iter()
            .map(|piece| (piece.lot, piece.mass))
            .collect(),
        None => vec![(Account::Bought, mass)],
    };
    let estimated = line.estimated && mass == line.mass;
    for (from, mass) in pieces {
        enter(draft, plate, line, (from, mass), estimated);
    }
    Ok(())
}

/// One entry of a line that was taken back.
fn enter(
    draft: &mut Draft,
    plate: AccountId,
    line: &PlatePortion,
    (from, mass): (Account, Mass),
    estimated: bool,
) {
    let moment = draft.occurred_at;
    draft.occurred_at = line.occurred_at;
    let ends = (from, Account::Plate(plate));
    let detail = Some(Detail::Portion { estimated });
    draft.enter(
        EntryKind::Portion,
        ends,
        mass,
        line.batch,
        line.profile,
        detail,
    );
    draft.occurred_at = moment;
}

/// The plates as they now stand, with those that were told in one answer with them: what has something
/// on it, or the last one, emptied.
fn answer(draft: &mut Draft, touched: &[AccountId]) -> Done {
    draft.settle();
    let plates = &draft.kitchen.plates;
    let touched: Vec<&Plate> = plates
        .iter()
        .filter(|plate| touched.contains(&plate.id))
        .collect();
    let together = |plate: &&Plate| touched.iter().any(|one| one.message == plate.message);
    let full = |plate: &&Plate| !plate.portions.is_empty();
    let mut told: Vec<AccountId> = plates
        .iter()
        .filter(together)
        .filter(full)
        .map(|plate| plate.id)
        .collect();
    if told.is_empty() {
        told.extend(touched.last().map(|plate| plate.id));
    }
    Done::saying(portion::answer(draft, &told, Vec::new(), &BTreeMap::new()))
}
