//! An edited message: the books follow it exactly, as often as it is edited.
//!
//! A batch is compared line by line, so that what others have eaten from it, and lines that were put
//! right since, stay. Anything else is taken back and written anew, at its first time.

use std::collections::BTreeMap;

use super::super::act::{Act, ActEntry};
use super::super::answer::{Answer, BatchEvent};
use super::super::change::{Change, Detail};
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Kitchen;
use super::super::ledger::EntryKind;
use super::super::plate::PlatePortion;
use super::super::problem::ProblemKind;
use super::{
    Decision, Done, Input, OnProblem, Stop, batch, carry_out, choose_reading, conclude, line,
    message, pour_off, problem_of, refuse, silence, undo, weigh,
};
use crate::lang::Parsed;
use crate::lang::syntax::{Command, IngredientLine, Item, NewBatch};

pub fn decide(kitchen: &Kitchen, input: &Input, before: &Parsed, after: &Parsed) -> Decision {
    if let Some(decision) = corrected_since(kitchen, input, after) {
        return decision;
    }
    let standing = input.pointed.clone().filter(Act::stands);
    let Some(act) = standing else {
        // Nothing of it is in the books: it is as good as new, and old questions about it are moot.
        return with_questions_closed(kitchen, input, message(kitchen, input, after));
    };
    let commands = |parsed: &Parsed| {
        let reading = choose_reading(input, parsed)?;
        problem_of(reading)
            .is_none()
            .then(|| reading.commands.clone())
    };
    let (old, new) = (commands(before), commands(after));
    if old.is_some() && old == new {
        return unchanged(input);
    }
    if let (Some([Command::Batch(old)]), Some([Command::Batch(new)])) =
        (old.as_deref(), new.as_deref())
        && let Some(id) = opened(&act)
    {
        return revise(kitchen, input, &act, id, old, new);
    }
    // The undo in an edited message speaks of a moment that has passed: it is not carried out again.
    let undoes = |commands: &Option<Vec<Command>>| {
        let mut commands = commands.iter().flatten();
        commands.any(|command| matches!(command, Command::Undo | Command::Redo))
    };
    if undoes(&old) && undoes(&new) {
        return refuse(input, ProblemKind::NothingToUndo.anywhere());
    }
    let new = if undoes(&new) { None } else { new };
    let mut base = Draft::new(kitchen, input);
    close_questions(&mut base, input);
    if old.as_deref().map(names) == new.as_deref().map(names) {
        base.meant_before = meant(&act);
    }
    let taken_back = match undo::take_back(&mut base, &act) {
        Ok(done) => done,
        Err(Stop::Problem(problem)) => return refuse(input, problem),
        Err(Stop::Ask(_)) => return unchanged(input),
    };
    match new {
        // "never mind": the message takes itself back.
        Some(commands) if commands.iter().all(retracts) => conclude(base, taken_back),
        Some(commands) => carry_out(base, &commands, OnProblem::KeepBase),
        None => {
            let mut done = taken_back;
            let problem = choose_reading(input, after).and_then(problem_of);
            done.answers.extend(problem.map(Answer::Problem));
            conclude(base, done)
        }
    }
}

