//! A timer is a fact: it is taken back like every other, and what is put off is taken back and asked for anew.

use chrono::{DateTime, Duration, NaiveDateTime, Utc};

use super::super::super::answer::{About, Answer};
use super::super::super::change::Detail;
use super::super::super::clock::ahead;
use super::super::super::clock::answer::{ClockAnswer, ReminderView};
use super::super::super::clock::press::ClockPress;
use super::super::super::clock::problem::ClockProblem;
use super::super::super::clock::{ClockDetail, NewReminder, Reminder, ReminderKind};
use super::super::super::draft::Draft;
use super::super::super::kitchen::{Choice, Kitchen};
use super::super::super::problem::ProblemKind;
use super::super::super::resolve::key;
use super::super::{Asking, Decision, Done, Input, Step, Stop, conclude, refuse, stopped};
use crate::lang::syntax::{At, Clock, Command, Lasting, WhichTimer, Words};

/// So many may wait for one person.
const WAITING_MAX: usize = 20;
/// Longer nobody cooks.
const MINUTES_MAX: u32 = 7 * 24 * 60;

pub fn set(draft: &mut Draft, lasting: Lasting, words: &str) -> Step {
    let due_at = after(draft.occurred_at, lasting)?;
    ask_for(draft, ReminderKind::Timer, words, due_at, None)
}

pub fn remind(draft: &mut Draft, at: &At, words: &str) -> Step {
    let zone = draft.kitchen.settings().zone;
    let wall = ahead::wall(at, zone, draft.occurred_at).map_err(ProblemKind::Clock)?;
    let due_at = ahead::instant(zone, wall);
    ask_for(draft, ReminderKind::Once, words, due_at, Some(wall))
}

fn after(from: DateTime<Utc>, lasting: Lasting) -> Result<DateTime<Utc>, Stop> {
    if !(1..=MINUTES_MAX).contains(&lasting.minutes) {
        let told = lasting.to_string();
        return Err(ProblemKind::Clock(ClockProblem::ImpossibleTime { told }).into());
    }
    Ok(from + Duration::minutes(i64::from(lasting.minutes)))
}

fn ask_for(
    draft: &mut Draft,
    kind: ReminderKind,
    words: &str,
    due_at: DateTime<Utc>,
    wall: Option<NaiveDateTime>,
) -> Step {
    let sender = draft.input.sender;
    let waiting = draft.kitchen.clock.waiting.iter();
    if waiting.filter(|known| known.member == sender).count() >= WAITING_MAX {
        let most = WAITING_MAX;
        return Err(ProblemKind::Clock(ClockProblem::TooManyTimers { most }).into());
    }
    let asked = NewReminder {
        kind,
        number: draft.kitchen.clock.free_number(),
        words: words.to_owned(),
        due_at,
        wall,
    };
    let entry = draft.fact(Detail::Clock(ClockDetail::Reminder(asked)));
    let waiting = draft.kitchen.clock.waiting.iter();
    let set = waiting.clone().find(|known| known.entry == entry);
    let timer = view(draft, set.expect("it was just asked for"));
    let message = draft.credit;
    Ok(Done::saying(Answer::Clock(ClockAnswer::Set {
        timer,
        message,
    })))
}

fn view(draft: &Draft, reminder: &Reminder) -> ReminderView {
    ReminderView::of(&draft.kitchen, reminder, draft.input.now)
}

pub fn pending(draft: &Draft) -> Answer {
    let waiting = draft.kitchen.clock.waiting.iter();
    let views = waiting.map(|reminder| view(draft, reminder)).collect();
    Answer::Clock(ClockAnswer::Pending(views))
}

