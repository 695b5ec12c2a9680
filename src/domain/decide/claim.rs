//! What a count found missing goes on the plate of whoever says that it was theirs.
//!
//! A claim is a portion that nobody had weighed, told late: it is drawn at the moment at which it was taken, so
//! that the count stays and what it missed is explained.

use std::collections::BTreeMap;

use chrono::{DateTime, Duration, Utc};

use super::super::answer::About;
use super::super::batch::{Batch, Lot};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::in_hand;
use super::super::kitchen::{Choice, Kitchen};
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::shortage::DRIFT;
use super::{
    Decision, Done, Input, OnProblem, Outcome, Step, Stop, carry_out, find, people, portion,
};
use crate::lang::Parsed;
use crate::lang::syntax::{Claim, Command, Fix, Of, Words};

/// What was missing longer ago is nobody's any more.
const CLAIM_DAYS: i64 = 14;

/// What a count missed of one lot.
struct Missing {
    batch: BatchId,
    component: ComponentId,
    lot: AccountId,
    counted_at: DateTime<Utc>,
    mass: Mass,
}

pub fn claim(draft: &mut Draft, claim: &Claim) -> Step {
    let member = match &claim.who {
        None => draft.input.sender,
        Some(who) => people::find_person(draft, who, |name| {
            let who = Some(Words::plain(name));
            let claim = claim.clone();
            Command::Claim(Claim { who, ..claim }).to_string()
        })?,
    };
    let missing = match &claim.dish {
        Some(dish) => of_dish(draft, dish)?,
        None => of_last_count(draft, claim)?,
    };
    let missing = match claim.grams {
        Some(grams) => some_of(draft, missing, grams)?,
        None => missing,
    };
    let mut plates: Vec<AccountId> = Vec::new();
    for one in missing {
        let taken_at = taken_at(draft, &one, member);
        let day = draft.day_of(taken_at);
        let of_day = |id: &&AccountId| draft.kitchen.plate(**id).is_some_and(|it| it.day == day);
        let plate = match plates.iter().find(of_day) {
            Some(plate) => *plate,
            None => draft.plate(member, day, None),
        };
        if !plates.contains(&plate) {
            plates.push(plate);
        }
        let ends = (Account::Lot(one.lot), Account::Plate(plate));
        let detail = Some(Detail::Portion { estimated: true });
        let now = std::mem::replace(&mut draft.occurred_at, taken_at);
        draft.enter(
            EntryKind::Portion,
            ends,
            one.mass,
            Some(one.batch),
            None,
            detail,
        );
        draft.occurred_at = now;
    }
    draft.settle();
    let answer = portion::answer(draft, &plates, Vec::new(), &BTreeMap::new());
    Ok(Done::saying(answer))
}

/// So much of what is missing, of the newest count first.
fn some_of(draft: &Draft, mut missing: Vec<Missing>, grams: f64) -> Result<Vec<Missing>, Stop> {
    let text = format!("{grams} g");
    let mut wanted = Mass::weighed_out(grams).ok_or(ProblemKind::NotAMass { text })?;
    let left = missing.iter().map(|one| one.mass).sum();
    if wanted > left {
        let name = draft.kitchen.batch(missing[0].batch).name.clone();
        let asked = wanted;
        return Err(ProblemKind::TooMuch { name, asked, left }.into());
    }
    for one in &mut missing {
        one.mass = one.mass.min(wanted);
        wanted -= one.mass;
    }
    missing.retain(|one| one.mass.mg() > 0);
    Ok(missing)
}

/// All that the latest counts missed and nobody has claimed, newest first.
fn missing(kitchen: &Kitchen, now: DateTime<Utc>) -> Vec<Missing> {
    let since = now - Duration::days(CLAIM_DAYS);
    let of_lot = |batch: &Batch, lot: &Lot| {
        let last = lot.last_counted(batch)?;
        let claimable = last.mass.is_negative() && last.occurred_at >= since;
        claimable.then(|| Missing {
            batch: batch.id,
            component: batch.component,
            lot: lot.id,
            counted_at: last.occurred_at,
            mass: -last.mass,
        })
    };
    let batches = kitchen.batches.values();
    let mut found: Vec<Missing> = batches
        .flat_map(|batch| batch.lots.iter().filter_map(move |lot| of_lot(batch, lot)))
        .collect();
    found.sort_by_key(|missing| std::cmp::Reverse(missing.counted_at));
    found
}

