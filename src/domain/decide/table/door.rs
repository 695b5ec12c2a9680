//! Who speaks without being at the table, and what the keeper alone may change. Looked at once, around a decision, so that
//! no verb can forget it.

use super::super::super::change::{Change, Detail};
use super::super::super::ids::{EntryId, MemberId};
use super::super::super::kitchen::Kitchen;
use super::super::super::ledger::Entry;
use super::super::super::personal::PersonalFact;
use super::super::super::problem::ProblemKind;
use super::super::super::resolve::key;
use super::super::super::table::Seat;
use super::super::super::table::answer::TableEvent;
use super::super::super::table::problem::TableProblem;
use super::super::{Decision, Input, Outcome, Saying, refuse};
use super::answer;
use crate::lang::syntax::{Clock, Command, People};

/// Whoever left comes back by what they book in the household's chat, or by saying so there. In private, and once the keeper
/// has taken them off the table, they are told that they are not at it.
pub fn look(kitchen: &Kitchen, input: &Input, decision: &mut Decision) {
    let seat = kitchen.member(input.sender).map(|member| member.seat);
    match seat {
        None | Some(Seat::Here) => {
            told_apart(kitchen, input, decision);
            keeps(kitchen, input, decision);
        }
        Some(Seat::Left)
            if says(input, |it| {
                *it == Command::People(People::Leave { who: None })
            }) =>
        {
            turn_away(kitchen, input, decision, false);
        }
        Some(Seat::Left) if !input.private => {
            if decision.outcome == Outcome::Recorded || comes_back(input) {
                let_in(kitchen, input, decision);
            }
        }
        Some(seat) => turn_away(kitchen, input, decision, seat == Seat::Removed),
    }
}

fn turn_away(kitchen: &Kitchen, input: &Input, decision: &mut Decision, removed: bool) {
    if decision.outcome == Outcome::Ignored {
        return;
    }
    let keeper = kitchen.table.keeper().map(|keeper| keeper.name.clone());
    let problem = TableProblem::NotAtTable { keeper, removed };
    *decision = refuse(input, ProblemKind::Table(problem).anywhere());
}

/// "I am back at the table", or simply "I'm back".
fn comes_back(input: &Input) -> bool {
    says(input, |command| {
        matches!(
            command,
            Command::People(People::Return) | Command::Clock(Clock::Back { .. })
        )
    })
}

fn says(input: &Input, such: impl Fn(&Command) -> bool) -> bool {
    let Saying::Message(parsed) = &input.saying else {
        return false;
    };
    let best = parsed.best();
    (best.sure || input.addressed) && best.commands.iter().any(such)
}

fn let_in(kitchen: &Kitchen, input: &Input, decision: &mut Decision) {
    if decision.outcome != Outcome::Recorded {
        *decision = Decision {
            outcome: Outcome::Recorded,
            changes: Vec::new(),
            answers: Vec::new(),
            ..refuse(input, ProblemKind::NotUnderstood.anywhere())
        };
    }
    let written = |change: &&Change| matches!(change, Change::Entry { .. });
    let written = decision.changes.iter().filter(written).count() as i64;
    let id = EntryId(kitchen.next.entry + written);
    let (member, fact) = (input.sender, PersonalFact::Here(true));
    decision.changes.push(Change::Entry {
        entry: Entry::fact(id, member, (input.said_at, input.now)),
        detail: Some(Detail::Personal { member, fact }),
    });
    let after = after(kitchen, decision);
    let (sender, message) = (input.sender, decision.credit);
    let said = answer(&after, sender, TableEvent::Back, Some(sender), message);
    decision.answers.push(said);
}

/// With the first that somebody books whose name another has, they are told by what they are told apart.
fn told_apart(kitchen: &Kitchen, input: &Input, decision: &mut Decision) {
    let shares = kitchen.member(input.sender);
    let Some(member) = shares.filter(|member| member.is_told_apart()) else {
        return;
    };
    if decision.outcome == Outcome::Recorded && kitchen.recent.is_empty() {
        let (sender, message) = (input.sender, decision.credit);
        let called = member.called.clone();
        let others = kitchen.members().iter();
        let mut others = others.filter(|it| it.id != sender && key(&it.called) == key(&called));
        let avoids = others.find(|it| !kitchen.avoids(it.id).is_empty());
        let avoids = avoids.map(|it| it.name.clone());
        let event = TableEvent::ToldApart { called, avoids };
        let said = answer(kitchen, sender, event, Some(sender), message);
        decision.answers.push(said);
    }
}

/// What the keeper did is not taken back by others: who keeps the household, and whom they took off the table.
fn keeps(kitchen: &Kitchen, input: &Input, decision: &mut Decision) {
    let Some(keeper) = kitchen.table.keeper() else {
        return;
    };
    let concerns = |fact: &PersonalFact| {
        matches!(
            fact,
            PersonalFact::Keeper | PersonalFact::Removed | PersonalFact::Here(_)
        )
    };
    let stands = !kitchen.personal.latest(concerns).is_empty();
    if !stands || !decision.changes.iter().any(may_reseat) {
        return;
    }
    let after = after(kitchen, decision);
    if !after.members().iter().any(|member| member.chats) {
        let problem = ProblemKind::Table(TableProblem::OnlyOne).anywhere();
        *decision = refuse(input, problem);
        return;
    }
    if keeper.id == input.sender {
        return;
    }
    let removed = |kitchen: &Kitchen| {
        let gone = kitchen.table.gone().iter();
        let removed = gone.filter(|member| member.seat == Seat::Removed);
        removed.map(|member| member.id).collect::<Vec<MemberId>>()
    };
    let handed = |kitchen: &Kitchen| {
        kitchen
            .personal
            .latest(|fact| *fact == PersonalFact::Keeper)
    };
    // One more hand-over is what was confirmed; fewer were taken back.
    let taken_back = handed(&after).len() < handed(kitchen).len();
    if taken_back || removed(&after) != removed(kitchen) {
        let keeper = keeper.name.clone();
        let problem = TableProblem::KeeperOnly { keeper };
        *decision = refuse(input, ProblemKind::Table(problem).anywhere());
    }
}

/// Whether it may change who is at the table: most of what is booked does not, and spares a copy of the kitchen.
fn may_reseat(change: &Change) -> bool {
    match change {
        Change::Member(_) => true,
        Change::Entry { entry, detail } => {
            entry.reverses.is_some() || matches!(detail, Some(Detail::Personal { .. }))
        }
        _ => false,
    }
}

fn after(kitchen: &Kitchen, decision: &Decision) -> Kitchen {
    let mut after = kitchen.clone();
    for change in &decision.changes {
        after.apply(change);
    }
    after
}
