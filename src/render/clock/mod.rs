//! Timers and reminders: what is set, what waits, and that it is time.

mod away;
pub mod data;
mod note;
mod problem;

use chrono::{Duration, NaiveDateTime, NaiveTime, Weekday};

use crate::domain::answer::{Button, ClockAnswer, Press, ReminderView, RungView};
use crate::domain::clock::ReminderKind;
use crate::domain::clock::occurrence::ClockSettings;
use crate::domain::clock::press::ClockPress;
use crate::domain::ids::MessageId;

use super::clean::{clean, cut};
use super::date::calendar_day;
use super::page::{Line, Page};

pub use problem::problem;

/// As much longer as one button makes it.
const MORE_MINUTES: u32 = 5;
const LATER_MINUTES: u32 = 10;

/// A name on a button.
const LABEL_CHARS_MAX: usize = 24;

pub fn page(answer: &ClockAnswer) -> Page {
    let mut page = Page::new();
    match answer {
        ClockAnswer::Set { timer, .. } => page.say(set(timer)),
        ClockAnswer::Cancelled { timers, .. } => {
            page.say(match timers.len() {
                1 => "Cancelled:",
                _ => "All cancelled:",
            });
            timers.iter().for_each(|timer| page.item(set(timer)));
        }
        ClockAnswer::Pending { waiting, notes } => {
            if waiting.is_empty() {
                page.say("No timer and no reminder waits.");
            }
            waiting.iter().for_each(|timer| page.say(set(timer)));
            if let Some(settings) = notes {
                page.gap();
                page.say("Notes:");
                notes_of(settings)
                    .into_iter()
                    .for_each(|note| page.item(note));
            }
        }
        ClockAnswer::Rang(rung) => rang(&mut page, rung),
        ClockAnswer::Note(note) => return note::page(note),
        ClockAnswer::PutAway {
            out,
            unplaced,
            by,
            over,
        } => {
            return note::put_away(out, unplaced, *by, *over);
        }
        ClockAnswer::Away(answer) => return away::page(answer),
        ClockAnswer::Absences(days) => return away::absences(days),
        ClockAnswer::Back {
            member, on, today, ..
        } => return away::back(member.as_deref(), *on, *today),
    }
    page
}

/// "Timer 1: dal, 35 min, at 18:52."
fn set(timer: &ReminderView) -> Line {
    let when = moment(timer.wall, timer.now);
    let (kind, lasts) = match timer.kind {
        ReminderKind::Timer => ("Timer", format!("{}, ", span(timer.lasts))),
        ReminderKind::Once => ("Reminder", String::new()),
    };
    let shows = |second| format!(", the {second} time that the clock shows it");
    let of_two = match timer.second {
        None => String::new(),
        Some(false) => shows("first"),
        Some(true) => shows("second"),
    };
    let leapt = timer.leapt.map(|asked| {
        let asked = asked.format("%H:%M");
        format!(" The clocks leap over {asked} that day.")
    });
    let rest = format!("{lasts}{when}{of_two}.{}", leapt.unwrap_or_default());
    let line = Line::new().plain(format!("{kind} {}: ", timer.number));
    match timer.words.is_empty() {
        true => line.plain(rest),
        false => line.bold(clean(&timer.words)).plain(format!(", {rest}")),
    }
}

/// What comes by itself, and when.
pub fn notes_of(settings: &ClockSettings) -> Vec<String> {
    vec![
        prep_day(settings),
        morning_note(settings),
        evening_note(settings),
        put_away(settings),
        quiet_hours(settings),
    ]
}

fn rang(page: &mut Page, rung: &RungView) {
    let timer = &rung.reminder;
    let called = match timer.words.is_empty() {
        true => format!("Timer {}", timer.number),
        false => clean(&timer.words),
    };
    page.say(Line::new().bold(called).plain(match timer.kind {
        ReminderKind::Timer => {
            let verb = match timer.lasts.num_seconds() {
                1 | 60 | 3600 => "is",
                _ => "are",
            };
            format!(": {} {verb} over.", span(timer.lasts))
        }
        // Late, when it was due is told behind it.
        ReminderKind::Once if rung.late.is_some() => ".".to_owned(),
        ReminderKind::Once => format!(": it is {}.", timer.wall.format("%H:%M")),
    }));
    if let Some(late) = rung.late {
        let when = moment(timer.wall, timer.now);
        page.say(format!("Late: it was due {when}, {} ago.", span(late)));
    }
}

