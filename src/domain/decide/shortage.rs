//! What the books come to lack. However it came about (a draw, a weighing, an edit, something taken
//! back or put back), a batch from which a little more was taken than it held is said, since scales
//! drift; more than that is asked about, and nothing of it is booked before the answer.

use super::super::answer::{About, Answer, Note};
use super::super::batch::Batch;
use super::super::draft::Draft;
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::{Stop, find};
use crate::lang::syntax::Command;

/// Scales drift: so much more than the books hold is recorded and said.
pub const DRIFT: Mass = Mass::from_mg(30_000);
/// Or such a share of the batch, whichever is more.
const DRIFT_SHARE: f64 = 0.1;

/// What an option of a question ends with when it has been confirmed.
pub const ANYWAY: &str = " anyway";

/// How much more may have been taken from a batch than it held.
pub fn drift(batch: &Batch) -> Mass {
    DRIFT.max(batch.net_mass().share(DRIFT_SHARE))
}

/// How much more was taken from a batch than it held.
pub fn lacking(batch: &Batch) -> Mass {
    if batch.voided || weight_unknown(batch) {
        return Mass::ZERO;
    }
    match batch.estimated() {
        true => Mass::ZERO.max(Mass::ZERO - batch.left()),
        false => batch.lots.iter().map(|lot| lot.overdrawn(batch)).sum(),
    }
}

/// Nobody has said what went into it: it may hold anything.
pub fn weight_unknown(batch: &Batch) -> bool {
    batch.estimated() && batch.raw_mass().is_zero()
}

/// What a decision has made the books lack: a note for a little; for more, the question whether these
/// commands are right.
pub fn look(draft: &Draft, commands: &[Command]) -> Result<Vec<Note>, Stop> {
    let mut notes = Vec::new();
    for batch in draft.kitchen.batches.values() {
        let before = draft.before.batches.get(&batch.id);
        let (before, now) = (before.map_or(Mass::ZERO, lacking), lacking(batch));
        if now <= before {
            continue;
        }
        let confirmed = draft.input.anyway || commands.iter().any(says_anyway);
        if now > drift(batch) && !confirmed {
            return Err(ask(batch, now, commands));
        }
        notes.push(Note::SlightlyMore {
            name: batch.name.clone(),
            over: now - before,
        });
    }
    Ok(notes)
}

/// The batches of which this decision leaves crumbs.
pub fn finished(draft: &Draft) -> Vec<Note> {
    let was_open = |batch: &&Batch| {
        let before = draft.before.batches.get(&batch.id);
        before.is_none_or(|before| before.open)
    };
    let batches = draft.kitchen.batches.values();
    let closed = batches.filter(|batch| !batch.open && !batch.voided && batch.left().mg() > 0);
    let note = |batch: &Batch| Note::Finished {
        name: batch.name.clone(),
        left: batch.left(),
    };
    closed.filter(was_open).map(note).collect()
}

/// Say it beside the first answer that has room for it.
pub fn say(notes: Vec<Note>, answers: &mut [Answer]) {
    if let Some(said) = answers.iter_mut().find_map(Answer::notes) {
        said.extend(notes);
    }
}

fn ask(batch: &Batch, lacking: Mass, commands: &[Command]) -> Stop {
    let taken: Mass = batch.drawn();
    let problem = ProblemKind::MoreTaken {
        name: batch.name.clone(),
        taken,
        holds: taken - lacking,
    };
    let sentences: Vec<String> = commands.iter().map(ToString::to_string).collect();
    let options = vec![Choice {
        label: "yes, all the same".into(),
        says: sentences.join("\n") + ANYWAY,
    }];
    find::ask(About::Confirm, &batch.name, Some(problem), options)
}

fn says_anyway(command: &Command) -> bool {
    match command {
        Command::Portion(portion) => portion.anyway,
        Command::Boxes(boxes) => boxes.anyway,
        Command::Count { anyway, .. }
        | Command::Waste { anyway, .. }
        | Command::PourOff { anyway, .. } => *anyway,
        _ => false,
    }
}

/// An option as commands to be read, and whether it says that it is confirmed.
pub fn without_anyway(says: &str) -> (&str, bool) {
    match says.strip_suffix(ANYWAY) {
        Some(says) => (says, true),
        None => (says, false),
    }
}

/// Commands that ask by themselves are confirmed by a word of their own.
pub fn confirm(commands: &mut [Command]) {
    for command in commands {
        match command {
            Command::Portion(portion) => portion.anyway = true,
            Command::Boxes(boxes) => boxes.anyway = true,
            Command::Count { anyway, .. }
            | Command::Waste { anyway, .. }
            | Command::PourOff { anyway, .. } => *anyway = true,
            _ => {}
        }
    }
}
