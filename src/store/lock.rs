//! One bot on one file. The lock stands on a file of its own beside the books and belongs to the open handle,
//! so it dies with the process, however that ends. It is not on the books themselves: where SQLite's own locks are of
//! the same make, one would undo the other.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read, Seek, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::error::{Error, Result};

/// A copy that is just ending is waited for: a restart follows close behind.
const LOOKS: u32 = 40;
const BETWEEN_LOOKS: Duration = Duration::from_millis(50);

/// Held for as long as this lives.
#[derive(Debug)]
pub struct Lock {
    _held: File,
}

impl Lock {
    pub async fn take(books: &Path) -> Result<Self> {
        let path = beside(books);
        let mut file = open(&path)?;
        for _ in 0..LOOKS {
            match file.try_lock() {
                Ok(()) => {
                    // Who holds it is for people only: a lock that cannot be signed is held all the same.
                    let _ = file
                        .set_len(0)
                        .and_then(|()| writeln!(file, "{}", std::process::id()));
                    return Ok(Self { _held: file });
                }
                Err(TryLockError::WouldBlock) => tokio::time::sleep(BETWEEN_LOOKS).await,
                Err(TryLockError::Error(cause)) => {
                    let doing = "lock";
                    return Err(Error::File {
                        doing,
                        file: path,
                        cause,
                    });
                }
            }
        }
        Err(Error::Taken {
            file: books.to_owned(),
            process: signed_by(&mut file),
        })
    }

    /// Who has the books open, if anybody; nothing is waited for, and nothing written.
    pub fn holder(books: &Path) -> Option<Option<u32>> {
        let mut file = File::open(beside(books)).ok()?;
        match file.try_lock_shared() {
            Err(TryLockError::WouldBlock) => Some(signed_by(&mut file)),
            Ok(()) | Err(TryLockError::Error(_)) => None,
        }
    }
}

fn open(path: &Path) -> Result<File> {
    let mut options = OpenOptions::new();
    options.read(true).write(true).create(true).truncate(false);
    options.open(path).map_err(|cause| Error::File {
        doing: "open",
        file: path.to_owned(),
        cause,
    })
}

fn signed_by(file: &mut File) -> Option<u32> {
    let mut text = String::new();
    file.rewind().ok()?;
    file.read_to_string(&mut text).ok()?;
    text.trim().parse().ok()
}

/// The same for every name that the file has.
fn beside(books: &Path) -> PathBuf {
    let in_folder = || {
        let folder = books.parent()?.canonicalize().ok()?;
        Some(folder.join(books.file_name()?))
    };
    let path = books.canonicalize().ok().or_else(in_folder);
    let mut name = path.unwrap_or_else(|| books.to_owned()).into_os_string();
    name.push(".lock");
    name.into()
}
