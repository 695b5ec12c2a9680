//! Timers and reminders for machines.

use chrono::{DateTime, SecondsFormat, Utc};
use serde_json::{Value, json};

use crate::domain::answer::{ClockAnswer, ReminderView};
use crate::domain::clock::ReminderKind;

use super::super::clean::clean;

pub fn data(answer: &ClockAnswer) -> Value {
    let timers = |event: &str, timers: &[ReminderView]| {
        let timers: Vec<Value> = timers.iter().map(timer).collect();
        json!({"kind": "timer", "event": event, "timers": timers})
    };
    match answer {
        ClockAnswer::Set { timer, .. } => timers("set", std::slice::from_ref(timer)),
        ClockAnswer::Cancelled { timers: gone, .. } => timers("cancelled", gone),
        ClockAnswer::Pending(waiting) => timers("list", waiting),
        ClockAnswer::Rang(rung) => {
            let mut object = json!({"kind": "reminder"});
            if let (Some(object), Value::Object(told)) =
                (object.as_object_mut(), timer(&rung.reminder))
            {
                object.extend(told);
            }
            object["late_seconds"] = json!(rung.late.map_or(0, |late| late.num_seconds()));
            object
        }
    }
}

fn timer(view: &ReminderView) -> Value {
    json!({
        "about": about(view.kind),
        "id": view.number,
        "words": clean(&view.words),
        "due_at": moment(view.due_at),
    })
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
