//! What is said of time to come.

use chrono::{Duration, NaiveDateTime};

use super::{MESSAGE, today};
use crate::domain::answer::{ClockAnswer, ReminderView, RungView};
use crate::domain::clock::ReminderKind;
use crate::domain::clock::problem::ClockProblem;
use crate::domain::ids::EntryId;
use crate::domain::problem::ProblemKind;

/// One of every kind.
pub fn problems(words: &str) -> Vec<ProblemKind> {
    let told = || words.to_string();
    let problems = [
        ClockProblem::ImpossibleTime { told: told() },
        ClockProblem::TimeGone { told: told() },
        ClockProblem::NoTime,
        ClockProblem::NoSuchTimer { told: None },
        ClockProblem::NoSuchTimer { told: Some(told()) },
        ClockProblem::TooManyTimers { most: 20 },
    ];
    problems.into_iter().map(ProblemKind::Clock).collect()
}

fn at(days: i64, hour: u32, minute: u32) -> NaiveDateTime {
    let day = today() + Duration::days(days);
    day.and_hms_opt(hour, minute, 0).expect("a time of day")
}

fn timer(number: u32, words: &str, minutes: i64) -> ReminderView {
    let now = at(0, 18, 17);
    let wall = now + Duration::minutes(minutes);
    ReminderView {
        entry: EntryId(7),
        kind: ReminderKind::Timer,
        number,
        words: words.into(),
        lasts: Duration::minutes(minutes),
        due_at: wall.and_utc() - Duration::hours(1),
        wall,
        now,
    }
}

fn reminder(words: &str, wall: NaiveDateTime) -> ReminderView {
    let minutes = (wall - at(0, 18, 17)).num_minutes();
    ReminderView {
        kind: ReminderKind::Once,
        ..timer(2, words, minutes)
    }
}

fn rang(reminder: ReminderView, late: Option<Duration>) -> ClockAnswer {
    let now = reminder.wall + late.unwrap_or_default();
    let reminder = ReminderView { now, ..reminder };
    ClockAnswer::Rang(RungView { reminder, late })
}

pub fn answers() -> Vec<(&'static str, ClockAnswer)> {
    let message = MESSAGE;
    let set = |timer| ClockAnswer::Set { timer, message };
    let soak = || reminder("soak the beans", at(4, 18, 0));
    vec![
        ("a timer is set", set(timer(1, "dal", 35))),
        ("without words", set(timer(1, "", 90))),
        ("a reminder is set", set(soak())),
        ("for tomorrow", set(reminder("thaw the dal", at(1, 8, 0)))),
        (
            "cancelled",
            ClockAnswer::Cancelled {
                timers: vec![timer(1, "dal", 35), soak()],
                message,
            },
        ),
        ("nothing waits", ClockAnswer::Pending(Vec::new())),
        (
            "what waits",
            ClockAnswer::Pending(vec![timer(1, "dal", 35), soak()]),
        ),
        ("it rang", rang(timer(1, "dal", 35), None)),
        ("it rang, nameless", rang(timer(1, "", 60), None)),
        ("a reminder rang", rang(soak(), None)),
        ("late", rang(timer(1, "dal", 35), Some(Duration::hours(2)))),
        ("days late", rang(soak(), Some(Duration::days(6)))),
    ]
}
