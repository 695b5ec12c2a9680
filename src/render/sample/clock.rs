//! What is said of time to come.

use chrono::{Duration, NaiveDate, NaiveDateTime, NaiveTime};

use super::{MESSAGE, today, view};
use crate::domain::answer::{
    Answer, AwayAnswer, ClockAnswer, LotView, NoteView, ReminderView, RungView,
};
use crate::domain::clock::ReminderKind;
use crate::domain::clock::answer::Leaving;
use crate::domain::clock::occurrence::{ClockSettings, NoteKind};
use crate::domain::clock::prep_day::PrepDay;
use crate::domain::clock::problem::ClockProblem;
use crate::domain::ids::EntryId;
use crate::domain::keeping::{UseBy, Why};
use crate::domain::mass::Mass;
use crate::domain::problem::ProblemKind;
use crate::lang::syntax::Impossible;

/// One of every kind.
pub fn problems(words: &str) -> Vec<ProblemKind> {
    let told = || words.to_string();
    let problems = [
        ClockProblem::impossible(told(), Impossible::Day),
        ClockProblem::impossible(told(), Impossible::Hour),
        ClockProblem::impossible(told(), Impossible::Span),
        ClockProblem::impossible(told(), Impossible::Often),
        ClockProblem::WrongOrder {
            from: "22 Oct".into(),
            until: told(),
        },
        ClockProblem::NoQuiet,
        ClockProblem::TimeGone { told: told() },
        ClockProblem::NoTime,
        ClockProblem::NoSuchTimer { told: None },
        ClockProblem::NoSuchTimer { told: Some(told()) },
        ClockProblem::TooManyTimers { most: 20 },
        ClockProblem::NotAway,
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
        second: None,
        leapt: None,
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

fn due(name: &str, code: &str, days: i64) -> LotView {
    let mut lot = view(name, code, Vec::new(), 640.0).lots.remove(0);
    let on = today() + Duration::days(days);
    lot.due = Some(UseBy {
        on,
        first_on: on,
        why: Why::Told { opened: false },
    });
    lot
}

fn note(kind: NoteKind, late: Option<Duration>, also_for: Vec<NaiveDate>) -> NoteView {
    let wall = at(0, 8, 0);
    let now = wall + late.unwrap_or_default();
    NoteView {
        kind,
        on: today(),
        about: today() + Duration::days(i64::from(kind == NoteKind::Evening)),
        also_for,
        due_at: wall.and_utc() - Duration::hours(1),
        late,
        wall,
        now,
        today: now.date(),
        past: Vec::new(),
        due_today: Vec::new(),
        due_tomorrow: Vec::new(),
        take_out: Vec::new(),
        on_the_day: Vec::new(),
        leaving: Leaving::default(),
    }
}

/// What is said of the bot's own accord, and of who is away.
fn of_days() -> Vec<(&'static str, ClockAnswer)> {
    let mut evening = note(NoteKind::Evening, None, Vec::new());
    evening.take_out = vec![("lentil dal".into(), Mass::from_mg(290_000))];
    evening.on_the_day = vec![("rice".into(), Mass::from_mg(180_000))];
    let mut last_evening = note(NoteKind::Evening, None, Vec::new());
    last_evening.leaving.freeze = vec![due("lentil dal", "D1", 1)];
    last_evening.leaving.finish = vec![due("leek soup", "S2", 0)];
    let mut morning = note(NoteKind::Morning, None, Vec::new());
    morning.due_today = vec![due("rice", "R2", 0)];
    morning.due_tomorrow = vec![due("lentil dal", "D1", 1)];
    let dates = vec![today() - Duration::days(2), today() - Duration::days(1)];
    let mut late = note(NoteKind::Morning, Some(Duration::hours(3)), dates);
    late.past = vec![due("salsa", "S3", -1)];
    let mut late_evening = note(NoteKind::Evening, Some(Duration::hours(15)), Vec::new());
    late_evening.today = late_evening.about;
    late_evening.take_out = evening.take_out.clone();
    let late_prep = note(NoteKind::Prep, Some(Duration::days(4)), Vec::new());
    let put_away = ClockAnswer::PutAway {
        out: vec![due("leek soup", "S2", 0)],
        unplaced: vec![due("rice", "R1", 1)],
        by: at(0, 19, 31),
        over: false,
    };
    let away = AwayAnswer {
        member: None,
        from: today() + Duration::days(1),
        until: today() + Duration::days(3),
        today: today(),
        freeze: vec![due("lentil dal", "D1", 2)],
        finish: vec![due("salsa", "S3", 1)],
        message: MESSAGE,
    };
    let ana = AwayAnswer {
        member: Some("Ana".into()),
        until: today() + Duration::days(1),
        freeze: Vec::new(),
        finish: Vec::new(),
        ..away.clone()
    };
    let back = ClockAnswer::Back {
        member: Some("Ana".into()),
        on: today(),
        today: today(),
        message: MESSAGE,
    };
    vec![
        ("a morning note", ClockAnswer::Note(morning)),
        ("a late morning note", ClockAnswer::Note(late)),
        ("an evening note", ClockAnswer::Note(evening)),
        (
            "the evening before an absence",
            ClockAnswer::Note(last_evening),
        ),
        ("a late evening note", ClockAnswer::Note(late_evening)),
        ("hot food", put_away),
        (
            "prep day",
            ClockAnswer::Note(note(NoteKind::Prep, None, Vec::new())),
        ),
        ("a late prep day", ClockAnswer::Note(late_prep)),
        ("all are away", ClockAnswer::Away(away)),
        ("one is away", ClockAnswer::Away(ana)),
        ("one is back", back),
    ]
}

fn answers() -> Vec<(&'static str, ClockAnswer)> {
    let message = MESSAGE;
    let set = |timer| ClockAnswer::Set { timer, message };
    let soak = || reminder("soak the beans", at(4, 18, 0));
    let pending = |waiting, notes| ClockAnswer::Pending { waiting, notes };
    let second = Some(true);
    let twice = ReminderView {
        second,
        ..reminder("stir", at(0, 1, 31))
    };
    let leapt = ReminderView {
        leapt: Some(at(1, 1, 30)),
        ..reminder("stir", at(1, 2, 0))
    };
    let notes = ClockSettings {
        prep: Some(PrepDay::weekly(6, NaiveTime::MIN)),
        prep_told: false,
        evening: None,
        ..ClockSettings::default()
    };
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
        ("an hour that comes twice", set(twice)),
        ("an hour that is leapt over", set(leapt)),
        ("nothing waits", pending(Vec::new(), None)),
        (
            "what waits",
            pending(vec![timer(1, "dal", 35), soak()], None),
        ),
        ("what reminders are on", pending(Vec::new(), Some(notes))),
        ("it rang", rang(timer(1, "dal", 35), None)),
        ("it rang, nameless", rang(timer(1, "", 60), None)),
        ("a reminder rang", rang(soak(), None)),
        ("late", rang(timer(1, "dal", 35), Some(Duration::hours(2)))),
        ("days late", rang(soak(), Some(Duration::days(6)))),
    ]
}

/// All of them as they are worded, some at once, and for machines.
pub fn sections(said: impl Fn(&[Answer]) -> String) -> Vec<(String, String)> {
    let all = || answers().into_iter().chain(of_days());
    let worded = |(title, answer): (&str, _)| (title.to_string(), said(&[Answer::Clock(answer)]));
    let mut sections: Vec<_> = all().map(worded).collect();
    let rang = answers()
        .into_iter()
        .filter(|(title, _)| title.contains("rang"));
    let several: Vec<Answer> = rang.map(|(_, answer)| Answer::Clock(answer)).collect();
    sections.push(("several at once".to_string(), said(&several)));
    for (title, answer) in all() {
        let data = crate::render::clock::data::data(&answer);
        let text = serde_json::to_string_pretty(&data).expect("a value is JSON");
        sections.push((format!("{title}, for machines"), text));
    }
    sections
}
