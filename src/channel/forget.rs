//! `hobside forget`: delete a person or a household at the box, in two steps; what would be done and what was done, in words.

use std::fmt::Write;
use std::path::Path;

use anyhow::bail;
use chrono::{DateTime, Utc};

use super::export::household;
use super::rebind::member_named;
use crate::render::clean;
use crate::store::{Scrubbed, Store, backup};

/// Without `for_good` it is only told.
///
/// # Errors
/// If there is no such household or person, or a bot has the file: then nothing has changed.
pub async fn forget(
    store: &Store,
    file: &Path,
    chat: &str,
    member: Option<&str>,
    for_good: bool,
    now: DateTime<Utc>,
) -> anyhow::Result<String> {
    let mut transaction = store.begin().await?;
    let household = household(&mut transaction, chat).await?;
    let (who, what) = match member {
        Some(name) => {
            let member = member_named(&mut transaction, household.id, name).await?;
            let name = clean(&member.name);
            let kitchen = transaction.whole_kitchen(household.id).await?;
            if kitchen
                .table
                .keeper()
                .is_some_and(|keeper| keeper.id == member.id)
            {
                bail!(
                    "{name} keeps this household: hand that over first, or delete the household with --household"
                );
            }
            if for_good {
                transaction
                    .forget_member(household.id, member.id, None, now)
                    .await?;
            }
            let what = "what they wrote, chose and were called; what was eaten stays in the stock's books as \
                        someone's who left";
            (name, what)
        }
        None => {
            if for_good {
                transaction.forget_household(household.id, None).await?;
            }
            let what = "all its books, messages, people and settings";
            (clean(&household.name), what)
        }
    };
    if !for_good {
        return Ok(format!(
            "This deletes {who} for good: {what}.\nNothing was done: say it with --for-good.\n{}",
            copies(file)
        ));
    }
    transaction.commit().await?;
    let scrubbed = store.scrub().await?;
    let mut text = format!("{who} is deleted: {what}.\n");
    if scrubbed == Scrubbed::Read {
        text.push_str(
            "Another program reads the file: its old pages are emptied when the bot starts next.\n",
        );
    }
    text.push_str(&copies(file));
    Ok(text)
}

/// What was copied before still holds what was deleted.
fn copies(file: &Path) -> String {
    let folder = backup::folder(file);
    let names = std::fs::read_dir(&folder).into_iter().flatten();
    let mut names: Vec<String> = names
        .flatten()
        .map(|name| name.path().display().to_string())
        .collect();
    names.sort();
    let mut text = String::new();
    if names.is_empty() {
        let folder = folder.display();
        writeln!(
            text,
            "Copies that were made elsewhere still hold it (none is in {folder})."
        )
        .expect("text grows");
        return text;
    }
    text.push_str("Copies that were made before still hold it:\n");
    for name in names {
        writeln!(text, "{name}").expect("text grows");
    }
    text
}
