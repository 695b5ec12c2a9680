//! Figures for whoever watches the box, read beside the bot on a connection of their own: who asks often holds up nobody.

use std::path::{Path, PathBuf};

use chrono::{DateTime, Duration, Utc};

use super::{Error, backup};
use crate::render::metrics::Figures;
use crate::store::Store;
use crate::store::backup as copies;
use crate::store::health::{Queued, free_bytes};

/// How long what was given up on is counted.
const OF_LATE: Duration = Duration::days(30);

pub struct Watch {
    file: PathBuf,
    store: Store,
    started_at: DateTime<Utc>,
}

impl Watch {
    /// Watch a file that a bot has open.
    ///
    /// # Errors
    /// If it cannot be read.
    pub async fn open(file: &Path, now: DateTime<Utc>) -> Result<Self, Error> {
        Ok(Self {
            file: file.to_owned(),
            store: Store::open_as_it_is(file).await?,
            started_at: now,
        })
    }

    /// # Errors
    /// If the file cannot be read.
    pub async fn figures(&self, now: DateTime<Utc>) -> Result<Figures, Error> {
        let counts = self.store.counts().await?;
        let messages = self.store.inbox_queue(now - OF_LATE).await?;
        let answers = self.store.outbox_queue(now - OF_LATE).await?;
        let kept = backup::copies(&self.file, &copies::folder(&self.file)).unwrap_or_default();
        let age = |queued: &Queued| {
            let age = queued
                .oldest
                .map(|oldest| (now - oldest).num_seconds().max(0));
            age.unwrap_or(0)
        };
        Ok(Figures {
            version: env!("CARGO_PKG_VERSION"),
            schema: Store::schema(),
            households: counts.households,
            chats: counts.chats,
            entries: self.store.entry_count().await?,
            messages_waiting: messages.waiting,
            messages_oldest_seconds: age(&messages),
            messages_set_aside: messages.set_aside,
            answers_waiting: answers.waiting,
            answers_oldest_seconds: age(&answers),
            answers_set_aside: answers.set_aside,
            file_bytes: std::fs::metadata(&self.file).map_or(0, |about| about.len()),
            free_bytes: free_bytes(&self.file),
            copied_at: kept.last().map(|copy| copy.at.timestamp()),
            started_at: self.started_at.timestamp(),
        })
    }
}
