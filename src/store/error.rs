//! Trouble with the file, with what was being done.

use std::path::PathBuf;

#[derive(Debug, thiserror::Error)]
pub enum Error {
    #[error("could not {doing}: {source}")]
    Database {
        doing: &'static str,
        source: sqlx::Error,
    },
    #[error("there are no books at {}", file.display())]
    Missing { file: PathBuf },
    #[error("could not create the folder {}: {source}", folder.display())]
    Folder {
        folder: PathBuf,
        source: std::io::Error,
    },
    #[error(
        "{} was written by a newer version of this program (schema {found}, this one knows {known}): use that version",
        file.display()
    )]
    Newer {
        file: PathBuf,
        found: i64,
        known: i64,
    },
    #[error("could not bring {} up to date: {source}", file.display())]
    Migration {
        file: PathBuf,
        source: sqlx::migrate::MigrateError,
    },
    /// A row holds a word that this version cannot read: never guessed at.
    #[error("the books hold {value:?} where {what} should stand")]
    Unreadable { what: &'static str, value: String },
}

pub type Result<T> = std::result::Result<T, Error>;

/// Says what was being done when the database failed.
pub(super) trait Doing<T> {
    fn doing(self, doing: &'static str) -> Result<T>;
}

impl<T> Doing<T> for std::result::Result<T, sqlx::Error> {
    fn doing(self, doing: &'static str) -> Result<T> {
        self.map_err(|source| Error::Database { doing, source })
    }
}
