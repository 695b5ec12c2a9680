//! Hand the outbox to the channel, and keep what became of it.

use std::collections::HashMap;
use std::sync::PoisonError;

use chrono::{DateTime, Utc};
use serde_json::json;

use super::{Error, Sent, Service};
use crate::store::{NewReply, OutboxId, OutboxKind, Outgoing};

/// How many answers of a chat are handed out at once.
pub const PENDING_MAX: usize = 100;

impl Sent {
    /// The messages that show a reply, if this was said about it.
    fn now_shows(&self, reply: OutboxId) -> Option<Vec<String>> {
        match &self.parts {
            Some(parts) if self.shows == reply => Some(parts.clone()),
            None if self.id == reply => Some(self.external_id.clone().into_iter().collect()),
            _ => None,
        }
    }
}

impl Service {
    /// What waits to be sent in a channel, oldest first; within a chat this order must be kept.
    pub async fn pending(&self, channel: &str) -> Result<Vec<Outgoing>, Error> {
        self.oldest_pending(channel, PENDING_MAX).await
    }

    /// The oldest answer of each chat that has any.
    pub async fn pending_heads(&self, channel: &str) -> Result<Vec<Outgoing>, Error> {
        self.oldest_pending(channel, 1).await
    }

    /// Reads only: what is sent and not yet marked is known here, and left out.
    async fn oldest_pending(
        &self,
        channel: &str,
        each_chat: usize,
    ) -> Result<Vec<Outgoing>, Error> {
        let sent = self.unmarked();
        let mut transaction = self.store.look().await?;
        let limit = each_chat + sent.len();
        let mut pending = transaction.pending(channel, limit as i64).await?;
        let mut in_chat: HashMap<String, usize> = HashMap::new();
        pending.retain(|outgoing| {
            let waits = sent.iter().all(|sent| sent.id != outgoing.id);
            let place = in_chat.entry(outgoing.chat.clone()).or_default();
            *place += usize::from(waits);
            waits && *place <= each_chat
        });
        for outgoing in &mut pending {
            if let Some((edited, shown)) = &mut outgoing.edits
                && let Some(ids) = sent.iter().rev().find_map(|sent| sent.now_shows(*edited))
            {
                *shown = ids;
            }
        }
        Ok(pending)
    }

    /// Tell a chat something about the channel itself, that no message asked for.
    pub async fn tell(
        &self,
        channel: &str,
        chat: &str,
        topic: Option<&str>,
        text: &str,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        let mut work = self.begin().await?;
        let notice = NewReply {
            message: None,
            channel,
            chat,
            topic,
            kind: OutboxKind::Notice,
            edits: None,
            answers: None,
            text,
            bold: &[],
            buttons: &[],
            data: &json!({ "kind": "channel" }),
            picture: None,
            silent: true,
        };
        work.transaction.say(&notice, now).await?;
        work.commit().await
    }

    /// An answer was sent, as `external_id`. It is marked in the next transaction of any kind; a crash
    /// before that repeats the answer, never an entry.
    pub fn sent(&self, outgoing: &Outgoing, external_id: Option<String>, now: DateTime<Utc>) {
        self.keep_sent(outgoing, external_id, None, now);
    }

    /// An answer is now shown by these messages, of which the last carries its buttons.
    pub fn sent_in_parts(&self, outgoing: &Outgoing, parts: Vec<String>, now: DateTime<Utc>) {
        self.keep_sent(outgoing, parts.last().cloned(), Some(parts), now);
    }

    fn keep_sent(
        &self,
        outgoing: &Outgoing,
        external_id: Option<String>,
        parts: Option<Vec<String>>,
        now: DateTime<Utc>,
    ) {
        let mut sent = self.sent.lock().unwrap_or_else(PoisonError::into_inner);
        sent.push(Sent {
            id: outgoing.id,
            shows: outgoing.edits.as_ref().map_or(outgoing.id, |(id, _)| *id),
            external_id,
            parts,
            at: now,
        });
    }

    /// Mark now what was sent: before a pause or the end.
    pub async fn settle(&self) -> Result<(), Error> {
        if self.unmarked().is_empty() {
            return Ok(());
        }
        self.begin().await?.commit().await
    }

    /// The end: mark what was sent, and close the file.
    pub async fn close(&self) -> Result<(), Error> {
        let settled = self.settle().await;
        self.store.close().await;
        settled
    }

    /// Sending failed and will be tried again.
    pub async fn send_failed(&self, id: OutboxId) -> Result<(), Error> {
        let mut work = self.begin().await?;
        work.transaction.count_send_failure(id).await?;
        work.commit().await
    }

    /// The channel refuses an answer for good.
    pub async fn set_reply_aside(&self, id: OutboxId, now: DateTime<Utc>) -> Result<(), Error> {
        let mut work = self.begin().await?;
        work.transaction.set_reply_aside(id, now).await?;
        work.commit().await
    }
}
