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
use super::{Decision, Done, Input, OnProblem, Step, carry_out, verb};
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
        said: None,
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
    let own = |open: &&OpenQuestion| open.member == input.sender;
    questions.filter(|open| open.about == RECOUNT).filter(own)
}

/// Somebody of the household walks along a sheet.
fn is_open(kitchen: &Kitchen, input: &Input) -> bool {
    let mut sheets = kitchen
        .questions
        .iter()
        .filter(|open| open.about == RECOUNT);
    sheets.any(|open| open.expires_at >= input.now || input.replies_to == Some(open.message))
}

/// Since when somebody walks along a sheet: the sender, or else anybody of the household.
pub fn opened_at(draft: &Draft) -> Option<DateTime<Utc>> {
    let (kitchen, input) = (&draft.kitchen, draft.input);
    let fresh = |open: &&OpenQuestion| open.expires_at >= input.now;
    let own = sheets(kitchen, input).find(fresh);
    let anybodys = || {
        let mut sheets = kitchen
            .questions
            .iter()
            .filter(|open| open.about == RECOUNT);
        sheets.find(fresh)
    };
    own.or_else(anybodys).map(|open| open.said_at)
}

/// Lines that answer the sheet, whoever of the household says them. One dish with its weight is a line of whoever asked
/// for the sheet only: from anybody else it may be a plate.
pub fn answered(kitchen: &Kitchen, input: &Input) -> Option<Decision> {
    if !is_open(kitchen, input) {
        return None;
    }
    let commands = lang::answer::counts(&input.text, &kitchen.vocabulary())?;
    let own = sheets(kitchen, input).next().is_some() || input.replies_to.is_some();
    let told: usize = commands.iter().map(lines).sum();
    if !own && told < 2 {
        return None;
    }
    let (counts, others): (Vec<Command>, Vec<Command>) = commands
        .into_iter()
        .partition(|command| matches!(command, Command::Count { .. }));
    // What is asked of a count holds nothing else back: "binned the rice, dal 640".
    let mut base = Draft::new(kitchen, input);
    let mut answers = Vec::new();
    for command in &others {
        match verb::carry_out(&mut base, command) {
            Ok(done) => answers.extend(done.answers),
            Err(_) => {
                let all: Vec<Command> = others.into_iter().chain(counts).collect();
                let draft = Draft::new(kitchen, input);
                return Some(carry_out(draft, &all, OnProblem::Forget));
            }
        }
    }
    let mut decision = carry_out(base, &counts, OnProblem::KeepBase);
    decision.answers.splice(0..0, answers);
    Some(decision)
}

/// How many lines a command is of, where one that tells nothing is left counts as two.
fn lines(command: &Command) -> usize {
    match command {
        Command::Count { items, rest, .. } => {
            let gone = items
                .iter()
                .filter(|item| item.weighing.is_nothing())
                .count();
            items.len() + gone + 2 * usize::from(rest.is_some())
        }
        _ => 1,
    }
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
    lang::answer::counts(text, &kitchen.vocabulary()).filter(|_| counts)
}
