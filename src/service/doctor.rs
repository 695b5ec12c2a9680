//! Everything about the file that whoever keeps the box should know, gathered without changing it.

use std::path::Path;

use chrono::{DateTime, Duration, Utc};

use super::{Error, backup};
use crate::render::doctor::{Finding, Queue};
use crate::store::backup as copies;
use crate::store::health::{Queued, free_bytes};
use crate::store::{Lock, Store};

/// Channels that run by the machine's clock.
const BY_THE_CLOCK: [&str; 2] = ["telegram", "terminal"];
/// The one that has a privacy mode.
const PRIVACY: &str = "telegram";
/// How long what was given up on is told.
const OF_LATE: Duration = Duration::days(30);

/// `zone`: the machine's own, if it says.
pub async fn examine(file: &Path, zone: Option<String>, now: DateTime<Utc>) -> Vec<Finding> {
    let mut findings = Vec::new();
    let store = match Store::open_as_it_is(file).await {
        Ok(store) => store,
        Err(error) => {
            findings.push(Finding::NoFile(error.to_string()));
            findings.push(clock(now, zone, Vec::new(), None));
            findings.push(kept(file));
            return findings;
        }
    };
    findings.push(Finding::File {
        file: file.display().to_string(),
        bytes: std::fs::metadata(file).map_or(0, |about| about.len()),
        free_bytes: free_bytes(file),
    });
    findings.push(Finding::Running {
        by: Lock::holder(file),
    });
    let damaged = match store.check(file).await {
        Ok(checked) => {
            findings.push(Finding::Schema {
                found: checked.schema,
                known: Store::schema(),
            });
            findings.push(Finding::Whole {
                entries: checked.entries.unsigned_abs(),
            });
            None
        }
        Err(Error::Damaged { found, .. }) => Some(found),
        Err(other) => Some(other.to_string()),
    };
    match (read(&store, zone, now).await, damaged) {
        (Ok(more), None) => findings.extend(more),
        (Ok(more), Some(why)) => {
            findings.push(Finding::Damaged(why));
            findings.extend(more);
        }
        (Err(error), why) => {
            findings.push(Finding::Damaged(why.unwrap_or_else(|| error.to_string())));
        }
    }
    findings.push(kept(file));
    store.close().await;
    findings
}

async fn read(
    store: &Store,
    zone: Option<String>,
    now: DateTime<Utc>,
) -> Result<Vec<Finding>, Error> {
    let counts = store.counts().await?;
    let (groups, heard) = store.groups_heard(PRIVACY).await?;
    let newest = store.newest_message_at(&BY_THE_CLOCK).await?;
    let since = now - OF_LATE;
    Ok(vec![
        Finding::Chats {
            households: counts.households,
            chats: counts.chats,
        },
        Finding::Privacy { groups, heard },
        clock(now, zone, counts.zones, newest),
        Finding::Messages(queue(store.inbox_queue(since).await?)),
        Finding::Answers(queue(store.outbox_queue(since).await?)),
    ])
}

fn clock(
    now: DateTime<Utc>,
    zone: Option<String>,
    households: Vec<String>,
    newest: Option<DateTime<Utc>>,
) -> Finding {
    Finding::Clock {
        now,
        zone,
        households,
        newest,
    }
}

fn queue(queued: Queued) -> Queue {
    let Queued {
        waiting,
        oldest,
        set_aside,
    } = queued;
    Queue {
        waiting,
        oldest,
        set_aside,
    }
}

/// A folder that cannot be read is told as one without copies: nobody could restore from it.
fn kept(file: &Path) -> Finding {
    let folder = copies::folder(file);
    let kept = backup::copies(file, &folder).unwrap_or_default();
    Finding::Backups {
        folder: folder.display().to_string(),
        count: kept.len() as u64,
        oldest: kept.first().map(|copy| copy.at),
        newest: kept.last().map(|copy| copy.at),
    }
}
