//! SQLite, the only home of sqlx. One file for each concern; every query is checked at build time.
//!
//! There is one writer: a pool of exactly one connection, and every piece of work is one transaction
//! that takes the write lock when it begins. A transaction that reads first and asks for the lock
//! later can be refused half way; one that has the lock cannot.
//!
//! Read in this order: `household` and `chat` (who), `invite` (who may come in), `inbox` (what was
//! said), `snapshot` (the books as a decision sees them), `journal` (what it adds), `outbox` (what is
//! answered), `reminder` and `schedule` (what is said later), `board` (what hangs in a chat), `books` (the whole journal, for an export).

mod board;
mod books;
mod cautioned;
mod chat;
mod error;
mod household;
mod inbox;
mod invite;
mod journal;
mod outbox;
mod reminder;
mod schedule;
mod snapshot;
mod words;

use std::path::Path;
use std::time::Duration;

use sqlx::migrate::{MigrateError, Migrator};
use sqlx::sqlite::{
    SqliteConnectOptions, SqliteJournalMode, SqlitePool, SqlitePoolOptions, SqliteSynchronous,
};
use sqlx::{Sqlite, SqliteConnection};

pub use board::BoardRow;
pub use books::{BookEntry, HouseholdRow};
pub use chat::ChatRow;
pub use error::{Error, Result};
pub use household::{HouseholdId, NewHousehold};
pub use inbox::{Arrival, Kind, NewMessage, Said, Waiting};
pub use outbox::{Board, NewReply, OutboxId, OutboxKind, Outgoing};
pub use reminder::DueChat;
pub use schedule::Scheduled;
pub use snapshot::View;

use error::Doing;

static MIGRATIONS: Migrator = sqlx::migrate!();

/// The books of every household in one file.
#[derive(Debug, Clone)]
pub struct Store {
    pool: SqlitePool,
}

impl Store {
    /// Open a file that is there, and bring its schema up to date.
    ///
    /// # Errors
    /// If there is no such file; a file from a newer version is refused untouched.
    pub async fn open_existing(file: &Path) -> Result<Self> {
        match file.exists() {
            true => Self::open(file).await,
            false => Err(Error::Missing {
                file: file.to_owned(),
            }),
        }
    }

    /// Open the file, create it with its folder if there is none, and bring its schema up to date.
    ///
    /// # Errors
    /// A file from a newer version is refused untouched.
    pub async fn open(file: &Path) -> Result<Self> {
        if let Some(folder) = file
            .parent()
            .filter(|folder| !folder.as_os_str().is_empty())
        {
            std::fs::create_dir_all(folder).map_err(|source| Error::Folder {
                folder: folder.to_owned(),
                source,
            })?;
        }
        let options = SqliteConnectOptions::new()
            .filename(file)
            .create_if_missing(true)
            .journal_mode(SqliteJournalMode::Wal)
            .synchronous(SqliteSynchronous::Full)
            .foreign_keys(true)
            .pragma("recursive_triggers", "on")
            .statement_cache_capacity(256)
            .busy_timeout(Duration::from_secs(5));
        let pool = SqlitePoolOptions::new()
            .max_connections(1)
            .idle_timeout(None)
            .max_lifetime(None)
            .test_before_acquire(false)
            .connect_with(options)
            .await
            .doing("open the books")?;
        match MIGRATIONS.run(&pool).await {
            Ok(()) => Ok(Self { pool }),
            Err(MigrateError::VersionMissing(found)) => Err(Error::Newer {
                file: file.to_owned(),
                found,
                known: Self::schema(),
            }),
            Err(source) => Err(Error::Migration {
                file: file.to_owned(),
                source,
            }),
        }
    }

    /// The newest schema that this program knows.
    pub fn schema() -> i64 {
        MIGRATIONS
            .iter()
            .map(|migration| migration.version)
            .max()
            .expect("there is a first migration")
    }

    /// Begin a piece of work, with the write lock.
    pub async fn begin(&self) -> Result<Transaction> {
        let begun = self.pool.begin_with("BEGIN IMMEDIATE").await;
        begun.map(Transaction).doing("take the write lock")
    }

    /// Begin to read, beside whoever writes: everything is seen as it stood at the first look.
    pub async fn look(&self) -> Result<Transaction> {
        let begun = self.pool.begin().await;
        begun.map(Transaction).doing("begin to read")
    }

    /// Close the file; what was committed is safe without it.
    pub async fn close(&self) {
        self.pool.close().await;
    }
}

/// All or nothing: dropped without a commit, it never happened.
pub struct Transaction(sqlx::Transaction<'static, Sqlite>);

impl Transaction {
    pub async fn commit(self) -> Result<()> {
        self.0.commit().await.doing("commit")
    }

    fn connection(&mut self) -> &mut SqliteConnection {
        &mut self.0
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