fn of_dish(draft: &Draft, dish: &Words) -> Result<Vec<Missing>, Stop> {
    let batches = find::batches(draft, dish)?;
    let mut found = missing(&draft.kitchen, draft.input.now);
    found.retain(|missing| batches.contains(&missing.batch));
    if found.is_empty() {
        let name = draft.kitchen.batch(batches[0]).name.clone();
        let kind = ProblemKind::NothingMissing { name: Some(name) };
        return Err(kind.at(dish.span.clone()).into());
    }
    Ok(found)
}

/// Of what was counted last; of several dishes, which one is asked.
fn of_last_count(draft: &Draft, claim: &Claim) -> Result<Vec<Missing>, Stop> {
    let mut found = missing(&draft.kitchen, draft.input.now);
    let Some(last) = found.first().map(|missing| missing.counted_at) else {
        return Err(ProblemKind::NothingMissing { name: None }.into());
    };
    found.retain(|missing| missing.counted_at == last);
    // A few grams beside it are the scale's.
    if found.iter().any(|missing| missing.mass > DRIFT) {
        found.retain(|missing| missing.mass > DRIFT);
    }
    let first = found[0].component;
    if found.iter().all(|missing| missing.component == first) {
        return Ok(found);
    }
    let mut options: Vec<Choice> = Vec::new();
    for missing in &found {
        let batch = draft.kitchen.batch(missing.batch);
        let claim = Claim {
            dish: Some(Words::plain(batch.name.clone())),
            ..claim.clone()
        };
        let says = Command::Claim(claim).to_string();
        let label = format!("{}: {} g", batch.name, missing.mass.grams());
        if options.iter().all(|known| known.says != says) {
            options.push(Choice { label, says });
        }
    }
    Err(find::ask(About::WhichBatch, "missing food", None, options))
}

/// When it was eaten: when this person took of it, or anybody, or else right before the count; never before the
/// lot was there, and never after it was counted.
fn taken_at(draft: &Draft, missing: &Missing, member: MemberId) -> DateTime<Utc> {
    let batch = draft.kitchen.batch(missing.batch);
    let before_count = missing.counted_at - Duration::seconds(1);
    let takings = || {
        let takings = batch.takings.iter().rev();
        takings.filter(|taking| taking.occurred_at <= before_count)
    };
    let own = takings().find(|taking| taking.taker == Some(member));
    let taking = own.or_else(|| takings().next());
    let taken_at = taking.map_or(before_count, |taking| taking.occurred_at);
    let lot = batch.lot(missing.lot);
    let moved = lot.filter(|lot| lot.came_from.is_some());
    let opened = moved.and_then(Lot::opened_at);
    opened
        .map_or(taken_at, |opened| taken_at.max(opened))
        .min(before_count)
}

/// "that was me", right after a count that missed something: said of that, unless the sender has booked since.
pub fn in_passing(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let said = parsed
        .readings
        .iter()
        .filter(|reading| reading.errors.is_empty());
    let mut said = said.filter(|reading| !reading.sure || reading.corrects());
    let claim = said.find_map(|reading| match reading.commands.as_slice() {
        [Command::Claim(claim @ Claim { dish: None, .. })] => Some(claim.clone()),
        [Command::Fix(Fix::Whose { who, of: Of::Last })] => Some(Claim {
            dish: None,
            who: Some(who.clone()),
            grams: None,
        }),
        _ => None,
    })?;
    let last = missing(kitchen, input.now);
    let last = last.iter().find(|missing| missing.mass > DRIFT)?.counted_at;
    let recent = in_hand::holds(input, last);
    let since = kitchen.recent.iter().find(|act| act.stands());
    let booked = since.is_some_and(|act| act.sent_at > last);
    let elsewhere = input.pointed.as_ref().is_some_and(|act| {
        let counts = |kind| kind == EntryKind::Count;
        !act.entries.iter().any(|entry| counts(entry.entry.kind))
    });
    if !recent || booked || elsewhere {
        return None;
    }
    let command = Command::Claim(claim);
    let draft = Draft::new(kitchen, input);
    let decision = carry_out(draft, &[command], OnProblem::Forget);
    (decision.outcome != Outcome::Refused).then_some(decision)
}
