//! Trouble with the file, with what was being done, in words for whoever runs the program. What SQLite says stands in
//! the words already, so none of it is told a second time as the source of the error.

use std::borrow::Cow;
use std::path::PathBuf;

use sqlx::migrate::MigrateError;

#[derive(Debug, thiserror::Error)]
pub enum Error {
    #[error("could not {doing}: {}", reason(cause))]
    Database {
        doing: &'static str,
        cause: sqlx::Error,
    },
    #[error("could not open {}: {}", file.display(), reason(cause))]
    Open { file: PathBuf, cause: sqlx::Error },
    #[error("{} can be read and not written by this user", file.display())]
    ReadOnly { file: PathBuf },
    #[error("there are no books at {}", file.display())]
    Missing { file: PathBuf },
    #[error("{} is a folder: name the file in it", file.display())]
    Folder { file: PathBuf },
    #[error("{} is the file with the books itself, and no copy of it", file.display())]
    Itself { file: PathBuf },
    #[error("{} holds something else than the books of this program", file.display())]
    NotBooks { file: PathBuf },
    #[error("could not {doing} {}: {cause}", file.display())]
    File {
        doing: &'static str,
        file: PathBuf,
        cause: std::io::Error,
    },
    #[error(
        "another copy of the bot has {} open{}: stop that one first",
        file.display(),
        process.map(|id| format!(" (process {id})")).unwrap_or_default()
    )]
    Taken { file: PathBuf, process: Option<u32> },
    #[error(
        "{} was written by a newer version of this program (schema {found}, this one knows {known}): use that version",
        file.display()
    )]
    Newer {
        file: PathBuf,
        found: i64,
        known: i64,
    },
    #[error("could not bring {} up to date: {}", file.display(), migration_reason(cause))]
    Migration { file: PathBuf, cause: MigrateError },
    #[error("{} is left as it was, since no copy could be made of it before bringing it up to date: {cause}", file.display())]
    NoCopy { file: PathBuf, cause: Box<Error> },
    #[error("{} is damaged: {found}", file.display())]
    Damaged { file: PathBuf, found: String },
    #[error("the archive is not taken in, and nothing has changed: {why}")]
    Archive { why: Cow<'static, str> },
    /// A row holds a word that this version cannot read: never guessed at.
    #[error("the books hold {value:?} where {what} should stand")]
    Unreadable { what: &'static str, value: String },
}

pub type Result<T> = std::result::Result<T, Error>;

/// What SQLite's result codes mean to somebody at the machine; the lower byte tells the kind (sqlite.org/rescode.html).
fn reason(source: &sqlx::Error) -> String {
    let words = match kind(source) {
        Some(5 | 6) => "another program holds the file, and did not let go of it in time",
        Some(8) => "the file, or the folder that it is in, can be read and not written",
        Some(10) => "the disk failed to read or write",
        Some(11) => "the file is damaged: put the last backup in its place with `hobside restore`",
        Some(13) => "there is no space left on the disk",
        Some(14) => "this user may not open the file, or not write in its folder",
        Some(26) => "it holds something else than the books of this program",
        _ => return source.to_string(),
    };
    format!("{words} ({source})")
}

fn migration_reason(source: &MigrateError) -> String {
    match source {
        MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => reason(error),
        MigrateError::VersionMismatch(version) => {
            format!("its schema {version} is not this program's: another program wrote it")
        }
        other => other.to_string(),
    }
}

fn kind(source: &sqlx::Error) -> Option<u32> {
    let code = source.as_database_error()?.code()?;
    code.parse::<u32>().ok().map(|code| code & 0xff)
}

/// Says what was being done when the database failed.
pub(super) trait Doing<T> {
    fn doing(self, doing: &'static str) -> Result<T>;
}

impl<T> Doing<T> for std::result::Result<T, sqlx::Error> {
    fn doing(self, doing: &'static str) -> Result<T> {
        self.map_err(|cause| Error::Database { doing, cause })
    }
}
