//! What has fallen due: looked at, worded, put into the outbox and marked, in one transaction for each chat. So nothing
//! is said twice and nothing is lost, wherever a crash comes between.

use std::sync::PoisonError;

use chrono::{DateTime, Utc};

use super::{Error, Service, Work};
use crate::domain::clock::due::{Owed, due};
use crate::render;
use crate::store::{DueChat, NewReply, OutboxKind};

/// What came of a look at what is due.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Due {
    /// Something was put into the outbox.
    pub said: bool,
    /// When the next look is needed; nothing waits otherwise.
    pub next: Option<DateTime<Utc>>,
}

impl Service {
    /// Say what has fallen due in a channel, chat by chat.
    pub async fn say_due(&self, channel: &'static str, now: DateTime<Utc>) -> Result<Due, Error> {
        if let Some(next) = self.known_due(channel)
            && next.is_none_or(|next| now < next)
        {
            return Ok(Due { said: false, next });
        }
        let mut said = false;
        loop {
            let mut work = self.begin().await?;
            let Some(place) = work.transaction.due_chat(channel, now).await? else {
                let next = work.transaction.next_due(channel).await?;
                // Whoever adds to it writes after this, and forgets it again.
                self.keep_due(channel, next);
                work.commit().await?;
                return Ok(Due { said, next });
            };
            work.say_due(channel, &place, now).await?;
            said = true;
            work.commit().await?;
        }
    }

    fn known_due(&self, channel: &str) -> Option<Option<DateTime<Utc>>> {
        let known = self.next_due.lock().unwrap_or_else(PoisonError::into_inner);
        known.get(channel).copied()
    }

    fn keep_due(&self, channel: &'static str, next: Option<DateTime<Utc>>) {
        let mut known = self.next_due.lock().unwrap_or_else(PoisonError::into_inner);
        known.insert(channel, next);
    }

    /// The books have changed: what falls due next has to be looked up.
    pub(super) fn forget_due(&self) {
        let mut known = self.next_due.lock().unwrap_or_else(PoisonError::into_inner);
        known.clear();
    }
}

impl Work<'_> {
    async fn say_due(
        &mut self,
        channel: &str,
        place: &DueChat,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        let household = place.household;
        let reminders = self.transaction.due_reminders(channel, place, now).await?;
        let kitchen = self.transaction.stock(household, now).await?;
        let said = due(&kitchen, &Owed { reminders }, now);
        let message = render::message(&said.answers, &kitchen.settings(), "");
        let bold = message.bold.iter();
        let bold: Vec<[usize; 2]> = bold.map(|range| [range.start, range.end]).collect();
        let notice = NewReply {
            message: None,
            channel,
            chat: &place.chat,
            topic: place.topic.as_deref(),
            kind: OutboxKind::Notice,
            edits: None,
            answers: None,
            text: &message.text,
            bold: &bold,
            buttons: &super::say::pressed(&message),
            data: &message.data,
            picture: None,
            silent: message.silent,
        };
        let by = self.transaction.say(&notice, now).await?;
        for entry in &said.said {
            self.transaction
                .reminder_said(household, *entry, by, now)
                .await?;
        }
        Ok(())
    }
}
