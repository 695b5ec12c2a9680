//! `hobside backup` and `hobside restore`: what was done, in words.

use std::fmt::Write;
use std::path::Path;

use chrono::{DateTime, Utc};

use crate::service::backup;
use crate::store::backup::Checked;

/// # Errors
/// If the copy could not be made whole, or an old one not removed.
pub async fn back_up(
    books: &Path,
    folder: Option<&Path>,
    keep_days: Option<u32>,
    now: DateTime<Utc>,
) -> anyhow::Result<String> {
    let done = backup::back_up(books, folder, keep_days, now).await?;
    let mut text = format!(
        "{}\nRead again and whole: {}.\n",
        done.file.display(),
        about(&done.checked)
    );
    for old in &done.removed {
        writeln!(text, "Removed, as it is too old: {}", old.display())?;
    }
    Ok(text)
}

/// # Errors
/// If a bot has the books open, or the copy is not whole.
pub async fn restore(books: &Path, from: &Path, now: DateTime<Utc>) -> anyhow::Result<String> {
    let done = backup::restore(books, from, now).await?;
    let mut text = format!(
        "{} is now as {}: {}.\n",
        books.display(),
        from.display(),
        about(&done.checked)
    );
    if let Some(replaced) = &done.replaced {
        writeln!(text, "What stood there is kept: {}", replaced.display())?;
    }
    Ok(text)
}

fn about(checked: &Checked) -> String {
    let Checked {
        schema,
        entries,
        bytes,
    } = checked;
    let kib = bytes.div_ceil(1024);
    format!("{entries} entries, {kib} KiB, schema {schema}")
}
