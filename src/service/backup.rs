//! Copies of the books by day: made, told by their names, and the old ones removed.

use std::path::{Path, PathBuf};

use chrono::{DateTime, Duration, NaiveDateTime, Utc};

use super::Error;
use crate::store::Store;
use crate::store::backup::{self, Checked, Restored};

/// The moment in the name of a copy, in UTC.
const MOMENT: &str = "%Y%m%dT%H%M%SZ";

/// A copy of the books, as its name tells.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Copied {
    pub at: DateTime<Utc>,
    pub file: PathBuf,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackedUp {
    pub file: PathBuf,
    pub checked: Checked,
    /// Copies that were too old.
    pub removed: Vec<PathBuf>,
}

/// Copy the books, whoever has them open, and remove what is older than so many days, but never the newest.
///
/// # Errors
/// If the copy could not be made whole (then nothing is removed), or an old one not removed.
pub async fn back_up(
    books: &Path,
    folder: Option<&Path>,
    keep_days: Option<u32>,
    now: DateTime<Utc>,
) -> Result<BackedUp, Error> {
    let folder = folder.map_or_else(|| backup::folder(books), Path::to_owned);
    let store = Store::open_as_it_is(books).await?;
    let file = free(&folder, &backup::stem(books), "", now);
    let checked = store.copy_to(&file).await;
    store.close().await;
    let checked = checked?;
    let removed = match keep_days {
        Some(days) => remove_before(books, &folder, now - Duration::days(days.into()), &file)?,
        None => Vec::new(),
    };
    Ok(BackedUp {
        file,
        checked,
        removed,
    })
}

/// Put a copy in the place of the books; what stood there is kept among the copies.
///
/// # Errors
/// If a bot has the books open, or the copy is not whole: then nothing has changed.
pub async fn restore(books: &Path, from: &Path, now: DateTime<Utc>) -> Result<Restored, Error> {
    let folder = backup::folder(books);
    let in_folder = |cause| Error::File {
        doing: "create the folder",
        file: folder.clone(),
        cause,
    };
    std::fs::create_dir_all(&folder).map_err(in_folder)?;
    let replaced = free(&folder, &backup::stem(books), "replaced-", now);
    backup::restore(books, from, &replaced).await
}

/// The copies of these books in a folder, oldest first. What is named otherwise is somebody else's.
///
/// # Errors
/// If the folder cannot be read; one that is not there holds none.
pub fn copies(books: &Path, folder: &Path) -> std::io::Result<Vec<Copied>> {
    let names = match std::fs::read_dir(folder) {
        Ok(names) => names,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(error) => return Err(error),
    };
    let stem = backup::stem(books);
    let mut copies = Vec::new();
    for name in names {
        let file = name?.path();
        let at = file
            .file_name()
            .and_then(|name| moment(&stem, name.to_str()?));
        copies.extend(at.map(|at| Copied { at, file }));
    }
    copies.sort();
    Ok(copies)
}

fn moment(stem: &str, name: &str) -> Option<DateTime<Utc>> {
    let text = name
        .strip_prefix(stem)?
        .strip_prefix('-')?
        .strip_suffix(".db")?;
    // Two in one second are told apart by a number.
    let (text, _) = text.split_once('_').unwrap_or((text, ""));
    NaiveDateTime::parse_from_str(text, MOMENT)
        .ok()
        .map(|at| at.and_utc())
}

fn free(folder: &Path, stem: &str, what: &str, now: DateTime<Utc>) -> PathBuf {
    let at = now.format(MOMENT);
    let named = |again: String| folder.join(format!("{stem}-{what}{at}{again}.db"));
    std::iter::once(String::new())
        .chain((2..).map(|number| format!("_{number}")))
        .map(named)
        .find(|path| !path.exists())
        .expect("one of so many names is free")
}

fn remove_before(
    books: &Path,
    folder: &Path,
    before: DateTime<Utc>,
    newest: &Path,
) -> Result<Vec<PathBuf>, Error> {
    let failed = |file: &Path, doing, cause| Error::File {
        doing,
        file: file.to_owned(),
        cause,
    };
    let copies = copies(books, folder).map_err(|cause| failed(folder, "list", cause))?;
    let old = copies
        .into_iter()
        .filter(|copy| copy.at < before && copy.file != newest);
    old.map(|copy| match std::fs::remove_file(&copy.file) {
        Ok(()) => Ok(copy.file),
        Err(cause) => Err(failed(&copy.file, "remove", cause)),
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_is_known_by_its_name_alone() {
        let at = "2026-10-14T18:05:09Z".parse().ok();
        assert_eq!(moment("hobside", "hobside-20261014T180509Z.db"), at);
        assert_eq!(moment("hobside", "hobside-20261014T180509Z_2.db"), at);
        for other in [
            "hobside.db",
            "hobside-schema-13.db",
            "hobside-replaced-20261014T180509Z.db",
            "other-20261014T180509Z.db",
            "hobside-20261014T180509Z.db.part",
            "hobside-20261399T180509Z.db",
        ] {
            assert_eq!(moment("hobside", other), None, "{other}");
        }
    }
}
