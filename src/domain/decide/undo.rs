//! Taking back, and putting back what was taken back. The books only grow: an undo is a reversal of
//! every entry of one message, and an undo can itself be undone.

use chrono::Duration;

use super::super::act::{Act, ActEntry};
use super::super::answer::{About, Answer, LeftView, UndoneAnswer};
use super::super::batch::{Batch, Line};
use super::super::change::{Change, Detail};
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::{Choice, Settings};
use super::super::ledger::EntryKind;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::{Done, Step, Stop, find, question, teach};
use crate::lang::syntax::{Command, SettingPart, Words};

pub fn undo(draft: &mut Draft) -> Step {
    // What was said last waits for an answer: nothing of it is in the books.
    if draft.input.pointed.is_none() && question::waits_last(draft) {
        return question::drop(draft);
    }
    let act = pointed_or_newest(draft).ok_or(ProblemKind::NothingToUndo)?;
    draft.about = Some(act.message);
    own(draft, &act, &Command::Undo)?;
    long_ago(draft, &act, &Command::Undo, "take back")?;
    take_back(draft, &act)
}

/// Take back the sender's newest act that put food elsewhere, threw it away, or counted it, whatever was booked since; of
/// the dish, if one was named.
pub fn undo_last(draft: &mut Draft, kind: EntryKind, name: Option<&Words>) -> Step {
    let of = match name {
        Some(name) => Some(find::batches(draft, name)?),
        None => None,
    };
    let does = |entry: &&ActEntry| {
        let batch = entry.entry.batch;
        let meant = of
            .as_ref()
            .is_none_or(|of| batch.is_some_and(|batch| of.contains(&batch)));
        entry.entry.kind == kind && meant
    };
    let did = |act: &&Act| act.standing().iter().any(&does);
    let act = draft.kitchen.recent.iter().find(did).cloned();
    let act = act.ok_or(ProblemKind::NothingToFix)?;
    let name = name.cloned();
    let says = match kind {
        EntryKind::Waste => Command::UndoWaste { name },
        EntryKind::Count => Command::UndoCount { name },
        _ => Command::UndoMove { name },
    };
    draft.about = Some(act.message);
    own(draft, &act, &says)?;
    long_ago(draft, &act, &says, "take back")?;
    take_back(draft, &act)
}

/// The sender's last undo that no redo has answered; a new booking ends what can be redone.
fn not_redone(draft: &Draft) -> Option<Act> {
    let mut redone = 0;
    for act in &draft.kitchen.recent {
        match act.puts_back() {
            Some(true) => redone += 1,
            Some(false) if redone > 0 => redone -= 1,
            Some(false) => return Some(act.clone()).filter(Act::stands),
            None if act.stands() => return None,
            None => {}
        }
    }
    None
}

/// The newest act, if all that it did was to take something off a plate: "actually put it back".
fn taken_off(draft: &Draft) -> Option<Act> {
    let act = pointed_or_newest(draft)?;
    let marks = |entry: &ActEntry| entry.entry.kind == EntryKind::Fact && entry.detail.is_none();
    let writes = |entry: &ActEntry| entry.entry.kind == EntryKind::Portion;
    let takes = act.entries.iter().any(marks) && !act.entries.iter().any(writes);
    takes.then_some(act)
}

/// A bare "undo" means what was just booked; something older is named first.
const JUST_NOW_HOURS: i64 = 2;

pub fn long_ago(draft: &Draft, act: &Act, says: &Command, does: &str) -> Result<(), Stop> {
    let recent = draft.input.said_at - act.sent_at <= Duration::hours(JUST_NOW_HOURS);
    if recent || draft.input.confirmed || draft.input.pointed.is_some() {
        return Ok(());
    }
    let words = &said(draft, act).text;
    let options = vec![Choice {
        label: format!("yes, {does} {words}"),
        says: says.to_string(),
    }];
    Err(find::ask(About::Confirm, words, None, options))
}

pub fn redo(draft: &mut Draft) -> Step {
    let pointed = draft.input.pointed.clone();
    let pointed = pointed.filter(|act| act.stands() && act.is_undo());
    let act = pointed
        .or_else(|| not_redone(draft))
        .or_else(|| taken_off(draft))
        .ok_or(ProblemKind::NothingToRedo)?;
    draft.about = Some(act.message);
    own(draft, &act, &Command::Redo)?;
    take_back(draft, &act)
}