/// A plate that was corrected since by messages of its own ("make it 110"): what the edited message
/// says now takes their place too.
fn corrected_since(kitchen: &Kitchen, input: &Input, after: &Parsed) -> Option<Decision> {
    let act = input.pointed.as_ref()?;
    let mut written: Vec<EntryId> = act.entries.iter().map(|entry| entry.entry.id).collect();
    let mut corrections: Vec<&Act> = Vec::new();
    let own = written.clone();
    let another = |later: &&Act| {
        !later
            .entries
            .iter()
            .any(|entry| own.contains(&entry.entry.id))
    };
    // Oldest first: a correction may itself have been corrected.
    for later in kitchen.recent.iter().rev().filter(another) {
        let standing = later.standing();
        let corrects = |entry: &&ActEntry| {
            entry.takes_back && entry.entry.root.is_some_and(|root| written.contains(&root))
        };
        let writes = |entry: &&ActEntry| entry.entry.kind == EntryKind::Portion;
        let all = || later.entries.iter();
        if all().any(|entry| corrects(&entry)) && all().any(|entry| writes(&entry)) {
            written.extend(standing.iter().map(|entry| entry.entry.id));
            corrections.push(later);
        }
    }
    if corrections.is_empty() {
        return None;
    }
    let reading = choose_reading(input, after)?;
    let mut base = Draft::new(kitchen, input);
    close_questions(&mut base, input);
    let plates = base.kitchen.plates.clone();
    for plate in &plates {
        let ours = |portion: &&PlatePortion| written.contains(&portion.entry);
        for portion in plate.portions.iter().filter(ours) {
            base.reverse_portion(plate.id, portion);
        }
    }
    base.settle();
    Some(match problem_of(reading) {
        Some(problem) => conclude(base, Done::saying(Answer::Problem(problem))),
        None => carry_out(base, &reading.commands, OnProblem::KeepBase),
    })
}

fn retracts(command: &Command) -> bool {
    matches!(command, Command::Drop | Command::Undo | Command::Choose(_))
}

/// What the commands speak of, in their words: figures put right leave it as it was.
fn names(commands: &[Command]) -> Vec<&str> {
    commands.iter().flat_map(named).collect()
}

fn named(command: &Command) -> Vec<&str> {
    match command {
        Command::Portion(portion) => items(&portion.items),
        Command::Waste { items: named, .. } => items(named),
        Command::Count { items, .. } => items.iter().map(|item| item.name.text.as_str()).collect(),
        Command::Add { batch, .. }
        | Command::Amend { batch, .. }
        | Command::Weigh { batch, .. } => {
            vec![batch.text.as_str()]
        }
        Command::PourOff { batch, .. } => batch.iter().map(|batch| batch.text.as_str()).collect(),
        _ => Vec::new(),
    }
}

fn items(items: &[Item]) -> Vec<&str> {
    items.iter().map(|item| item.name.text.as_str()).collect()
}

/// The batches that an act drew from or changed.
fn meant(act: &Act) -> Vec<BatchId> {
    let of_entry = |entry: &ActEntry| match &entry.detail {
        Some(Detail::Ingredient { source, .. }) => [*source, entry.entry.batch],
        _ => [entry.entry.batch, None],
    };
    let standing = act.standing().into_iter();
    standing.flat_map(of_entry).flatten().collect()
}

fn unchanged(input: &Input) -> Decision {
    Decision {
        answers: vec![Answer::Unchanged],
        ..silence(input)
    }
}

fn close_questions(draft: &mut Draft, input: &Input) {
    let about_it: Vec<QuestionId> = draft
        .kitchen
        .questions
        .iter()
        .filter(|question| question.message == input.message)
        .map(|question| question.id)
        .collect();
    for id in about_it {
        draft.push(Change::CloseQuestion(id));
    }
}

fn with_questions_closed(kitchen: &Kitchen, input: &Input, mut decision: Decision) -> Decision {
    let mut draft = Draft::new(kitchen, input);
    close_questions(&mut draft, input);
    decision.changes.splice(0..0, draft.changes);
    decision
}

/// The batch that the message opened, if its opening stands.
fn opened(act: &Act) -> Option<BatchId> {
    act.standing()
        .into_iter()
        .find(|entry| entry.entry.kind == EntryKind::Batch)
        .and_then(|entry| entry.entry.batch)
}

