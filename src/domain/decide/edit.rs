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
use super::super::kitchen::{Answered, Kitchen};
use super::super::ledger::EntryKind;
use super::super::problem::{Problem, ProblemKind};
use super::{
    Decision, Input, OnProblem, Outcome, Saying, Stop, batch, carry_out, choose_reading, conclude,
    conclude_if_enough, correction, line, message, pour_off, problem_of, question, refuse, sheet,
    silence, undo, weigh,
};
use crate::lang::Parsed;
use crate::lang::syntax::{Command, IngredientLine, Item, NewBatch, TopUp};

pub fn decide(kitchen: &Kitchen, input: &Input, before: &Parsed, after: &Parsed) -> Decision {
    let commands = |parsed: &Parsed, text: &str| {
        if let Some(counts) = sheet::edited(kitchen, input, text) {
            return Some(counts);
        }
        let reading = choose_reading(input, parsed)?;
        problem_of(reading)
            .is_none()
            .then(|| reading.commands.clone())
    };
    let said = input.pointed.as_ref().map_or("", |act| &act.text);
    let (old, new) = (commands(before, said), commands(after, &input.text));
    if let Some(answered) = &input.answered {
        return match old.is_some() && old == new {
            true => unchanged(input),
            false => answer_otherwise(kitchen, input, answered, after, new.as_deref()),
        };
    }
    if let Some(decision) = correction::replaced(kitchen, input, after) {
        return decision;
    }
    let standing = input.pointed.clone().filter(Act::stands);
    let Some(act) = standing else {
        // Nothing of it is in the books: it is as good as new, and old questions about it are moot.
        return with_questions_closed(kitchen, input, message(kitchen, input, after));
    };
    if old.is_some() && old == new {
        return with_questions_closed(kitchen, input, unchanged(input));
    }
    // The undo in an edited message speaks of a moment that has passed: it is not carried out again.
    let undoes = |commands: &Option<Vec<Command>>| commands.iter().flatten().any(undoes);
    if undoes(&old) && undoes(&new) {
        return refuse(input, ProblemKind::NothingToUndo.anywhere());
    }
    let new = if undoes(&new) { None } else { new };
    let mut base = Draft::new(kitchen, input);
    close_questions(&mut base, input);
    let unread = choose_reading(input, after).and_then(problem_of);
    match (new, unread) {
        (None, Some(problem)) => taken_back_with(base, &act, problem),
        (new, _) => replace(base, &act, old, new),
    }
}

/// What an act has in the books gives way to what its message says now.
pub fn replace(
    mut base: Draft,
    act: &Act,
    old: Option<Vec<Command>>,
    new: Option<Vec<Command>>,
) -> Decision {
    if let (Some([Command::Batch(old)]), Some([Command::Batch(new)])) =
        (old.as_deref(), new.as_deref())
        && let Some(id) = opened(act)
    {
        return revise(base, act, id, old, new);
    }
    if old.as_deref().map(names) == new.as_deref().map(names) {
        base.meant_before = meant(act);
    }
    base.about = Some(base.credit);
    let input = base.input;
    let taken_back = match undo::take_back(&mut base, act) {
        Ok(done) => done,
        Err(Stop::Problem(problem)) => return refuse(input, problem),
        Err(Stop::Ask(_)) => return unchanged(input),
    };
    match new {
        // "never mind": the message takes itself back.
        Some(commands) if commands.iter().all(retracts) => conclude(base, taken_back),
        Some(commands) => carry_out(base, &commands, OnProblem::KeepBase),
        None => conclude(base, taken_back),
    }
}

/// What it says now cannot be read: it no longer says what it said.
fn taken_back_with(mut base: Draft, act: &Act, problem: Problem) -> Decision {
    match undo::take_back(&mut base, act) {
        Ok(mut done) => {
            done.answers.push(Answer::Problem(problem));
            conclude(base, done)
        }
        Err(Stop::Problem(problem)) => refuse(base.input, problem),
        Err(Stop::Ask(_)) => unchanged(base.input),
    }
}