/// The act that the message points at, or else the sender's own latest that put something in the books.
pub fn pointed_or_newest(draft: &Draft) -> Option<Act> {
    // Pointing at something that is taken back already does not mean something else.
    if let Some(pointed) = &draft.input.pointed {
        return Some(pointed.clone()).filter(Act::stands);
    }
    let mut recent = draft.kitchen.recent.iter();
    recent
        .find(|act| act.stands() && !act.only_reverses())
        .cloned()
}

/// Another person's entry is changed only after a confirmation; `says` is what it confirms.
pub fn own(draft: &Draft, act: &Act, says: &Command) -> Result<(), Stop> {
    if act.member == draft.input.sender || draft.input.confirmed {
        return Ok(());
    }
    let owner = draft.kitchen.member(act.member);
    let owner = owner.map_or_else(String::new, |member| member.name.clone());
    let options = vec![Choice {
        label: format!("yes, change {owner}'s"),
        says: says.to_string(),
    }];
    let problem = ProblemKind::NotYours { owner };
    let words = &said(draft, act).text;
    Err(find::ask(About::Confirm, words, Some(problem), options))
}

/// Reverse what an act put into the books.
pub fn take_back(draft: &mut Draft, act: &Act) -> Step {
    in_use(draft, act)?;
    from_nothing(draft, act)?;
    let put_back = act.is_undo();
    if put_back && said_otherwise_since(draft, act) {
        return Err(ProblemKind::NothingToRedo.into());
    }
    let act = &without_replaced_lines(draft, act);
    if !put_back {
        close_questions(draft, act);
    }
    draft.reverse(act);
    reopen(draft, act);
    draft.settle();
    let said = said(draft, act);
    let member = draft.kitchen.member(said.member);
    Ok(Done::saying(Answer::Undone(UndoneAnswer {
        text: said.text.clone(),
        member: member.map_or_else(String::new, |member| member.name.clone()),
        put_back,
        left: left_of_touched(draft),
        chosen: chosen(draft, said),
        notes: Vec::new(),
        message: draft.credit,
    })))
}

/// What the household chooses now of what the act had changed.
fn chosen(draft: &Draft, act: &Act) -> Option<(Settings, Vec<SettingPart>)> {
    let changed = act.entries.iter().filter_map(|entry| match &entry.detail {
        Some(Detail::Setting(change)) => teach::part_changed(change),
        _ => None,
    });
    let mut parts: Vec<SettingPart> = Vec::new();
    for part in changed {
        if !parts.contains(&part) {
            parts.push(part);
        }
    }
    (!parts.is_empty()).then(|| (draft.kitchen.settings(), parts))
}

/// What a message left to be asked goes with what it booked.
fn close_questions(draft: &mut Draft, act: &Act) {
    let open = draft.kitchen.questions.iter();
    let of_it = open.filter(|open| open.message == act.message && !open.keeps_in_mind());
    let of_it: Vec<QuestionId> = of_it.map(|open| open.id).collect();
    for id in of_it {
        draft.push(Change::CloseQuestion(id));
    }
}

/// Not "undo" is what comes back, but what it had taken.
fn said<'a>(draft: &'a Draft, act: &'a Act) -> &'a Act {
    let reversed = || what_it_reversed(draft, act).next();
    act.puts_back().and_then(|_| reversed()).unwrap_or(act)
}

/// The message that an undo took back has been edited since: what it said first is not what it says.
fn said_otherwise_since(draft: &Draft, undo: &Act) -> bool {
    let mut undone = what_it_reversed(draft, undo);
    undone.any(|act| act.revised > undo.message)
}

/// The acts whose entries an act took back or put back, newest first.
fn what_it_reversed<'a>(draft: &'a Draft, act: &'a Act) -> impl Iterator<Item = &'a Act> {
    let roots = act.entries.iter().filter_map(|entry| entry.entry.root);
    let roots: Vec<EntryId> = roots.collect();
    let wrote = move |other: &&Act| {
        let mut entries = other.entries.iter();
        other.message != act.message && entries.any(|entry| roots.contains(&entry.entry.id))
    };
    draft.kitchen.undone.iter().rev().filter(wrote)
}

