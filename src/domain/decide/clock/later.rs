//! What is put off: a timer or a reminder, waiting or just rung, and a note of the bot's own.

use chrono::{DateTime, NaiveDateTime, Utc};

use super::super::super::answer::Answer;
use super::super::super::clock::ahead;
use super::super::super::clock::press::ClockPress;
use super::super::super::clock::problem::ClockProblem;
use super::super::super::clock::{Reminder, ReminderKind, ToldNotes};
use super::super::super::draft::Draft;
use super::super::super::kitchen::Kitchen;
use super::super::super::problem::ProblemKind;
use super::super::{Decision, Done, Input, Step, Stop, conclude, refuse, stopped};
use super::timer::{after, ask_for, ask_which, found, none_like};
use crate::lang::syntax::{At, Clock, Lasting, WhichTimer};

/// What somebody would hear of again.
enum Meant {
    Reminder(Box<Reminder>),
    Notes(ToldNotes),
}

/// What waits is put off from when it would have rung, what rang or was told from now.
pub fn more(draft: &mut Draft, lasting: Lasting, which: &WhichTimer) -> Step {
    match meant(draft, which, |which| Clock::More { lasting, which })? {
        Meant::Reminder(reminder) => put_off(draft, &reminder, lasting),
        Meant::Notes(notes) => {
            let due_at = after(draft.occurred_at, lasting)?;
            again(draft, &notes, due_at, None)
        }
    }
}

/// "snooze until 18:00"
pub fn later(draft: &mut Draft, until: &At, which: &WhichTimer) -> Step {
    let says = |which| Clock::Later {
        until: until.clone(),
        which,
    };
    let meant = meant(draft, which, says)?;
    let zone = draft.kitchen.settings().zone;
    let wall = ahead::wall(until, zone, draft.occurred_at).map_err(ProblemKind::Clock)?;
    let due_at = ahead::instant(zone, wall);
    match meant {
        Meant::Notes(notes) => again(draft, &notes, due_at, Some(wall)),
        Meant::Reminder(reminder) => put_off_to(draft, &reminder, due_at, Some(wall)),
    }
}

fn meant(
    draft: &Draft,
    which: &WhichTimer,
    says: impl Fn(WhichTimer) -> Clock,
) -> Result<Meant, Stop> {
    let clock = &draft.kitchen.clock;
    if let Some(notes) = notes_spoken_of(draft, which) {
        return Ok(Meant::Notes(notes));
    }
    let reminder = match spoken_of(draft, which) {
        Some(reminder) => Some(reminder),
        None => match found(&clock.waiting, which).as_slice() {
            [] => found(&clock.rang, which).last().map(|one| (*one).clone()),
            [one] => Some((*one).clone()),
            several => return Err(ask_which(several, says, which)),
        },
    };
    // "add 5 min to your run" is of something else.
    let none = || match draft.input.addressed {
        true => none_like(which),
        false => none_like(&WhichTimer::Untold),
    };
    let reminder = reminder.ok_or_else(none)?;
    Ok(Meant::Reminder(Box::new(reminder)))
}

/// The notes that were told last, if nothing has rung since, or the message replies to them.
fn notes_spoken_of(draft: &Draft, which: &WhichTimer) -> Option<ToldNotes> {
    let clock = &draft.kitchen.clock;
    let told = clock
        .told
        .as_ref()
        .filter(|_| *which == WhichTimer::Untold)?;
    let rang = clock.rang.last();
    let newest = told.pointed || rang.is_none_or(|rang| rang.due_at < told.at);
    newest.then(|| told.clone())
}

/// "5 min more", behind what rang: that, or what it was put off to already.
fn spoken_of(draft: &Draft, which: &WhichTimer) -> Option<Reminder> {
    let clock = &draft.kitchen.clock;
    let rang = clock.rang.last().filter(|_| *which == WhichTimer::Untold)?;
    let mut since = clock
        .waiting
        .iter()
        .filter(|known| known.set_at >= rang.due_at);
    match (since.next(), since.next()) {
        (None, _) => Some(rang.clone()),
        (Some(only), None) => Some(only.clone()),
        _ => None,
    }
}

fn put_off(draft: &mut Draft, reminder: &Reminder, lasting: Lasting) -> Step {
    let mut waiting = draft.kitchen.clock.waiting.iter();
    let waits = waiting.any(|known| known.entry == reminder.entry);
    let from = match waits {
        true => reminder.due_at,
        false => draft.occurred_at,
    };
    let due_at = after(from, lasting)?;
    put_off_to(draft, reminder, due_at, None)
}

fn put_off_to(
    draft: &mut Draft,
    reminder: &Reminder,
    due_at: DateTime<Utc>,
    wall: Option<NaiveDateTime>,
) -> Step {
    let mut waiting = draft.kitchen.clock.waiting.iter();
    if waiting.any(|known| known.entry == reminder.entry) {
        draft.reverse_fact(reminder.entry, reminder.tip, reminder.set_at);
    }
    let kind = kind(wall);
    ask_for(draft, kind, &reminder.asked.words, due_at, wall)
}

/// The notes are told once more; what waits of them already is put off.
fn again(
    draft: &mut Draft,
    notes: &ToldNotes,
    due_at: DateTime<Utc>,
    wall: Option<NaiveDateTime>,
) -> Step {
    let names = notes.kinds.iter().map(|kind| kind.name());
    let hot = notes.put_away.then_some("hot food away");
    let mut all = Done::default();
    for words in names.chain(hot) {
        let mut waiting = draft.kitchen.clock.waiting.iter();
        let same = waiting.find(|known| known.asked.words == words).cloned();
        let done = match same {
            Some(waits) => put_off_to(draft, &waits, due_at, wall)?,
            None => ask_for(draft, kind(wall), words, due_at, wall)?,
        };
        all.answers.extend(done.answers);
    }
    Ok(all)
}

fn kind(wall: Option<NaiveDateTime>) -> ReminderKind {
    match wall {
        Some(_) => ReminderKind::Once,
        None => ReminderKind::Timer,
    }
}

/// A button under what rang.
pub fn press(kitchen: &Kitchen, input: &Input, press: &ClockPress) -> Decision {
    let ClockPress::Again { reminder, minutes } = press;
    let known = kitchen.clock.rang.iter().chain(&kitchen.clock.waiting);
    let found = known
        .clone()
        .find(|known| known.entry == *reminder)
        .cloned();
    let Some(reminder) = found else {
        let gone = ClockProblem::NoSuchTimer { told: None };
        return refuse(input, ProblemKind::Clock(gone).anywhere());
    };
    let mut waiting = kitchen.clock.waiting.iter();
    let put_off_before = |known: &Reminder| {
        known.set_at >= reminder.due_at && known.asked.words == reminder.asked.words
    };
    if waiting.any(put_off_before) {
        return conclude(Draft::new(kitchen, input), Done::saying(Answer::Unchanged));
    }
    let mut draft = Draft::new(kitchen, input);
    match put_off(&mut draft, &reminder, Lasting::minutes(*minutes)) {
        Ok(done) => conclude(draft, done),
        Err(stop) => stopped(Draft::new(kitchen, input), stop),
    }
}
