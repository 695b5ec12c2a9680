//! The sheet of a recount: what the books hold, to be answered line by line. While somebody walks along it,
//! "rice 640, dal 0, chilli same" is a count.

use chrono::{DateTime, Duration, Utc};

use super::super::answer::{Answer, LotView, SheetAnswer};
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::{Kitchen, OpenQuestion, RECOUNT};
use super::super::ledger::EntryKind;
use super::super::view;
use super::{Decision, Done, Input, OnProblem, Step, carry_out};
use crate::lang;
use crate::lang::syntax::Command;

/// So long a walk through the kitchen takes.
const WALK_MINUTES: i64 = 45;

pub fn sheet(draft: &mut Draft) -> Step {
    let kitchen = &draft.kitchen;
    let mut lots: Vec<LotView> = Vec::new();
    for batch in kitchen.open_batches() {
        let standing = batch.lots.iter().filter(|lot| lot.balance > batch.crumbs());
        for lot in standing.map(|lot| view::lot(kitchen, batch, lot)) {
            // Two bags in one place are on the scale together.
            let there = |known: &&mut LotView| known.batch == lot.batch && known.place == lot.place;
            match lots.iter_mut().find(there) {
                Some(known) => known.balance += lot.balance,
                None => lots.push(lot),
            }
        }
    }
    // What nobody has given a place is listed with the fridge, as it is counted.
    let place = |lot: &LotView| lot.place.clone().unwrap_or_else(|| "fridge".into());
    lots.sort_by_cached_key(|lot| (place(lot), lot.name.clone()));
    if !lots.is_empty() {
        close(draft);
        open(draft);
    }
    Ok(Done::saying(Answer::Sheet(SheetAnswer {
        lots,
        today: draft.today(),
    })))
}

fn open(draft: &mut Draft) {
    draft.push(Change::Ask(OpenQuestion {
        id: QuestionId(draft.kitchen.next.question),
        member: draft.input.sender,
        message: draft.credit,
        about: RECOUNT.to_owned(),
        words: "recount".into(),
        options: Vec::new(),
        said_at: draft.input.said_at,
        expires_at: draft.input.now + Duration::minutes(WALK_MINUTES),
        pointed: None,
        mentioned: true,
    }));
}

fn close(draft: &mut Draft) {
    let open = sheets(&draft.kitchen, draft.input).map(|open| open.id);
    for id in open.collect::<Vec<_>>() {
        draft.push(Change::CloseQuestion(id));
    }
}

fn sheets<'a>(
    kitchen: &'a Kitchen,
    input: &'a Input,
) -> impl Iterator<Item = &'a OpenQuestion> + 'a {
    let questions = kitchen.questions.iter();
    questions.filter(|open| open.member == input.sender && open.about == RECOUNT)
}

/// Since when the sender walks along a sheet.
pub fn opened_at(draft: &Draft) -> Option<DateTime<Utc>> {
    let (kitchen, input) = (&draft.kitchen, draft.input);
    let mut open = sheets(kitchen, input).filter(|open| open.expires_at >= input.now);
    open.next().map(|open| open.said_at)
}

/// Lines that answer the sheet.
pub fn answered(kitchen: &Kitchen, input: &Input) -> Option<Decision> {
    let mut open = sheets(kitchen, input);
    let to_it = |open: &OpenQuestion| {
        open.expires_at >= input.now || input.replies_to == Some(open.message)
    };
    open.find(|open| to_it(open))?;
    let command = lang::answer::counts(&input.text, &kitchen.vocabulary())?;
    let draft = Draft::new(kitchen, input);
    Some(carry_out(draft, &[command], OnProblem::Forget))
}

/// An edited message that has counts in the books is read as lines of a sheet again.
pub fn edited(kitchen: &Kitchen, input: &Input, text: &str) -> Option<Vec<Command>> {
    let act = input.pointed.as_ref()?;
    let standing = act.standing();
    let own = standing.iter().filter(|entry| entry.entry.root.is_none());
    let mut own = own.filter(|entry| !entry.tells_vessel());
    let counts = own
        .clone()
        .any(|entry| entry.entry.kind == EntryKind::Count)
        && own.all(|entry| matches!(entry.entry.kind, EntryKind::Count | EntryKind::Settle));
    let command = lang::answer::counts(text, &kitchen.vocabulary()).filter(|_| counts)?;
    Some(vec![command])
}
