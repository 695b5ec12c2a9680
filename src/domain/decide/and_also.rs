//! "and half the soup", right after food was put elsewhere or thrown away: the same is done with it, and nobody
//! eats it.

use chrono::Duration;

use super::super::act::Act;
use super::super::ids::AccountId;
use super::super::kitchen::Kitchen;
use super::super::ledger::{Account, EntryKind};
use super::{Decision, Input, OnProblem, Outcome, carry_out, find};
use crate::domain::draft::Draft;
use crate::lang::Parsed;
use crate::lang::syntax::{Command, Destination, Item, Move, Portion, Words};

/// So long after it one goes on with what one was doing.
const GOES_ON_MINUTES: i64 = 10;
/// What a message begins with that goes on.
const OPENS: [&str; 3] = ["and", "plus", "also"];

/// A list of food alone that goes on with what its sender did last, unless that was eating.
pub fn goes_on(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let opens = parsed.tokens.first()?.norm();
    let best = parsed.best();
    let [Command::Portion(portion)] = best.commands.as_slice() else {
        return None;
    };
    let bare = Portion {
        items: portion.items.clone(),
        with_last: portion.with_last,
        ..Portion::default()
    };
    let last = kitchen.recent.iter().find(|act| act.stands())?;
    let fresh = input.said_at - last.sent_at <= Duration::minutes(GOES_ON_MINUTES);
    let elsewhere = input.pointed.is_some();
    if !OPENS.contains(&opens) || !best.sure || *portion != bare || !fresh || elsewhere {
        return None;
    }
    let command = the_same(kitchen, last, &portion.items)?;
    let draft = Draft::new(kitchen, input);
    let ours = |item: &Item| find::standing(&draft, &item.name).is_ok();
    if !portion.items.iter().all(ours) {
        return None;
    }
    let decision = carry_out(draft, &[command], OnProblem::Forget);
    (decision.outcome != Outcome::Refused).then_some(decision)
}

/// What the act did, done with other food.
fn the_same(kitchen: &Kitchen, act: &Act, items: &[Item]) -> Option<Command> {
    let own = act.entries.iter().filter(|entry| !entry.tells_vessel());
    let live = own.clone().filter(|entry| entry.live);
    let live = live.map(|entry| &entry.entry);
    let mut done = live.filter(|entry| entry.kind != EntryKind::Settle);
    let all_of = |kind| own.clone().all(|entry| entry.entry.kind == kind);
    let items = items.to_vec();
    if all_of(EntryKind::Waste) {
        return Some(Command::Waste {
            items,
            reason: None,
            anyway: false,
        });
    }
    let (Account::Lot(from), Account::Lot(to)) = done.next().map(|entry| (entry.from, entry.to))?
    else {
        return None;
    };
    let lot = |id: AccountId| kitchen.batches.values().find_map(|batch| batch.lot(id));
    let (from, to) = (lot(from)?, lot(to)?);
    let thawed = kitchen.is_frozen(from) && !kitchen.is_frozen(to);
    let place = kitchen.place(to.place?)?;
    let to = match thawed {
        true => Destination::Thawed,
        false => Destination::Place(Words::plain(place.name.clone())),
    };
    all_of(EntryKind::Move).then(|| Command::Move(Move::to(items, to)))
}