/// The same batch, said otherwise: only what differs is taken back and written.
fn revise(
    kitchen: &Kitchen,
    input: &Input,
    act: &Act,
    id: BatchId,
    old: &NewBatch,
    new: &NewBatch,
) -> Decision {
    let mut draft = Draft::new(kitchen, input);
    close_questions(&mut draft, input);
    let made_at = match batch::made_at(&draft, new.made.as_ref()) {
        Ok(made_at) => made_at,
        Err(Stop::Problem(problem)) => return refuse(input, problem),
        Err(Stop::Ask(_)) => return unchanged(input),
    };
    draft.occurred_at = made_at;
    if old.name != new.name {
        batch::rename(&mut draft, id, new.name.text.trim());
    }
    if old.raw != new.raw {
        let raw = new.raw;
        draft.push(Change::MarkRaw { batch: id, raw });
    }
    if old.made != new.made {
        let made_on = draft.day_of(made_at);
        draft.push(Change::MadeOn {
            batch: id,
            made_at,
            made_on,
        });
    }
    if old.place != new.place {
        let place = new.place.as_ref().map(|place| draft.place(&place.text));
        let lot = draft.kitchen.batch(id).lots[0].id;
        draft.push(Change::PlaceLot { lot, place });
    }
    let mut pending = revise_lines(&mut draft, id, act, &old.lines, &new.lines);
    if old.poured != new.poured {
        reverse_kind(&mut draft, act, EntryKind::PourOff);
        for poured in &new.poured {
            pending.extend(pour_off::write_or_wait(&mut draft, id, poured));
        }
    }
    draft.settle();
    if old.weighing != new.weighing {
        reverse_kind(&mut draft, act, EntryKind::Weigh);
        if let Some(weighing) = &new.weighing {
            match weigh::net(&draft, weighing) {
                Ok(reading) => weigh::write(&mut draft, id, reading),
                Err(problem) => pending.push(weigh::pending(&draft, id, weighing, problem)),
            }
        }
    }
    draft.settle();
    let notes = batch::odd_yield(&draft, id).into_iter().collect();
    let done: Done = batch::answer(&draft, id, BatchEvent::Revised, notes, pending);
    conclude(draft, done)
}

/// Lines that are in both stay as they are in the books, whatever became of them since.
fn revise_lines(
    draft: &mut Draft,
    id: BatchId,
    act: &Act,
    old: &[IngredientLine],
    new: &[IngredientLine],
) -> Vec<line::Pending> {
    let numbers = numbers_in_books(act, old);
    let mut unmatched: Vec<(Option<u32>, &IngredientLine)> = numbers.into_iter().zip(old).collect();
    let mut added: Vec<&IngredientLine> = Vec::new();
    for line in new {
        match unmatched
            .iter()
            .position(|(_, known)| known.content == line.content && known.part == line.part)
        {
            Some(at) => {
                unmatched.remove(at);
            }
            None => added.push(line),
        }
    }
    // A line that went leaves its number to one that came in its stead.
    let mut free: Vec<u32> = Vec::new();
    for number in unmatched.into_iter().filter_map(|(number, _)| number) {
        let lines = draft.kitchen.batch(id).lines.clone();
        for line in lines.iter().filter(|line| line.number == number) {
            draft.reverse_line(id, line);
        }
        free.push(number);
    }
    let mut next = draft.kitchen.batch(id).last_number + 1;
    let mut free = free.into_iter();
    let mut pending = Vec::new();
    for line in added {
        let number = free.next().unwrap_or_else(|| {
            next += 1;
            next - 1
        });
        pending.extend(line::write(draft, id, number, line));
    }
    pending
}

/// Where a message's lines stand in the books: each under the number that it was last written with,
/// since earlier edits have left gaps and filled them.
fn numbers_in_books(act: &Act, lines: &[IngredientLine]) -> Vec<Option<u32>> {
    let mut written: BTreeMap<u32, &str> = BTreeMap::new();
    for entry in &act.entries {
        if let (EntryKind::Ingredient, Some(Detail::Ingredient { text, number, .. })) =
            (entry.entry.kind, &entry.detail)
        {
            written.insert(*number, text);
        }
    }
    let number = |line: &IngredientLine| {
        let found = written.iter().find(|(_, text)| **text == line.text);
        let found = found.map(|(number, _)| *number)?;
        written.remove(&found);
        Some(found)
    };
    lines.iter().map(number).collect()
}

fn reverse_kind(draft: &mut Draft, act: &Act, kind: EntryKind) {
    let standing = act.standing().into_iter().rev();
    for entry in standing.filter(|entry| entry.entry.kind == kind) {
        draft.reverse_entry(entry);
    }
}
