//! Copies of the file that are whole, and one of them put back in its place.
//!
//! A copy is made by SQLite itself out of one look at the books, so whoever writes meanwhile is not held up and
//! nothing is copied half. It is written under another name, checked, brought to the disk, and only then named.

use std::ffi::OsString;
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use sqlx::Row;
use sqlx::sqlite::SqlitePool;

use super::Store;
use super::error::{Doing, Error, Result};
use super::lock::Lock;

/// The folder of copies, beside the books.
pub const FOLDER: &str = "backups";

/// A copy that was read again and is whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Checked {
    pub schema: i64,
    pub entries: i64,
    pub bytes: u64,
}

/// What `restore` did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    pub checked: Checked,
    /// Where the books that stood there are now.
    pub replaced: Option<PathBuf>,
}

impl Store {
    /// Write a copy of the books to a file that is not there yet. The folder is made if it is missing.
    ///
    /// # Errors
    /// If it cannot be written, or what was written is not whole: then there is no such file.
    pub async fn copy_to(&self, target: &Path) -> Result<Checked> {
        copy(&self.pool, target).await
    }

    /// Look at everything in the file: the pages, the rows that others speak of, and the sums.
    ///
    /// # Errors
    /// If it cannot be read, or is damaged.
    pub async fn check(&self, file: &Path) -> Result<Checked> {
        let damaged = |found: String| Error::Damaged {
            file: file.to_owned(),
            found,
        };
        let schema = self.schema_of_file().await?;
        let schema = schema.ok_or_else(|| damaged("it has no schema".to_owned()))?;
        let pages: Vec<String> = sqlx::query_scalar("pragma integrity_check(5)")
            .fetch_all(&self.pool)
            .await
            .doing("check the file")?;
        if pages != ["ok"] {
            return Err(damaged(pages.join("; ")));
        }
        let lost = sqlx::query("pragma foreign_key_check")
            .fetch_optional(&self.pool)
            .await
            .doing("check the file")?;
        if let Some(row) = lost {
            let table: String = row.get(0);
            return Err(damaged(format!(
                "a row of {table} speaks of one that is not there"
            )));
        }
        let wrong: i64 = sqlx::query_scalar(WRONG_BALANCES)
            .fetch_one(&self.pool)
            .await
            .doing("add up the books")?;
        if wrong != 0 {
            return Err(damaged(format!(
                "{wrong} balances differ from the sum of their entries"
            )));
        }
        let entries = sqlx::query_scalar("select count(*) from entry")
            .fetch_one(&self.pool)
            .await
            .doing("count the entries")?;
        let bytes = fs::metadata(file).map_err(failed("look at", file))?.len();
        Ok(Checked {
            schema,
            entries,
            bytes,
        })
    }
}

/// Accounts whose kept balance is not what their entries come to.
const WRONG_BALANCES: &str = "
    select count(*) from account a left join (
        select household_id, account_id, sum(mg) as mg from (
            select household_id, to_id as account_id, mass_mg as mg from entry
            union all select household_id, from_id, -mass_mg from entry)
        group by household_id, account_id) f
    on f.household_id = a.household_id and f.account_id = a.account_id
    where a.balance_mg <> coalesce(f.mg, 0)";

/// Open a copy as it is and look at all of it.
///
/// # Errors
/// If it is no copy of books, is damaged, or from a newer version.
pub async fn check(file: &Path) -> Result<Checked> {
    let store = Store::open_as_it_is(file).await?;
    let checked = store.check(file).await;
    store.close().await;
    checked
}

/// Put a copy in the place of the books, and keep what stood there under `replaced`. The copy stays where it is.
///
/// # Errors
/// If a bot has the books open, or the copy is not whole: then nothing has changed.
pub async fn restore(books: &Path, from: &Path, replaced: &Path) -> Result<Restored> {
    if let (Ok(from), Ok(books)) = (from.canonicalize(), books.canonicalize())
        && from == books
    {
        return Err(Error::Itself { file: books });
    }
    let source = Store::open_as_it_is(from).await?;
    if let Some(folder) = folder_of(books) {
        fs::create_dir_all(folder).map_err(failed("create the folder", folder))?;
    }
    let _alone = Lock::take(books).await?;
    let fresh = with_ending(books, ".restoring");
    let copied = replace(&source, books, &fresh, replaced).await;
    source.close().await;
    if copied.is_err() {
        remove(&fresh);
    }
    copied
}

