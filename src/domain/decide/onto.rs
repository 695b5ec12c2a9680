//! "forgot 15 cheddar with that", "and 20 cheddar on it": more of what was just booked, whoever's plate that is.

use chrono::Datelike;

use super::super::answer::About;
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::ids::MemberId;
use super::super::in_hand;
use super::super::kitchen::Choice;
use super::super::ledger::{Account, Entry};
use super::super::plate::Plate;
use super::{Stop, find, undo};
use crate::lang::syntax::{Command, Day, Portion, Words};

/// The portion with the plate that "that" means; of several people it is asked whose.
pub fn meant(draft: &Draft, portion: &Portion) -> Result<Portion, Stop> {
    let mut meant = portion.clone();
    if !portion.with_that || portion.who.is_some() || portion.share.is_some() {
        return Ok(meant);
    }
    let plates = just_booked(draft);
    let mut members: Vec<MemberId> = plates.iter().map(|plate| plate.member).collect();
    members.sort_unstable();
    members.dedup();
    match members.as_slice() {
        [] => {}
        [only] => {
            meant.who = eater(draft, *only);
            let elsewhere = |plate: &&&Plate| plate.day != draft.today();
            if let Some(plate) = plates.iter().find(elsewhere).filter(|_| plates.len() == 1) {
                meant.day = portion.day.clone().or(Some(Day::Date {
                    day: plate.day.day(),
                    month: plate.day.month(),
                    year: Some(plate.day.year()),
                }));
            }
        }
        several => {
            let options = several.iter().map(|&member| option(draft, portion, member));
            let items = portion.items.iter().map(|item| item.name.text.as_str());
            let words = items.collect::<Vec<_>>().join(", ");
            return Err(find::ask(About::Who, &words, None, options.collect()));
        }
    }
    Ok(meant)
}

/// The plates of what this message has booked already, or of the sender's newest one, if it is fresh.
fn just_booked<'a>(draft: &'a Draft<'_>) -> Vec<&'a Plate> {
    let on = |plate: &Plate, entry: &Entry| entry.to == Account::Plate(plate.id);
    let plates = || draft.kitchen.plates.iter();
    let now = |plate: &&Plate| {
        draft
            .changes
            .iter()
            .any(|change| matches!(change, Change::Entry { entry, .. } if on(plate, entry)))
    };
    let now: Vec<&Plate> = plates().filter(now).filter(holds).collect();
    if !now.is_empty() {
        return now;
    }
    let pointed = draft.input.pointed.is_some();
    let act = undo::pointed_or_newest(draft);
    let Some(act) = act.filter(|act| pointed || in_hand::holds(draft.input, act.sent_at)) else {
        return Vec::new();
    };
    let told = |plate: &&Plate| act.standing().iter().any(|told| on(plate, &told.entry));
    plates().filter(told).filter(holds).collect()
}

/// Something stands on it.
fn holds(plate: &&Plate) -> bool {
    !plate.portions.is_empty()
}

/// Nobody is named where the sender eats.
fn eater(draft: &Draft, member: MemberId) -> Option<Words> {
    let other = draft.kitchen.member(member)?;
    (member != draft.input.sender).then(|| Words::plain(other.name.clone()))
}

fn option(draft: &Draft, portion: &Portion, member: MemberId) -> Choice {
    let who = eater(draft, member);
    let label = who
        .as_ref()
        .map_or_else(|| "mine".into(), |who| format!("{}'s", who.text));
    let with_that = false;
    let chosen = Portion {
        who,
        with_that,
        ..portion.clone()
    };
    Choice {
        label,
        says: Command::Portion(chosen).to_string(),
    }
}
