//! Deletion for good: the last words are put into the outbox, then everything goes, and the file is written anew.

use std::sync::atomic::Ordering;

use chrono::{DateTime, Utc};

use super::{Error, Service, Work};
use crate::domain::decide::Deletes;
use crate::render::Message;
use crate::store::{NewReply, OutboxId, OutboxKind, Scrubbed, Waiting};

impl Service {
    /// The commit stands whatever comes of this: the file remembers what is owed.
    pub(super) async fn scrub(&self) {
        let scrubbed = self.store.scrub().await;
        let owed = !matches!(scrubbed, Ok(Scrubbed::Whole));
        self.owes_scrub.store(owed, Ordering::Relaxed);
        match scrubbed {
            Ok(Scrubbed::Whole | Scrubbed::SpeaksStill) => {}
            Ok(Scrubbed::Read) => tracing::warn!("another program reads what was deleted"),
            Err(error) => tracing::error!(%error, "what was deleted may still stand in free pages"),
        }
    }
}

impl Work<'_> {
    pub(super) async fn delete(
        &mut self,
        waiting: &Waiting,
        deletes: Deletes,
        message: &Message,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        self.deleted = true;
        let household = waiting.household;
        match deletes {
            Deletes::Member(member) if member != waiting.member => {
                let deleted = self.transaction.forget_member(household, member, None, now);
                deleted.await?;
                self.say(waiting, message, None, now).await
            }
            Deletes::Member(member) => {
                let last = Some(self.last_words(waiting, message, now).await?);
                self.transaction
                    .forget_member(household, member, last, now)
                    .await
            }
            Deletes::Household => {
                let last = Some(self.last_words(waiting, message, now).await?);
                self.transaction.forget_household(household, last).await
            }
        }
    }

    /// Said of no message, since that is deleted.
    async fn last_words(
        &mut self,
        waiting: &Waiting,
        message: &Message,
        now: DateTime<Utc>,
    ) -> Result<OutboxId, Error> {
        let reply = NewReply {
            message: None,
            channel: &waiting.channel,
            chat: &waiting.chat,
            topic: waiting.topic.as_deref(),
            kind: OutboxKind::Reply,
            edits: None,
            answers: Some(&waiting.external_id),
            text: &message.text,
            bold: &[],
            buttons: &[],
            data: &message.data,
            picture: None,
            silent: false,
        };
        self.transaction.say(&reply, now).await
    }
}
