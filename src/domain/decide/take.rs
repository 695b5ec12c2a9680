//! Food that somebody took and did not weigh: kept without grams, until a count tells how much it was.

use chrono::Duration;

use super::super::answer::{Answer, TakenAnswer};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::{Done, Step, Stop, count, find, people};
use crate::lang::SOMEBODY;
use crate::lang::syntax::{Command, Taking, Words};

pub fn take(draft: &mut Draft, taking: &Taking) -> Step {
    let taker = taker(draft, taking)?;
    let today = draft.today();
    let day = match &taking.day {
        Some(day) => find::date(day, today)?,
        None => today,
    };
    if day > today {
        return Err(ProblemKind::FutureDate.into());
    }
    draft.occurred_at = draft.input.said_at - Duration::days((today - day).num_days());
    let mut dishes = Vec::new();
    for dish in &taking.dishes {
        dishes.push(take_one(draft, taking, dish, taker)?);
    }
    draft.settle();
    let taker = taker.and_then(|id| draft.kitchen.member(id));
    Ok(Done::saying(Answer::Taken(TakenAnswer {
        dishes,
        amount: taking.amount.clone(),
        taker: taker.map(|member| member.name.clone()),
        notes: Vec::new(),
        message: draft.credit,
    })))
}

fn taker(draft: &mut Draft, taking: &Taking) -> Result<Option<MemberId>, Stop> {
    match &taking.who {
        None => Ok(Some(draft.input.sender)),
        Some(who) if who.text == SOMEBODY => Ok(None),
        Some(who) => {
            let says = |name: String| {
                let who = Some(Words::plain(name));
                Command::Take(Taking {
                    who,
                    ..taking.clone()
                })
                .to_string()
            };
            people::find_person(draft, who, says).map(Some)
        }
    }
}

/// It may have been taken from any lot of that name that stood there: each is told so.
fn take_one(
    draft: &mut Draft,
    taking: &Taking,
    dish: &Words,
    taker: Option<MemberId>,
) -> Result<String, Stop> {
    let found = find::batches(draft, dish)?;
    let name = draft.kitchen.batch(found[0]).name.clone();
    let mut lots: Vec<(BatchId, AccountId)> = Vec::new();
    for id in found {
        let there = match &taking.place {
            Some(place) => count::in_place(draft, id, place),
            None => count::ready(draft, id),
        };
        lots.extend(there.into_iter().map(|lot| (id, lot)));
    }
    if lots.is_empty() {
        return Err(match &taking.place {
            Some(place) => ProblemKind::NotThere {
                name,
                place: place.text.clone(),
            },
            None => ProblemKind::UsedUp { name, food: None },
        }
        .at(dish.span.clone())
        .into());
    }
    for (batch, lot) in lots {
        let ends = (Account::Lot(lot), Account::Unweighed);
        let amount = taking.amount.clone();
        let detail = Some(Detail::Taking { amount, taker });
        draft.enter(
            EntryKind::Taking,
            ends,
            Mass::ZERO,
            Some(batch),
            None,
            detail,
        );
    }
    Ok(name)
}