/// A line that has been written anew under its number since does not come back beside it.
fn without_replaced_lines(draft: &Draft, act: &Act) -> Act {
    let goes_too = |line: &Line| {
        let mut entries = act.entries.iter();
        entries.any(|entry| entry.entry.root.unwrap_or(entry.entry.id) == line.entry)
    };
    let replaced = |entry: &ActEntry| {
        let (Some(Detail::Ingredient { number, .. }), Some(batch)) =
            (&entry.detail, entry.entry.batch)
        else {
            return false;
        };
        let mut lines = draft.kitchen.batch(batch).lines.iter();
        entry.takes_back && lines.any(|line| line.number == *number && !goes_too(line))
    };
    let mut act = act.clone();
    act.entries.retain(|entry| !replaced(entry));
    act
}

/// A batch that others have eaten from, or that went into another, cannot be un-cooked.
pub fn in_use(draft: &Draft, act: &Act) -> Result<(), ProblemKind> {
    for opened in act.standing() {
        let Some(id) = opened.entry.batch else {
            continue;
        };
        let batch = draft.kitchen.batch(id);
        // Its opening, or what put its opening back.
        let put_back = opened.entry.root == batch.entry && !opened.takes_back;
        if opened.entry.kind != EntryKind::Batch && !put_back {
            continue;
        }
        let own: Mass = act
            .standing()
            .iter()
            .filter(|entry| entry.entry.batch == Some(id))
            .map(|entry| match entry.entry.kind {
                EntryKind::Portion | EntryKind::Waste | EntryKind::Move => entry.entry.mass,
                _ => Mass::ZERO,
            })
            .sum();
        // What was put elsewhere by others is in use as well.
        let moved = batch.lots.iter().filter(|lot| lot.came_from.is_some());
        let moved: Mass = moved.map(|lot| lot.balance).sum();
        let drawn = batch.drawn() + moved - own;
        if drawn.mg() > 0 {
            let name = batch.name.clone();
            return Err(ProblemKind::InUse { name, drawn });
        }
    }
    Ok(())
}

/// What was drawn from a batch comes back only while the batch is there, or with it.
fn from_nothing(draft: &Draft, act: &Act) -> Result<(), ProblemKind> {
    let standing = act.standing();
    let opens = |id: BatchId| {
        let opening = draft.kitchen.batch(id).entry;
        opening.is_some() && standing.iter().any(|entry| entry.entry.root == opening)
    };
    let touched = |entry: &&ActEntry| {
        let lots = [entry.entry.from, entry.entry.to];
        let mut batches = draft.kitchen.batches.values();
        batches.find(|batch| {
            let holds = lots.iter().any(|lot| batch.has_lot(*lot));
            batch.voided && !opens(batch.id) && holds
        })
    };
    let comes_back = |entry: &&&ActEntry| entry.takes_back && !entry.settles();
    let gone = standing.iter().filter(comes_back).find_map(touched);
    gone.map_or(Ok(()), |batch| {
        let name = batch.name.clone();
        Err(ProblemKind::TakenBack { name })
    })
}

/// Putting an opening back puts the batch back on the board; `settle` closes it again if it is empty.
fn reopen(draft: &mut Draft, act: &Act) {
    let reopened: Vec<BatchId> = act
        .standing()
        .iter()
        .filter(|entry| entry.takes_back)
        .filter_map(|entry| entry.entry.batch)
        .filter(|id| !draft.kitchen.batch(*id).open)
        .collect();
    for batch in reopened {
        draft.push(Change::SetOpen { batch, open: true });
    }
}

/// What the batches hold now that hold something else than before. Two of one name are told apart.
fn left_of_touched(draft: &Draft) -> Vec<LeftView> {
    let touched: Vec<&Batch> = draft
        .kitchen
        .open_batches()
        .filter(|batch| {
            let before = draft.before.batches.get(&batch.id);
            before.is_none_or(|before| before.left() != batch.left() || !before.open)
        })
        .collect();
    let label = |batch: &Batch| {
        let mut others = touched.iter().filter(|other| other.id != batch.id);
        match others.any(|other| other.name == batch.name) {
            true => format!("{} {}", batch.name, batch.code),
            false => batch.name.clone(),
        }
    };
    let left = touched.iter().map(|batch| LeftView {
        name: label(batch),
        mass: batch.left(),
        estimated: batch.estimated(),
    });
    left.collect()
}
