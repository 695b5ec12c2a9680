//! An edit and its way back: where the text alone says what is meant, the first text gives the first
//! state again. Where what was learned since says otherwise, the test stands aside, and names why.

use super::auditor;
use super::kitchen_talk::Said;
use super::state::State;
use crate::home::Home;
use hobside::domain::act::ActEntry;
use hobside::domain::answer::Answer;
use hobside::domain::batch::{Batch, LineState};
use hobside::domain::change::Detail;
use hobside::domain::decide::Decision;
use hobside::domain::ids::{EntryId, MessageId};
use hobside::domain::ledger::EntryKind;

/// Whether it was compared.
pub fn edited_back(before: &Home, after: &Home, said: &Said) -> Result<bool, String> {
    let Said::Edit { message, .. } = said else {
        return Ok(false);
    };
    if !text_alone_tells(before, after, *message) {
        return Ok(false);
    }
    let mut back = after.clone();
    let first = before.text_of(*message).to_owned();
    let decision = back.edit(*message, &first);
    auditor::audit(&back)?;
    if asks(&decision) {
        return Ok(false);
    }
    State::of(before).same_as(&State::of(&back), "an edit and its way back")?;
    Ok(true)
}

/// A share is weighed anew each time, by what is known then, and so is what an unweighed pot has to give,
/// which a later count told.
fn text_alone_tells(before: &Home, after: &Home, message: MessageId) -> bool {
    let answered = before.answered_by(message);
    let about = answered
        .as_ref()
        .map_or(message, |answered| answered.question.message);
    let wrote = match answered {
        Some(answered) => answered.wrote,
        None => before.act(message),
    };
    let of_one = |message: MessageId| {
        depends_on_the_moment(before.text_of(message))
            || waits_or_may_choose(before, message)
            || changed_by_others(before, message)
    };
    wrote.is_some_and(|act| act.stands())
        && !before.answered.contains(&message)
        && !of_one(message)
        && !of_one(about)
        && !line_is_anew(before, message)
        && !took_others_along(before, after, message)
        && !cooked_since(before, message)
        && !counted_since(before, about)
        && !before.kitchen.batches.values().any(guessed)
}

/// It has run out by a guess, or a count stands for the weighing that it never had.
fn guessed(batch: &Batch) -> bool {
    batch.left().is_negative() || batch.first_count().is_some()
}

/// Shares, and words about what was just said, mean something else when they are said anew.
fn depends_on_the_moment(text: &str) -> bool {
    const WORDS: [&str; 14] = [
        "half", "rest", "make", "put", "take", "forgot", "forget", "that", "undo", "redo", "other",
        "same", "more", "should",
    ];
    text.split_whitespace().any(|word| WORDS.contains(&word)) || text.contains(" was ")
}

/// A line of it was put right by another message: its text is not the whole of it either.
fn changed_by_others(home: &Home, message: MessageId) -> bool {
    let own = |root: EntryId| {
        let mut entries = home.journal.iter();
        entries.any(|(credit, entry, _)| *credit == message && entry.id == root)
    };
    let mut entries = home.journal.iter();
    entries.any(|(credit, entry, _)| *credit != message && entry.root.is_some_and(own))
}

/// A line that it took out was written anew by an edit: taken out again, that one would go.
fn line_is_anew(home: &Home, message: MessageId) -> bool {
    let line = |detail: &Option<Detail>| match detail {
        Some(Detail::Ingredient { number, .. }) => Some(*number),
        _ => None,
    };
    let act = home.act(message).into_iter().flat_map(|act| act.entries);
    let mut lines = act.filter_map(|entry| Some((line(&entry.detail)?, entry.entry)));
    lines.any(|(number, own)| {
        let mut entries = home.journal.iter();
        entries.any(|(credit, entry, detail)| {
            let same = entry.batch == own.batch && line(detail) == Some(number);
            same && *credit != message && entry.id > own.id
        })
    })
}

/// A batch was opened or taken back after the message: its names may mean others now.
fn cooked_since(home: &Home, message: MessageId) -> bool {
    let opens = |root: EntryId| {
        let mut batches = home.kitchen.batches.values();
        batches.any(|batch| batch.entry == Some(root))
    };
    let mut entries = home.journal.iter();
    entries.any(|(credit, entry, _)| credit.0 > message.0 && opens(entry.root.unwrap_or(entry.id)))
}

/// A later count told what there was then: drawn anew, it comes from other batches of its name.
fn counted_since(home: &Home, message: MessageId) -> bool {
    let mut entries = home.journal.iter();
    entries.any(|(credit, entry, _)| credit.0 > message.0 && entry.kind == EntryKind::Count)
}

/// A line of it waits, which may be clear by now; or it drew on one of several batches of a name or several
/// lots of a batch, and how far each of them went then was changed since; or its batch was taken back.
fn waits_or_may_choose(home: &Home, message: MessageId) -> bool {
    let Some(act) = home.act(message) else {
        return false;
    };
    let waits = |entry: &ActEntry| match &entry.detail {
        Some(Detail::Ingredient { state, .. }) => *state == LineState::Pending,
        _ => false,
    };
    let named = |batch: &Batch, name: &str| !batch.voided && batch.name == name;
    let one_of_several = |entry: &ActEntry| {
        let batch = entry.entry.batch.map(|id| &home.kitchen.batches[&id]);
        let batches = || home.kitchen.batches.values();
        let several = |one: &Batch| batches().filter(|other| named(other, &one.name)).count() > 1;
        batch.is_some_and(|one| one.voided || several(one) || one.lots.len() > 1)
    };
    let mut entries = act.entries.iter();
    entries.any(|entry| waits(entry) || one_of_several(entry))
}

/// The edit took a batch back to which other messages had added: edited back, it is a new batch.
fn took_others_along(before: &Home, after: &Home, message: MessageId) -> bool {
    let voided = after.kitchen.batches.values().filter(|batch| {
        let known = before.kitchen.batches.get(&batch.id);
        batch.voided && known.is_some_and(|known| !known.voided)
    });
    let of_others = |batch: &Batch| {
        let mut entries = before.journal.iter();
        entries.any(|(credit, entry, _)| entry.batch == Some(batch.id) && *credit != message)
    };
    voided.into_iter().any(of_others)
}

fn asks(decision: &Decision) -> bool {
    let waits = |answer: &Answer| matches!(answer, Answer::Ask(_) | Answer::Problem(_));
    decision.answers.iter().any(waits)
}