/// "at 18:52", "tomorrow at 08:00", "Sun 18 Oct at 18:00"
pub fn moment(wall: NaiveDateTime, now: NaiveDateTime) -> String {
    let time = wall.format("at %H:%M");
    match (wall.date() - now.date()).num_days() {
        0 => time.to_string(),
        1 => format!("tomorrow {time}"),
        -1 => format!("yesterday {time}"),
        _ => format!("{} {time}", calendar_day(wall.date(), now.date())),
    }
}

/// "35 min", "2 h", "1 h 30 min", "3 days"
pub fn span(lasts: Duration) -> String {
    let (minutes, seconds) = (lasts.num_minutes(), lasts.num_seconds() % 60);
    match (minutes / 60, minutes % 60) {
        (0, 0) => format!("{seconds} s"),
        (0, minutes) if minutes < 10 && seconds > 0 => format!("{minutes} min {seconds} s"),
        (0, minutes) => format!("{minutes} min"),
        (hours, _) if hours >= 48 => format!("{} days", hours / 24),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// Under what rang: once more, in a while.
pub fn again(rung: &RungView, alone: bool) -> Button {
    let timer = &rung.reminder;
    let (minutes, label) = match timer.kind {
        ReminderKind::Timer => (MORE_MINUTES, format!("{MORE_MINUTES} min more")),
        ReminderKind::Once => (LATER_MINUTES, format!("{LATER_MINUTES} min later")),
    };
    let called = match timer.words.is_empty() {
        true => format!("Timer {}", timer.number),
        false => cut(&clean(&timer.words), LABEL_CHARS_MAX),
    };
    Button {
        label: match alone {
            true => label,
            false => format!("{called}: {label}"),
        },
        press: Press::Clock(ClockPress::Again {
            reminder: timer.entry,
            minutes,
        }),
    }
}

/// An hour within the quiet hours is not when it comes.
fn held(clock: &ClockSettings, at: NaiveTime) -> String {
    match clock.quiet {
        Some((_, end)) if clock.is_quiet(at) => {
            format!("; held until {} by the quiet hours", time(end))
        }
        _ => String::new(),
    }
}

pub fn prep_day(clock: &ClockSettings) -> String {
    match clock.prep {
        Some(prep) => {
            let weekday = Weekday::try_from(prep.weekday);
            let weekday = weekday.map_or(String::new(), |day| day.to_string());
            let at = time(prep.at);
            let day = match prep.every_other {
                Some(on) => format!("every other {weekday}, as on {}, {at}", on.format("%-d %b")),
                None => format!("{weekday} {at}"),
            };
            match clock.prep_told {
                true => format!("prep day: {day}{}", held(clock, prep.at)),
                false => format!("prep day: {day}, no message"),
            }
        }
        None => "prep day: none".to_owned(),
    }
}

pub fn evening_note(clock: &ClockSettings) -> String {
    match clock.evening {
        Some(at) => format!(
            "evening note: {}, when a planned dish has to thaw{}",
            time(at),
            held(clock, at)
        ),
        None => "evening note: none".to_owned(),
    }
}

pub fn morning_note(clock: &ClockSettings) -> String {
    match clock.morning {
        Some(at) => format!(
            "morning note: {}, when something is due{}",
            time(at),
            held(clock, at)
        ),
        None => "morning note: none".to_owned(),
    }
}

pub fn quiet_hours(clock: &ClockSettings) -> String {
    match clock.quiet {
        Some((from, to)) => format!("quiet hours: {} to {}", time(from), time(to)),
        None => "quiet hours: none".to_owned(),
    }
}

pub fn put_away(clock: &ClockSettings) -> String {
    match clock.put_away {
        true => "put-away note: when hot food stands out for 1 h 30".to_owned(),
        false => "put-away note: none".to_owned(),
    }
}

fn time(time: NaiveTime) -> String {
    time.format("%H:%M").to_string()
}

/// The message that an answer is about, where it can be taken back.
pub fn message(answer: &ClockAnswer) -> Option<MessageId> {
    match answer {
        ClockAnswer::Set { message, .. }
        | ClockAnswer::Cancelled { message, .. }
        | ClockAnswer::Back { message, .. } => Some(*message),
        ClockAnswer::Away(answer) => Some(answer.message),
        ClockAnswer::Pending { .. }
        | ClockAnswer::Absences(_)
        | ClockAnswer::Rang(_)
        | ClockAnswer::PutAway { .. }
        | ClockAnswer::Note(_) => None,
    }
}
