//! Hand the outbox to the channel, and keep what became of it.

use std::sync::PoisonError;

use chrono::{DateTime, Utc};

use super::{Error, Sent, Service};
use crate::store::{OutboxId, Outgoing};

/// How many answers are handed out at once.
const PENDING_MAX: i64 = 100;

impl Service {
    /// What waits to be sent in a channel, oldest first; within a chat this order must be kept.
    pub async fn pending(&self, channel: &str) -> Result<Vec<Outgoing>, Error> {
        let mut work = self.begin().await?;
        let pending = work.transaction.pending(channel, PENDING_MAX).await?;
        work.commit().await?;
        Ok(pending)
    }

    /// An answer was sent, as `external_id`. It is marked in the next transaction of any kind; a crash
    /// before that repeats the answer, never an entry.
    pub fn sent(&self, id: OutboxId, external_id: Option<String>, now: DateTime<Utc>) {
        let mut sent = self.sent.lock().unwrap_or_else(PoisonError::into_inner);
        sent.push(Sent {
            id,
            external_id,
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
