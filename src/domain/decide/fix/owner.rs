//! Whose plate a correction changes: what needs a confirmation, and who may give it.

use super::super::super::act::ActEntry;
use super::super::super::answer::About;
use super::super::super::draft::Draft;
use super::super::super::ids::MemberId;
use super::super::super::kitchen::{Choice, Kitchen, OpenQuestion};
use super::super::super::ledger::Account;
use super::super::super::problem::ProblemKind;
use super::super::super::table::Called;
use super::super::{Stop, find, question};
use super::find_line::{Found, label, told};
use crate::lang::syntax::{Command, Figure, Fix, Words};

/// What somebody else has booked is changed only after a confirmation.
pub fn confirmed(draft: &Draft, fix: &Fix, lines: &[Found]) -> Result<(), Stop> {
    let written = || draft.kitchen.recent.iter().flat_map(|act| &act.entries);
    // What the sender has put there is theirs, whoever put it right last.
    let mine = |(plate, line): &Found| {
        let first = |entry: &ActEntry| {
            let same = (entry.entry.batch, entry.entry.profile) == (line.batch, line.profile);
            same && entry.entry.to == Account::Plate(*plate)
        };
        written().any(first) || draft.has_written(line.entry)
    };
    if draft.input.confirmed || lines.iter().all(mine) {
        return Ok(());
    }
    let plate = lines
        .iter()
        .find(|line| !mine(line))
        .map(|(plate, _)| *plate);
    let owner = plate
        .and_then(|plate| draft.kitchen.plate(plate))
        .and_then(|plate| draft.kitchen.member(plate.member))
        .map_or_else(String::new, |member| member.name.clone());
    let words: Vec<String> = lines.iter().map(|(_, line)| told(draft, line)).collect();
    let options = vec![Choice {
        label: format!("yes, change {owner}'s"),
        says: Command::Fix(said_whole(draft, fix, lines, &owner)).to_string(),
    }];
    let problem = ProblemKind::NotYours { owner };
    Err(find::ask(
        About::Confirm,
        &words.join(", "),
        Some(problem),
        options,
    ))
}

/// The same with whose line it is and of what, so that it says as much in anybody's mouth.
fn said_whole(draft: &Draft, fix: &Fix, lines: &[Found], owner: &str) -> Fix {
    let mut fix = fix.clone();
    if let (
        [(_, found)],
        Fix::Amount {
            new: Figure::Is(_),
            line,
        },
    ) = (lines, &mut fix)
    {
        line.owner = Some(Words::plain(owner));
        line.name
            .get_or_insert_with(|| Words::plain(label(draft, found)));
    }
    fix
}

/// Whether the question is about what is on this person's plate and nobody else's but the asker's: then they may answer
/// it as well.
pub fn may_confirm(kitchen: &Kitchen, open: &OpenQuestion, member: MemberId) -> bool {
    let mut offered = open.offered();
    let (Some(only), None) = (offered.next(), offered.next()) else {
        return false;
    };
    if open.about != About::Confirm.word() {
        return false;
    }
    let Ok(commands) = question::read(&only.says, &kitchen.vocabulary()) else {
        return false;
    };
    let whose = |command: &Command| {
        let Command::Fix(Fix::Amount { line, .. }) = command else {
            return None;
        };
        match kitchen.table.called(&line.owner.as_ref()?.text) {
            Called::One(owner) => Some(owner),
            Called::Several(_) | Called::Nobody => None,
        }
    };
    let owners: Option<Vec<MemberId>> = commands.iter().map(whose).collect();
    owners.is_some_and(|owners| {
        let theirs = |owner: &MemberId| [member, open.member].contains(owner);
        owners.contains(&member) && owners.iter().all(theirs)
    })
}
