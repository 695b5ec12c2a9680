//! Opening the file: for a bot that has it to itself, beside one, or only to look. Whatever is wrong with it is
//! said in words, and a file of an earlier version is copied before it is brought up to date.

use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use sqlx::migrate::{MigrateError, Migrator};
use sqlx::sqlite::{
    SqliteConnectOptions, SqliteJournalMode, SqlitePool, SqlitePoolOptions, SqliteSynchronous,
};

use super::error::{Doing, Error, Result};
use super::lock::Lock;
use super::{Store, backup};

static MIGRATIONS: Migrator = sqlx::migrate!();

impl Store {
    /// Open a file that is there, beside whoever has it open, and bring its schema up to date.
    ///
    /// # Errors
    /// If there is no such file; a file from a newer version is refused untouched.
    pub async fn open_existing(file: &Path) -> Result<Self> {
        there(file)?;
        Self::open(file).await
    }

    /// The same, with nobody beside.
    ///
    /// # Errors
    /// If there is no such file, or a bot has it open.
    pub async fn open_existing_alone(file: &Path) -> Result<Self> {
        there(file)?;
        Self::open_alone(file).await
    }

    /// Open the file, create it with its folder if there is none, and bring its schema up to date. The bot may have
    /// it open, unless the schema has to change.
    ///
    /// # Errors
    /// A file from a newer version is refused untouched, and so is anything but books.
    pub async fn open(file: &Path) -> Result<Self> {
        make_folder(file)?;
        let store = connect(file).await?;
        bring_up_to_date(&store.pool, file, false).await?;
        Ok(store)
    }

    /// The same for a bot: nobody else runs one on this file for as long as the store is kept.
    ///
    /// # Errors
    /// If another bot has the file open, or it cannot be written; else as `open`.
    pub async fn open_alone(file: &Path) -> Result<Self> {
        make_folder(file)?;
        may_be_written(file)?;
        let lock = Lock::take(file).await?;
        let mut store = connect(file).await?;
        bring_up_to_date(&store.pool, file, true).await?;
        store.alone = Some(Arc::new(lock));
        store.try_to_write(file).await?;
        // What a crash kept from being written anew.
        if let Err(error) = store.scrub().await {
            tracing::warn!(%error, "what was deleted may still stand in free pages");
        }
        Ok(store)
    }

    /// Open a file that is there as it is: nothing is written, and the schema may be an earlier one.
    ///
    /// # Errors
    /// If there is no such file, it holds anything but books, or is from a newer version.
    pub async fn open_as_it_is(file: &Path) -> Result<Self> {
        there(file)?;
        let options = SqliteConnectOptions::new()
            .filename(file)
            .read_only(true)
            .busy_timeout(Duration::from_secs(5));
        let store = pool(file, options).await?;
        match schema(&store.pool, file).await? {
            None => Err(Error::NotBooks {
                file: file.to_owned(),
            }),
            Some(found) if found > Self::schema() => Err(newer(file, found)),
            Some(_) => Ok(store),
        }
    }

    /// A file that cannot be written would otherwise be found out by the first message: SQLite opens it all the same,
    /// and begins to write to it without a word.
    async fn try_to_write(&self, file: &Path) -> Result<()> {
        let mut nothing = self.begin().await?;
        let tried = sqlx::query("delete from stranger where false")
            .execute(nothing.connection())
            .await;
        tried.map(drop).map_err(|cause| Error::Open {
            file: file.to_owned(),
            cause,
        })
    }

    /// The newest schema that this program knows.
    pub fn schema() -> i64 {
        MIGRATIONS
            .iter()
            .map(|migration| migration.version)
            .max()
            .expect("there is a first migration")
    }

    /// The schema that the file has.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub async fn schema_of_file(&self) -> Result<Option<i64>> {
        applied(&self.pool).await.doing("read the schema")
    }
}

fn there(file: &Path) -> Result<()> {
    match file.try_exists() {
        Ok(true) if file.is_dir() => Err(Error::Folder {
            file: file.to_owned(),
        }),
        Ok(true) => Ok(()),
        Ok(false) => Err(Error::Missing {
            file: file.to_owned(),
        }),
        Err(cause) => Err(Error::File {
            doing: "find",
            file: file.to_owned(),
            cause,
        }),
    }
}

/// Asked before SQLite is: beside a file that may not be written it would leave others that may not be, either.
#[cfg(unix)]
fn may_be_written(file: &Path) -> Result<()> {
    use rustix::fs::{Access, access};
    match file.exists() && access(file, Access::WRITE_OK).is_err() {
        true => Err(Error::ReadOnly {
            file: file.to_owned(),
        }),
        false => Ok(()),
    }
}

