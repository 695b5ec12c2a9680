//! A timer is a fact: it is taken back like every other, and what is put off is taken back and asked for anew.

use chrono::{DateTime, Duration, NaiveDateTime, Utc};

use super::super::super::answer::{About, Answer};
use super::super::super::change::Detail;
use super::super::super::clock::ahead;
use super::super::super::clock::answer::{ClockAnswer, ReminderView};
use super::super::super::clock::problem::ClockProblem;
use super::super::super::clock::{ClockDetail, NewReminder, Reminder, ReminderKind};
use super::super::super::draft::Draft;
use super::super::super::kitchen::Choice;
use super::super::super::problem::ProblemKind;
use super::super::super::resolve::key;
use super::super::{Asking, Done, Step, Stop};
use crate::lang::syntax::{At, Clock, Command, Impossible, Lasting, WhichTimer, Words};

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

pub(super) fn after(from: DateTime<Utc>, lasting: Lasting) -> Result<DateTime<Utc>, Stop> {
    if !(1..=MINUTES_MAX).contains(&lasting.minutes) {
        let told = match lasting.minutes {
            minutes if minutes > 0 && minutes % 60 == 0 => format!("{} h", minutes / 60),
            _ => lasting.to_string(),
        };
        let problem = ClockProblem::impossible(told, Impossible::Span);
        return Err(ProblemKind::Clock(problem).into());
    }
    Ok(from + Duration::seconds(lasting.seconds()))
}

pub(super) fn ask_for(
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

pub fn pending(draft: &Draft, notes: bool) -> Answer {
    let waiting = draft.kitchen.clock.waiting.iter();
    let waiting = waiting.map(|reminder| view(draft, reminder)).collect();
    let notes = notes.then(|| draft.kitchen.settings().clock);
    Answer::Clock(ClockAnswer::Pending { waiting, notes })
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
    // "cancel the two o'clock one" may be said of anything.
    if meant.is_empty() && matches!(which, WhichTimer::One(_)) && !draft.input.addressed {
        return Ok(Done::default());
    }
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

pub(super) fn found<'a>(among: &'a [Reminder], which: &WhichTimer) -> Vec<&'a Reminder> {
    let fits = |reminder: &&Reminder| match which {
        WhichTimer::All | WhichTimer::Untold => true,
        WhichTimer::Number(number) => reminder.asked.number == *number,
        WhichTimer::Named(words) | WhichTimer::One(words) => {
            is_called(&reminder.asked.words, &words.text)
        }
    };
    among.iter().filter(fits).collect()
}

/// All of the words stand in what it is for.
fn is_called(known: &str, told: &str) -> bool {
    let (known, told) = (key(known), key(told));
    let mut words = told.split_whitespace();
    !told.is_empty() && words.all(|word| known.split_whitespace().any(|known| known == word))
}

pub(super) fn none_like(which: &WhichTimer) -> Stop {
    let told = match which {
        WhichTimer::All | WhichTimer::Untold => None,
        WhichTimer::Number(number) => Some(number.to_string()),
        WhichTimer::Named(words) | WhichTimer::One(words) => Some(words.text.clone()),
    };
    ProblemKind::Clock(ClockProblem::NoSuchTimer { told }).into()
}

pub(super) fn ask_which(
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
