//! Counts for whoever looks after the box, read from a file as it is. It may be of an earlier schema, so these queries
//! use what the first one had, and are not checked against the newest.

use std::path::Path;

use chrono::{DateTime, Utc};

use super::Store;
use super::error::{Doing, Result};
use super::words::{time as moment, time_text};

/// What waits, since when, and what was given up on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Queued {
    pub waiting: u64,
    pub oldest: Option<DateTime<Utc>>,
    pub set_aside: u64,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Counts {
    pub households: u64,
    /// Each zone once.
    pub zones: Vec<String>,
    /// Channel and how many chats, without those that a group has left.
    pub chats: Vec<(String, u64)>,
}

impl Store {
    pub async fn counts(&self) -> Result<Counts> {
        let zones = "select distinct timezone from household order by 1";
        let zones = sqlx::query_scalar(zones).fetch_all(&self.pool).await;
        let chats =
            "select channel, count(*) from chat where moved_to is null group by 1 order by 1";
        let chats: Vec<(String, i64)> = sqlx::query_as(chats)
            .fetch_all(&self.pool)
            .await
            .doing("count the chats")?;
        Ok(Counts {
            households: self.count("select count(*) from household").await?,
            zones: zones.doing("list the zones")?,
            chats: chats
                .into_iter()
                .map(|(channel, count)| (channel, count.unsigned_abs()))
                .collect(),
        })
    }

    pub async fn entry_count(&self) -> Result<u64> {
        self.count("select count(*) from entry").await
    }

    /// Groups of a channel, and in how many of them something was heard that was not said to the bot.
    pub async fn groups_heard(&self, channel: &str) -> Result<(u64, u64)> {
        let heard = "exists (select 1 from message m where m.channel = c.channel and m.chat = c.chat and m.kind = 'message'
                             and m.reply_to is null and m.body not like '/%' and m.body not like '%@%')";
        let sql = format!(
            "select count(*), coalesce(sum({heard}), 0) from chat c
             where c.channel = ? and c.private = 0 and c.moved_to is null"
        );
        let (groups, heard): (i64, i64) = sqlx::query_as(sqlx::AssertSqlSafe(sql))
            .bind(channel)
            .fetch_one(&self.pool)
            .await
            .doing("count the groups")?;
        Ok((groups.unsigned_abs(), heard.unsigned_abs()))
    }

    /// When the newest message of a channel with a clock of its own came in.
    pub async fn newest_message_at(&self, channels: &[&str]) -> Result<Option<DateTime<Utc>>> {
        let mut newest = None;
        for channel in channels {
            let at: Option<String> =
                sqlx::query_scalar("select max(received_at) from message where channel = ?")
                    .bind(channel)
                    .fetch_one(&self.pool)
                    .await
                    .doing("find the newest message")?;
            newest = newest.max(at.map(|at| moment(&at)).transpose()?);
        }
        Ok(newest)
    }

    /// Messages that wait to be booked.
    pub async fn inbox_queue(&self, since: DateTime<Utc>) -> Result<Queued> {
        let waiting = "select count(*), min(received_at) from message where outcome is null";
        let failed = "select count(*) from message where outcome = 'failed' and received_at >= ?";
        self.queue(waiting, failed, since).await
    }

    /// Answers that wait to be sent.
    pub async fn outbox_queue(&self, since: DateTime<Utc>) -> Result<Queued> {
        let waiting = "select count(*), min(created_at) from outbox where sent_at is null and failed_at is null";
        let failed = "select count(*) from outbox where failed_at >= ?";
        self.queue(waiting, failed, since).await
    }

    async fn queue(
        &self,
        waiting: &'static str,
        failed: &'static str,
        since: DateTime<Utc>,
    ) -> Result<Queued> {
        let (waiting, oldest): (i64, Option<String>) = sqlx::query_as(waiting)
            .fetch_one(&self.pool)
            .await
            .doing("count what waits")?;
        let set_aside: i64 = sqlx::query_scalar(failed)
            .bind(time_text(since))
            .fetch_one(&self.pool)
            .await
            .doing("count what was set aside")?;
        Ok(Queued {
            waiting: waiting.unsigned_abs(),
            oldest: oldest.map(|at| moment(&at)).transpose()?,
            set_aside: set_aside.unsigned_abs(),
        })
    }

    async fn count(&self, sql: &'static str) -> Result<u64> {
        let count: i64 = sqlx::query_scalar(sql)
            .fetch_one(&self.pool)
            .await
            .doing("count")?;
        Ok(count.unsigned_abs())
    }
}

/// How much this user can still write beside a file, where the system tells.
#[cfg(unix)]
pub fn free_bytes(file: &Path) -> Option<u64> {
    let folder = file.parent().filter(|path| !path.as_os_str().is_empty());
    let disk = rustix::fs::statvfs(folder.unwrap_or(Path::new("."))).ok()?;
    disk.f_bavail.checked_mul(disk.f_frsize)
}

#[cfg(not(unix))]
pub fn free_bytes(_file: &Path) -> Option<u64> {
    None
}