/// The answer to a question was edited: what it wrote is taken back, the question is open again, and the
/// new words answer it, or say something else.
fn answer_otherwise(
    kitchen: &Kitchen,
    input: &Input,
    answered: &Answered,
    after: &Parsed,
    new: Option<&[Command]>,
) -> Decision {
    let mut base = Draft::new(kitchen, input);
    base.credit = answered.question.message;
    let mut said = Vec::new();
    // What it said in between, that was no answer, goes as well.
    let wrote = answered.wrote.iter().chain(&input.pointed);
    for act in wrote.filter(|act| act.stands()) {
        match undo::take_back(&mut base, act) {
            Ok(done) => said = done.answers,
            Err(Stop::Problem(problem)) => return refuse(input, problem),
            Err(Stop::Ask(_)) => return unchanged(input),
        }
    }
    // What was asked on from the old answer is moot.
    let asked_since = kitchen
        .questions
        .iter()
        .filter(|open| open.message == answered.question.message && open.id > answered.question.id);
    for open in asked_since {
        base.push(Change::CloseQuestion(open.id));
    }
    base.push(Change::Reopen(answered.question.clone()));
    let spoken = Input {
        replies_to: Some(answered.question.message),
        answered: None,
        pointed: None,
        saying: Saying::Message(after.clone()),
        ..input.clone()
    };
    // An undo takes itself back, as in any message that is edited: nothing else goes with it.
    let mut decision = match new.is_some_and(|new| new.iter().all(undoes)) {
        true => silence(&spoken),
        false => message(&base.kitchen, &spoken, after),
    };
    let changes = || decision.changes.iter();
    let kept = changes().any(|change| matches!(change, Change::Answered { .. }));
    let wrote = changes().any(|change| matches!(change, Change::Entry { .. }));
    if base.has_booked() && wrote && !kept {
        // What it says now may be an answer again after the next edit: it is known what to take back.
        decision = question::keep_range(&base.kitchen, input, &answered.question, decision);
    }
    if base.has_booked() {
        decision.outcome = Outcome::Recorded;
        decision.credit = base.credit;
        if decision.answers.is_empty() {
            decision.answers = said;
        }
    }
    decision.changes.splice(0..0, base.changes);
    decision
}

fn undoes(command: &Command) -> bool {
    matches!(
        command,
        Command::Undo
            | Command::UndoMove { .. }
            | Command::UndoCount { .. }
            | Command::UndoWaste { .. }
            | Command::Redo
    )
}

fn retracts(command: &Command) -> bool {
    let drops = matches!(command, Command::Drop | Command::Choose(_));
    drops || undoes(command) && *command != Command::Redo
}

/// What the commands speak of, in their words: figures put right leave it as it was.
fn names(commands: &[Command]) -> Vec<&str> {
    commands.iter().flat_map(named).collect()
}

fn named(command: &Command) -> Vec<&str> {
    match command {
        Command::Portion(portion) => items(&portion.items),
        Command::Waste { items: named, .. } => items(named),
        Command::Move(moved) => items(&moved.items),
        Command::Spread(said) => vec![said.dish.text.as_str()],
        Command::Boxes(boxes) => items(&boxes.items),
        Command::Count { items, .. } => items.iter().map(|item| item.name.text.as_str()).collect(),
        Command::Add { batch, .. }
        | Command::Amend { batch, .. }
        | Command::Weigh { batch, .. }
        | Command::TopUp(TopUp { batch, .. }) => {
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

pub fn close_questions(draft: &mut Draft, input: &Input) {
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
fn revise(mut draft: Draft, act: &Act, id: BatchId, old: &NewBatch, new: &NewBatch) -> Decision {
    let input = draft.input;
    draft.about = Some(draft.credit);
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
    if old.places != new.places {
        let place = batch::one_place(&mut draft, &new.places);
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
    if old.pieces != new.pieces {
        let counts = |entry: &&ActEntry| matches!(entry.detail, Some(Detail::Pieces { .. }));
        for entry in act.standing().into_iter().filter(counts) {
            draft.reverse_entry(entry);
        }
        batch::count(&mut draft, id, new.pieces.as_ref(), None);
    }
    draft.settle();
    if old.weighings != new.weighings {
        reverse_kind(&mut draft, act, EntryKind::Weigh);
        pending.extend(weigh::write_or_wait(&mut draft, id, &new.weighings));
    }
    draft.settle();
    let notes = batch::odd_yield(&draft, id).into_iter().collect();
    let done = batch::answer(&draft, id, BatchEvent::Revised, notes, pending);
    conclude_if_enough(draft, done, &[Command::Batch(new.clone())])
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
/// since earlier edits have left gaps and filled them, and taken edits back.
fn numbers_in_books(act: &Act, lines: &[IngredientLine]) -> Vec<Option<u32>> {
    let mut written: BTreeMap<u32, &str> = BTreeMap::new();
    let (stand, gone): (Vec<_>, Vec<_>) = act.entries.iter().partition(|entry| entry.live);
    for entry in gone.into_iter().chain(stand) {
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
