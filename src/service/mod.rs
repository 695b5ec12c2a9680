//! The order of events, and nothing else: receive a message, handle it, deliver the answer.
//!
//! `receive` stores what arrived, so that the channel may acknowledge it; `handle` takes the oldest
//! message without an outcome and does everything about it in one transaction; `due` says what it is time for;
//! `deliver` hands the outbox to the channel. A crash between any two of them loses nothing and books nothing twice.
//! `backup`, `doctor` and `metrics` stand beside that: copies of the file, and looks at it, whoever has it open.

mod address;
mod admit;
pub mod backup;
mod board;
mod case;
mod delete;
mod deliver;
pub mod doctor;
mod due;
mod handle;
mod hanging;
pub mod metrics;
mod receive;
mod say;

use std::collections::HashMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, PoisonError, RwLock};

use chrono::{DateTime, Utc};
use chrono_tz::Tz;

use crate::store::{OutboxId, Store, Transaction};

pub use crate::store::{Board, Error, Kind, OutboxKind, Outgoing};
pub use board::Boards;
pub use deliver::PENDING_MAX;
pub use due::Due;
pub use handle::{Handled, Outcome};
pub use receive::{Inbound, Received, Revision, Sender};

/// The name that every channel knows the bot by.
pub const NAME: &str = "hobside";

/// Who may come in.
#[derive(Debug, Clone, Copy)]
pub enum Door {
    /// Whoever holds the pipe is trusted: a chat's first message sets up its household.
    Open { zone: Tz },
    /// Only chats that the owner has let in, with a one-time code.
    ByInvite { zone: Tz },
}

/// The bot behind one channel. Cheap to share by reference; every method is one short transaction.
pub struct Service {
    store: Store,
    door: Door,
    names: RwLock<Vec<String>>,
    /// Answers that are sent and not yet marked: marking rides in the next transaction.
    sent: Mutex<Vec<Sent>>,
    /// When something falls due next in a channel, as far as it was looked up since the books changed.
    next_due: Mutex<HashMap<&'static str, Option<DateTime<Utc>>>>,
    /// Something was deleted, and the file has to be written anew once more when its last words are sent.
    owes_scrub: AtomicBool,
}

#[derive(Debug, Clone)]
struct Sent {
    id: OutboxId,
    /// The reply that it is, or that it replaces.
    shows: OutboxId,
    external_id: Option<String>,
    parts: Option<Vec<String>>,
    at: DateTime<Utc>,
}

impl Service {
    pub fn new(store: Store, door: Door) -> Self {
        Self {
            store,
            door,
            names: RwLock::new(vec![NAME.to_owned()]),
            sent: Mutex::new(Vec::new()),
            next_due: Mutex::new(HashMap::new()),
            owes_scrub: AtomicBool::new(false),
        }
    }

    /// The channel knows the bot by this name as well, without the `@`.
    pub fn answer_to(&self, name: &str) {
        let mut names = self.names.write().unwrap_or_else(PoisonError::into_inner);
        names.push(name.to_lowercase());
    }

    /// A fresh one-time code.
    pub async fn invite(&self, now: DateTime<Utc>) -> Result<String, Error> {
        let mut work = self.begin().await?;
        let code = work.transaction.new_invite(now).await?;
        work.commit().await?;
        Ok(code)
    }

    /// A code for the very first chat of a channel: only while nobody is let in and no code waits.
    pub async fn first_invite(
        &self,
        channel: &str,
        now: DateTime<Utc>,
    ) -> Result<Option<String>, Error> {
        let mut work = self.begin().await?;
        let code = match work.transaction.needs_first_invite(channel, now).await? {
            true => Some(work.transaction.new_invite(now).await?),
            false => None,
        };
        work.commit().await?;
        Ok(code)
    }

    fn names(&self) -> Vec<String> {
        let names = self.names.read().unwrap_or_else(PoisonError::into_inner);
        names.clone()
    }

    /// Begin a transaction that also marks what was sent since the last one.
    async fn begin(&self) -> Result<Work<'_>, Error> {
        let mut transaction = self.store.begin().await?;
        let marked = self.unmarked();
        for sent in &marked {
            let external_id = sent.external_id.as_deref();
            let parts = sent.parts.as_deref();
            transaction
                .mark_sent(sent.id, external_id, parts, sent.at)
                .await?;
        }
        Ok(Work {
            service: self,
            transaction,
            marked: marked.into_iter().map(|sent| sent.id).collect(),
            deleted: false,
        })
    }

    /// Their marks are in the file.
    fn forget_marked(&self, marked: &[OutboxId]) {
        let sent = self.sent.lock();
        let mut sent = sent.unwrap_or_else(PoisonError::into_inner);
        sent.retain(|sent| !marked.contains(&sent.id));
    }

    fn unmarked(&self) -> Vec<Sent> {
        let sent = self.sent.lock().unwrap_or_else(PoisonError::into_inner);
        sent.clone()
    }
}

/// A transaction that carries the marks of what was sent; they are forgotten when it commits.
struct Work<'a> {
    service: &'a Service,
    transaction: Transaction,
    marked: Vec<OutboxId>,
    /// Something was deleted for good.
    deleted: bool,
}

impl Work<'_> {
    async fn commit(self) -> Result<(), Error> {
        self.transaction.commit().await?;
        self.service.forget_marked(&self.marked);
        let sent_last = || self.service.owes_scrub.load(Ordering::Relaxed);
        if self.deleted || !self.marked.is_empty() && sent_last() {
            self.service.scrub().await;
        }
        Ok(())
    }
}
