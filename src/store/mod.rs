//! SQLite, the only home of sqlx. One file for each concern; every query is checked at build time.
//!
//! There is one writer: a pool of exactly one connection, and every piece of work is one transaction
//! that takes the write lock when it begins. A transaction that reads first and asks for the lock
//! later can be refused half way; one that has the lock cannot.
//!
//! Read in this order: `open`, `lock`, `backup` and `health` (the file), `household` and `chat` (who), `invite` (who may come in), `inbox` (what was
//! said), `snapshot` (the books as a decision sees them), `memory` (what of them still stands), `journal` (what it adds), `outbox` (what is
//! answered), `reminder` and `schedule` (what is said later), `board` (what hangs in a chat), `books` (the whole journal, for an export), `archive` (all rows of a household, from file to file), `forget` (deletion), `rebind` (other accounts and chats).

pub mod archive;
pub mod backup;
mod board;
mod books;
mod cautioned;
mod chat;
mod error;
mod forget;
mod hanging;
pub mod health;
mod household;
mod inbox;
mod invite;
mod journal;
mod lock;
mod memory;
mod open;
mod outbox;
mod rebind;
mod reminder;
mod schedule;
mod snapshot;
mod spoken;
mod words;

use std::sync::Arc;

use sqlx::sqlite::SqlitePool;
use sqlx::{Sqlite, SqliteConnection};

pub use board::BoardRow;
pub use books::{BookEntry, HouseholdRow};
pub use chat::ChatRow;
pub use error::{Error, Result};
pub use forget::{GONE, Scrubbed};
pub use household::{HouseholdId, NewHousehold};
pub use inbox::{Arrival, Kind, NewMessage, Said, Waiting};
pub use journal::Left;
pub use lock::Lock;
pub use outbox::{Board, NewReply, OutboxId, OutboxKind, Outgoing};
pub use rebind::{Bound, MemberRow};
pub use reminder::DueChat;
pub use schedule::Scheduled;
pub use snapshot::View;

use crate::domain::kitchen::Kitchen;
use error::Doing;
use memory::{Memory, Remembered, Seen};

/// The books of every household in one file.
#[derive(Debug, Clone)]
pub struct Store {
    pool: SqlitePool,
    /// Only a bot has the file to itself.
    alone: Option<Arc<Lock>>,
    memory: Arc<Memory>,
    /// Hold what is remembered against the file whenever it is used.
    doubts: bool,
}

impl Store {
    /// Begin a piece of work, with the write lock.
    pub async fn begin(&self) -> Result<Transaction> {
        let begun = match self.pool.begin_with("BEGIN IMMEDIATE").await {
            Err(sqlx::Error::InvalidSavePointStatement) => {
                self.renew().await;
                self.pool.begin_with("BEGIN IMMEDIATE").await
            }
            begun => begun,
        };
        Ok(self.transaction(begun.doing("take the write lock")?))
    }

    /// When the disk fails in a commit, SQLite has rolled back by itself, and the connection counts on being inside a
    /// transaction for ever after. The next one knows better.
    async fn renew(&self) {
        match self.pool.acquire().await {
            Ok(stuck) => {
                if let Err(error) = stuck.close().await {
                    tracing::warn!(%error, "a connection was closed out of order");
                }
            }
            Err(error) => tracing::warn!(%error, "no connection"),
        }
    }

    /// Begin to read, beside whoever writes: everything is seen as it stood at the first look.
    pub async fn look(&self) -> Result<Transaction> {
        let begun = self.pool.begin().await;
        Ok(self.transaction(begun.doing("begin to read")?))
    }

    fn transaction(&self, open: sqlx::Transaction<'static, Sqlite>) -> Transaction {
        Transaction {
            open,
            memory: Arc::clone(&self.memory),
            doubts: self.doubts,
            seen: Seen::default(),
            carried: Vec::new(),
            forgotten: Forgotten::These(Vec::new()),
        }
    }

    /// For tests: whatever is remembered is held against the file whenever it is used.
    pub fn doubting(self) -> Self {
        Self {
            doubts: true,
            ..self
        }
    }

    /// Close the file; what was committed is safe without it.
    pub async fn close(&self) {
        self.pool.close().await;
    }
}

/// All or nothing: dropped without a commit, it never happened.
pub struct Transaction {
    open: sqlx::Transaction<'static, Sqlite>,
    memory: Arc<Memory>,
    doubts: bool,
    /// How far the kitchen in hand was seen.
    seen: Seen,
    /// Kitchens as this transaction leaves them.
    carried: Vec<(HouseholdId, Remembered)>,
    /// Those that it has changed without carrying them forward.
    forgotten: Forgotten,
}

/// Of which households nothing may be remembered.
enum Forgotten {
    These(Vec<HouseholdId>),
    All,
}

impl Transaction {
    pub async fn commit(self) -> Result<()> {
        self.open.commit().await.doing("commit")?;
        let stands = |household: &HouseholdId| match &self.forgotten {
            Forgotten::These(households) => !households.contains(household),
            Forgotten::All => false,
        };
        for (household, known) in self.carried {
            if stands(&household) {
                self.memory.put(household, known);
            }
        }
        Ok(())
    }

    /// The kitchen of a household as this transaction leaves it: the next message finds it so.
    fn remember(&mut self, household: HouseholdId, kitchen: Kitchen) {
        let seen = std::mem::take(&mut self.seen);
        self.carried.push((household, Remembered { kitchen, seen }));
    }

    /// Something of a household's kitchen is written that is not carried forward.
    pub fn forget(&mut self, household: HouseholdId) {
        self.memory.forget(household);
        if let Forgotten::These(households) = &mut self.forgotten {
            households.push(household);
        }
    }

    /// Of whose kitchens, is not known.
    fn forget_all(&mut self) {
        self.memory.forget_all();
        self.forgotten = Forgotten::All;
    }

    fn connection(&mut self) -> &mut SqliteConnection {
        &mut self.open
    }
}

#[cfg(test)]
mod tests {
    use sqlx::Row;

    use super::*;

    #[tokio::test]
    async fn every_connection_is_durable_and_strict() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let file = folder.path().join("books.db");
        let store = Store::open(&file).await.expect("a fresh file opens");
        for (pragma, expected) in [
            ("pragma journal_mode", "wal"),
            ("pragma synchronous", "2"),
            ("pragma foreign_keys", "1"),
            ("pragma recursive_triggers", "1"),
            ("pragma busy_timeout", "5000"),
        ] {
            let row = sqlx::raw_sql(pragma).fetch_one(&store.pool).await;
            let row = row.expect("a pragma has a value");
            let value = row
                .try_get_unchecked::<String, _>(0)
                .expect("it reads as text");
            assert_eq!(value, expected, "{pragma}");
        }
    }
}