async fn replace(source: &Store, books: &Path, fresh: &Path, replaced: &Path) -> Result<Restored> {
    remove(fresh);
    let checked = source.copy_to(fresh).await?;
    let kept = books.exists();
    if kept {
        fold_in_log(books).await;
        for ending in ["-wal", "-shm"] {
            let path = with_ending(books, ending);
            // Whoever closes the books last takes these away, and may be about to.
            match fs::rename(&path, with_ending(replaced, ending)) {
                Err(error) if error.kind() == io::ErrorKind::NotFound => {}
                moved => moved.map_err(failed("set aside", &path))?,
            }
        }
        // A second name for what stands there: at no moment is there no file.
        fs::hard_link(books, replaced)
            .or_else(|_| fs::copy(books, replaced).map(|_| ()))
            .map_err(failed("keep the old books as", replaced))?;
    }
    fs::rename(fresh, books).map_err(failed("put the copy in the place of", books))?;
    sync_folder(books)?;
    Ok(Restored {
        checked,
        replaced: kept.then(|| replaced.to_owned()),
    })
}

/// The last changes stand in a log beside the file until it is closed in order. Books that are too damaged to be opened
/// keep theirs.
async fn fold_in_log(books: &Path) {
    let Ok(store) = super::open::connect(books).await else {
        return;
    };
    let folded = sqlx::query("pragma wal_checkpoint(truncate)").execute(&store.pool);
    if let Err(error) = folded.await {
        tracing::warn!(%error, "the log of the old books stays beside them");
    }
    store.close().await;
}

/// The copy that is made before a file's schema changes; its number tells from which one.
pub(super) async fn before_migration(pool: &SqlitePool, books: &Path, schema: i64) -> Result<()> {
    let name = stem(books);
    let folder = folder(books);
    let named = |again: String| folder.join(format!("{name}-schema-{schema}{again}.db"));
    let target = std::iter::once(String::new())
        .chain((2..).map(|number| format!("-{number}")))
        .map(named)
        .find(|path| !path.exists())
        .expect("one of so many names is free");
    let checked = copy(pool, &target).await?;
    tracing::info!(file = %target.display(), checked.entries, "a copy was kept before the schema changes");
    Ok(())
}

/// The folder of copies of these books.
pub fn folder(books: &Path) -> PathBuf {
    books.parent().unwrap_or(Path::new("")).join(FOLDER)
}

/// What the names of their copies begin with.
pub fn stem(books: &Path) -> String {
    let stem = books.file_stem().unwrap_or_default();
    stem.to_string_lossy().into_owned()
}

async fn copy(pool: &SqlitePool, target: &Path) -> Result<Checked> {
    if let Some(folder) = folder_of(target) {
        fs::create_dir_all(folder).map_err(failed("create the folder", folder))?;
    }
    if target.exists() {
        let cause = io::Error::from(io::ErrorKind::AlreadyExists);
        return Err(failed("write", target)(cause));
    }
    let unchecked = with_ending(target, ".part");
    remove(&unchecked);
    let copied = write_checked(pool, &unchecked, target).await;
    if copied.is_err() {
        remove(&unchecked);
    }
    copied
}

async fn write_checked(pool: &SqlitePool, unchecked: &Path, target: &Path) -> Result<Checked> {
    let path = unchecked.to_str().ok_or_else(|| {
        let cause = io::Error::from(io::ErrorKind::InvalidFilename);
        failed("write", target)(cause)
    })?;
    sqlx::query("vacuum into ?")
        .bind(path)
        .execute(pool)
        .await
        .doing("copy the books")?;
    let file = File::open(unchecked).map_err(failed("open", unchecked))?;
    file.sync_all()
        .map_err(failed("bring to the disk", unchecked))?;
    let checked = check(unchecked).await?;
    fs::rename(unchecked, target).map_err(failed("name", target))?;
    sync_folder(target)?;
    Ok(checked)
}

fn folder_of(file: &Path) -> Option<&Path> {
    file.parent().filter(|path| !path.as_os_str().is_empty())
}

/// A name is safe when its folder is on the disk; where folders cannot be opened, the system sees to it.
fn sync_folder(file: &Path) -> Result<()> {
    let folder = folder_of(file).unwrap_or(Path::new("."));
    match File::open(folder) {
        Ok(open) => open.sync_all().map_err(failed("bring to the disk", folder)),
        Err(_) => Ok(()),
    }
}

/// What is left of a copy that broke off.
fn remove(path: &Path) {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => {
            tracing::warn!(%error, file = %path.display(), "a broken copy stays");
        }
        _ => {}
    }
}

fn with_ending(path: &Path, ending: &str) -> PathBuf {
    let mut name: OsString = path.as_os_str().to_owned();
    name.push(ending);
    name.into()
}

fn failed(doing: &'static str, file: &Path) -> impl FnOnce(io::Error) -> Error {
    let file = file.to_owned();
    move |cause| Error::File { doing, file, cause }
}
