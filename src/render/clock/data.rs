//! Timers and reminders for machines.

use chrono::{DateTime, Duration, SecondsFormat, Utc};
use serde_json::{Value, json};

use crate::domain::answer::{AbsenceView, ClockAnswer, ReminderView};
use crate::domain::clock::ReminderKind;
use crate::domain::clock::occurrence::NoteKind;
use crate::domain::mass::Mass;

use super::super::clean::clean;
use super::super::data::lot;

pub fn data(answer: &ClockAnswer) -> Value {
    let timers = |event: &str, timers: &[ReminderView]| {
        let timers: Vec<Value> = timers.iter().map(timer).collect();
        json!({"kind": "timer", "event": event, "timers": timers})
    };
    match answer {
        ClockAnswer::Set { timer, .. } => timers("set", std::slice::from_ref(timer)),
        ClockAnswer::Cancelled { timers: gone, .. } => timers("cancelled", gone),
        ClockAnswer::Pending { waiting, .. } => timers("list", waiting),
        ClockAnswer::Away(answer) => json!({
            "kind": "away",
            "member": answer.member.as_deref().map(clean),
            "from": answer.from.to_string(),
            "until": answer.until.to_string(),
            "freeze": answer.freeze.iter().map(lot).collect::<Vec<_>>(),
            "finish": answer.finish.iter().map(lot).collect::<Vec<_>>(),
        }),
        ClockAnswer::Absences(days) => {
            let day = |absence: &AbsenceView| {
                json!({
                    "member": absence.member.as_deref().map(clean),
                    "from": absence.from.to_string(),
                    "until": absence.until.to_string(),
                })
            };
            json!({"kind": "absences", "absences": days.iter().map(day).collect::<Vec<_>>()})
        }
        ClockAnswer::Back { member, on, .. } => json!({
            "kind": "back",
            "member": member.as_deref().map(clean),
            "on": on.to_string(),
        }),
        ClockAnswer::Note(note) => {
            let lots: Vec<Value> = [&note.past, &note.due_today, &note.due_tomorrow]
                .into_iter()
                .flatten()
                .map(lot)
                .collect();
            let taken = |dishes: &[(String, Mass)]| -> Vec<Value> {
                let dishes = dishes.iter();
                dishes
                    .map(|(dish, mass)| json!({"dish": clean(dish), "grams": mass.grams()}))
                    .collect()
            };
            json!({
                "kind": "reminder",
                "about": self::note(note.kind),
                "occurrence": note.on.to_string(),
                "due_at": moment(note.due_at),
                "late_seconds": seconds(note.late),
                "also_for": note.also_for.iter().map(ToString::to_string).collect::<Vec<_>>(),
                "lots": lots,
                "take_out": taken(&note.take_out),
                "on_the_day": taken(&note.on_the_day),
                "freeze": note.leaving.freeze.iter().map(lot).collect::<Vec<_>>(),
                "finish": note.leaving.finish.iter().map(lot).collect::<Vec<_>>(),
            })
        }
        ClockAnswer::PutAway { out, unplaced, .. } => json!({
            "kind": "reminder",
            "about": "put_away",
            "lots": out.iter().chain(unplaced).map(lot).collect::<Vec<_>>(),
        }),
        ClockAnswer::Rang(rung) => {
            let mut object = json!({"kind": "reminder"});
            if let (Some(object), Value::Object(told)) =
                (object.as_object_mut(), timer(&rung.reminder))
            {
                object.extend(told);
            }
            object["late_seconds"] = json!(seconds(rung.late));
            object
        }
    }
}

fn seconds(late: Option<Duration>) -> i64 {
    late.map_or(0, |late| late.num_seconds())
}

fn timer(view: &ReminderView) -> Value {
    json!({
        "about": about(view.kind),
        "id": view.number,
        "words": clean(&view.words),
        "due_at": moment(view.due_at),
    })
}

fn note(kind: NoteKind) -> &'static str {
    match kind {
        NoteKind::Prep => "prep_day",
        NoteKind::Morning => "morning",
        NoteKind::Evening => "evening",
    }
}

fn about(kind: ReminderKind) -> &'static str {
    match kind {
        ReminderKind::Timer => "timer",
        ReminderKind::Once => "once",
    }
}

fn moment(at: DateTime<Utc>) -> String {
    at.to_rfc3339_opts(SecondsFormat::Secs, true)
}