#[cfg(not(unix))]
fn may_be_written(_file: &Path) -> Result<()> {
    Ok(())
}

fn make_folder(file: &Path) -> Result<()> {
    if file.is_dir() {
        return there(file);
    }
    let folder = file.parent().filter(|path| !path.as_os_str().is_empty());
    let Some(folder) = folder else { return Ok(()) };
    std::fs::create_dir_all(folder).map_err(|cause| Error::File {
        doing: "create the folder",
        file: folder.to_owned(),
        cause,
    })
}

pub(super) async fn connect(file: &Path) -> Result<Store> {
    let options = SqliteConnectOptions::new()
        .filename(file)
        .create_if_missing(true)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full);
    pool(file, careful(options)).await
}

/// Whoever writes is held to the promises of the schema.
pub(super) fn careful(options: SqliteConnectOptions) -> SqliteConnectOptions {
    options
        .foreign_keys(true)
        .pragma("recursive_triggers", "on")
        .statement_cache_capacity(256)
        .busy_timeout(Duration::from_secs(5))
}

pub(super) async fn pool(file: &Path, options: SqliteConnectOptions) -> Result<Store> {
    let pool = SqlitePoolOptions::new()
        .max_connections(1)
        .idle_timeout(None)
        .max_lifetime(None)
        .test_before_acquire(false)
        .connect_with(options)
        .await;
    match pool {
        Ok(pool) => Ok(Store {
            pool,
            alone: None,
            memory: Arc::default(),
            doubts: false,
        }),
        Err(cause) => Err(Error::Open {
            file: file.to_owned(),
            cause,
        }),
    }
}

/// The newest schema that was ever brought in; `None` of an empty file.
async fn schema(pool: &SqlitePool, file: &Path) -> Result<Option<i64>> {
    let opening = |cause| Error::Open {
        file: file.to_owned(),
        cause,
    };
    let tables: Vec<String> =
        sqlx::query_scalar("select name from sqlite_schema where type = 'table'")
            .fetch_all(pool)
            .await
            .map_err(opening)?;
    let has = |name: &str| tables.iter().any(|table| table == name);
    if tables.is_empty() {
        return Ok(None);
    }
    let schema = match has("_sqlx_migrations") {
        true => applied(pool).await.map_err(opening)?,
        false => None,
    };
    // A first start that was killed may have left its list of migrations, and nothing in it.
    let begun = tables == ["_sqlx_migrations"] && schema.is_none();
    match begun || (schema.is_some() && has("household") && has("entry")) {
        true => Ok(schema),
        false => Err(Error::NotBooks {
            file: file.to_owned(),
        }),
    }
}

async fn applied(pool: &SqlitePool) -> std::result::Result<Option<i64>, sqlx::Error> {
    sqlx::query_scalar("select max(version) from _sqlx_migrations")
        .fetch_one(pool)
        .await
}

fn newer(file: &Path, found: i64) -> Error {
    Error::Newer {
        file: file.to_owned(),
        found,
        known: Store::schema(),
    }
}

/// Bring in what the file lacks, alone; a file that holds something already is copied first.
async fn bring_up_to_date(pool: &SqlitePool, file: &Path, alone: bool) -> Result<()> {
    let mut found = schema(pool, file).await?;
    let behind = |found: Option<i64>| found.is_none_or(|found| found < Store::schema());
    let _alone = match behind(found) && !alone {
        true => {
            let lock = Lock::take(file).await?;
            // Somebody else may have done it meanwhile.
            found = schema(pool, file).await?;
            Some(lock)
        }
        false => None,
    };
    if let Some(found) = found.filter(|_| behind(found)) {
        let copied = backup::before_migration(pool, file, found).await;
        copied.map_err(|cause| Error::NoCopy {
            file: file.to_owned(),
            cause: Box::new(cause),
        })?;
    }
    migrate(pool, file, Store::schema()).await
}

/// Whether there ever was such a schema.
pub(super) fn knows(schema: i64) -> bool {
    MIGRATIONS.version_exists(schema)
}

/// Bring in what is lacking, up to a schema.
pub(super) async fn migrate(pool: &SqlitePool, file: &Path, schema: i64) -> Result<()> {
    let wanted = MIGRATIONS.iter().filter(|it| it.version <= schema);
    let wanted = Migrator::with_migrations(wanted.cloned().collect());
    match wanted.run(pool).await {
        Ok(()) => Ok(()),
        Err(MigrateError::VersionMissing(found)) => Err(newer(file, found)),
        Err(cause) => Err(Error::Migration {
            file: file.to_owned(),
            cause,
        }),
    }
}
