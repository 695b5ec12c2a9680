//! What is to be said now: of all that has fallen due in a chat, in one message.

use chrono::{DateTime, Duration, Utc};

use super::super::answer::Answer;
use super::super::ids::EntryId;
use super::super::kitchen::Kitchen;
use super::answer::{ClockAnswer, ReminderView, RungView};
use super::{Reminder, ReminderKind};

/// Later than this a timer is late, and says so.
const TIMER_GRACE: Duration = Duration::seconds(60);
const OTHER_GRACE: Duration = Duration::minutes(10);

/// What has fallen due in one chat.
#[derive(Debug, Clone, Default)]
pub struct Owed {
    pub reminders: Vec<Reminder>,
}

/// What is said of it, and what became of each.
#[derive(Debug, Clone, Default)]
pub struct Said {
    pub answers: Vec<Answer>,
    pub said: Vec<EntryId>,
}

pub fn due(kitchen: &Kitchen, owed: &Owed, now: DateTime<Utc>) -> Said {
    let mut said = Said::default();
    let mut reminders: Vec<&Reminder> = owed.reminders.iter().collect();
    // What is on time first.
    reminders.sort_by_key(|reminder| {
        (
            late(reminder, now).is_some(),
            reminder.due_at,
            reminder.entry,
        )
    });
    for reminder in reminders {
        let view = RungView {
            reminder: ReminderView::of(kitchen, reminder, now),
            late: late(reminder, now),
        };
        said.answers.push(Answer::Clock(ClockAnswer::Rang(view)));
        said.said.push(reminder.entry);
    }
    said
}

fn late(reminder: &Reminder, now: DateTime<Utc>) -> Option<Duration> {
    let grace = match reminder.asked.kind {
        ReminderKind::Timer => TIMER_GRACE,
        ReminderKind::Once => OTHER_GRACE,
    };
    let over = now - reminder.due_at;
    (over > grace).then_some(over)
}