pub fn cancel(draft: &mut Draft, which: &WhichTimer) -> Step {
    let meant = match which {
        WhichTimer::All => draft.kitchen.clock.waiting.clone(),
        which => match found(&draft.kitchen.clock.waiting, which).as_slice() {
            [] => Vec::new(),
            [one] => vec![(*one).clone()],
            several => return Err(ask_which(several, Clock::Cancel, which)),
        },
    };
    if meant.is_empty() {
        return Err(none_like(which));
    }
    let views = meant.iter().map(|reminder| view(draft, reminder)).collect();
    draft.takes_away();
    for reminder in &meant {
        draft.reverse_fact(reminder.entry, reminder.tip, reminder.set_at);
    }
    let message = draft.credit;
    let timers = views;
    Ok(Done::saying(Answer::Clock(ClockAnswer::Cancelled {
        timers,
        message,
    })))
}

/// What waits is put off from when it would have rung, what rang from now.
pub fn more(draft: &mut Draft, lasting: Lasting, which: &WhichTimer) -> Step {
    let meant = match spoken_of(draft, which) {
        Some(reminder) => Some(reminder),
        None => match found(&draft.kitchen.clock.waiting, which).as_slice() {
            [] => found(&draft.kitchen.clock.rang, which)
                .last()
                .map(|one| (*one).clone()),
            [one] => Some((*one).clone()),
            several => {
                let says = |which| Clock::More { lasting, which };
                return Err(ask_which(several, says, which));
            }
        },
    };
    let reminder = meant.ok_or_else(|| none_like(which))?;
    put_off(draft, &reminder, lasting)
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
    let waiting = draft.kitchen.clock.waiting.iter();
    let waits = waiting.clone().any(|known| known.entry == reminder.entry);
    let from = match waits {
        true => reminder.due_at,
        false => draft.occurred_at,
    };
    let due_at = after(from, lasting)?;
    if waits {
        draft.reverse_fact(reminder.entry, reminder.tip, reminder.set_at);
    }
    ask_for(
        draft,
        ReminderKind::Timer,
        &reminder.asked.words.clone(),
        due_at,
        None,
    )
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
    let minutes = *minutes;
    match put_off(&mut draft, &reminder, Lasting { minutes }) {
        Ok(done) => conclude(draft, done),
        Err(stop) => stopped(Draft::new(kitchen, input), stop),
    }
}

fn found<'a>(among: &'a [Reminder], which: &WhichTimer) -> Vec<&'a Reminder> {
    let fits = |reminder: &&Reminder| match which {
        WhichTimer::All | WhichTimer::Untold => true,
        WhichTimer::Number(number) => reminder.asked.number == *number,
        WhichTimer::Named(words) => is_called(&reminder.asked.words, &words.text),
    };
    among.iter().filter(fits).collect()
}

/// All of the words stand in what it is for.
fn is_called(known: &str, told: &str) -> bool {
    let (known, told) = (key(known), key(told));
    let mut words = told.split_whitespace();
    !told.is_empty() && words.all(|word| known.split_whitespace().any(|known| known == word))
}

fn none_like(which: &WhichTimer) -> Stop {
    let told = match which {
        WhichTimer::All | WhichTimer::Untold => None,
        WhichTimer::Number(number) => Some(number.to_string()),
        WhichTimer::Named(words) => Some(words.text.clone()),
    };
    ProblemKind::Clock(ClockProblem::NoSuchTimer { told }).into()
}

fn ask_which(
    several: &[&Reminder],
    says: impl Fn(WhichTimer) -> Clock,
    which: &WhichTimer,
) -> Stop {
    let options = several.iter().map(|reminder| {
        let number = reminder.asked.number;
        let label = match reminder.asked.words.as_str() {
            "" => format!("timer {number}"),
            words => format!("{words} (timer {number})"),
        };
        let says = Command::Clock(says(WhichTimer::Number(number))).to_string();
        Choice { label, says }
    });
    let words = match which {
        WhichTimer::Named(Words { text, .. }) => text.clone(),
        _ => "timer".to_owned(),
    };
    Stop::Ask(Box::new(Asking {
        about: About::WhichTimer,
        words,
        problem: None,
        options: options.collect(),
        pointed: None,
    }))
}
