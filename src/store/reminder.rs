//! Reminders: what waits, what has fallen due, and what became of it.

use chrono::{DateTime, Utc};

use super::Transaction;
use super::error::{Doing, Result};
use super::household::HouseholdId;
use super::outbox::OutboxId;
use super::words::{self, clock, time_text};
use crate::domain::clock::{NewReminder, Reminder};
use crate::domain::ids::{EntryId, MemberId};

/// A chat in which something has fallen due.
#[derive(Debug, Clone, PartialEq)]
pub struct DueChat {
    pub household: HouseholdId,
    pub chat: String,
    pub topic: Option<String>,
}

impl Transaction {
    /// What waits in a household, in the order in which it rings.
    pub(super) async fn waiting_reminders(
        &mut self,
        household: HouseholdId,
    ) -> Result<Vec<Reminder>> {
        let waiting = sqlx::query_scalar!(
            r#"select entry_id as "entry_id!: i64" from reminder_state where household_id = ? and state = 'waiting'"#,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("look for what waits")?;
        self.reminders(household, waiting).await
    }

    /// What rang since then.
    pub(super) async fn rang_since(
        &mut self,
        household: HouseholdId,
        since: DateTime<Utc>,
    ) -> Result<Vec<Reminder>> {
        let since = time_text(since);
        let rang = sqlx::query_scalar!(
            r#"select entry_id as "entry_id!: i64" from reminder_state
               where household_id = ? and state = 'said' and changed_at >= ?"#,
            household.0,
            since
        )
        .fetch_all(self.connection())
        .await
        .doing("look for what rang")?;
        self.reminders(household, rang).await
    }

    /// These reminders, in the order in which they ring.
    pub(super) async fn reminders(
        &mut self,
        household: HouseholdId,
        ids: impl IntoIterator<Item = i64>,
    ) -> Result<Vec<Reminder>> {
        let ids: Vec<i64> = ids.into_iter().collect();
        if ids.is_empty() {
            return Ok(Vec::new());
        }
        let ids = words::id_list(ids);
        let rows = sqlx::query!(
            r#"select r.entry_id as "entry_id!: i64", r.kind, r.number, r.words, r.due_at as asked_due_at, r.wall,
                      s.due_at, e.member_id, e.occurred_at,
                      coalesce((select max(x.entry_id) from entry x
                                where x.household_id = r.household_id and x.root = r.entry_id), r.entry_id) as "tip!: i64"
               from json_each(?1) wanted
               join reminder r on r.household_id = ?2 and r.entry_id = wanted.value
               join reminder_state s on s.household_id = r.household_id and s.entry_id = r.entry_id
               join entry e on e.household_id = r.household_id and e.entry_id = r.entry_id
               order by s.due_at, s.entry_id"#,
            ids,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read reminders")?;
        let rows = rows.into_iter();
        rows.map(|row| {
            Ok(Reminder {
                entry: EntryId(row.entry_id),
                tip: EntryId(row.tip),
                member: MemberId(row.member_id),
                set_at: words::time(&row.occurred_at)?,
                asked: NewReminder {
                    kind: clock::reminder_kind(&row.kind)?,
                    number: words::count(row.number)?,
                    words: row.words,
                    due_at: words::time(&row.asked_due_at)?,
                    wall: words::optional(row.wall, clock::wall)?,
                },
                due_at: words::time(&row.due_at)?,
            })
        })
        .collect()
    }

    /// The chat in which something has been due longest.
    pub async fn due_chat(&mut self, channel: &str, now: DateTime<Utc>) -> Result<Option<DueChat>> {
        let now = time_text(now);
        let row = sqlx::query!(
            r#"select household_id as "household_id!: i64", chat as "chat!: String", topic as "topic?: String" from (
                   select household_id, chat, topic, due_at from reminder_state
                   where channel = ?1 and state = 'waiting' and due_at <= ?2
                   union all
                   select household_id, chat, null, next_at from schedule
                   where channel = ?1 and next_at is not null and next_at <= ?2)
               order by due_at limit 1"#,
            channel,
            now
        )
        .fetch_optional(self.connection())
        .await
        .doing("look for what is due")?;
        Ok(row.map(|row| DueChat {
            household: HouseholdId(row.household_id),
            chat: row.chat,
            topic: row.topic,
        }))
    }

    /// What has fallen due there.
    pub async fn due_reminders(
        &mut self,
        channel: &str,
        place: &DueChat,
        now: DateTime<Utc>,
    ) -> Result<Vec<Reminder>> {
        let now = time_text(now);
        let due = sqlx::query_scalar!(
            r#"select entry_id as "entry_id!: i64" from reminder_state
               where channel = ? and state = 'waiting' and due_at <= ?
                 and household_id = ? and chat = ? and topic is ?"#,
            channel,
            now,
            place.household.0,
            place.chat,
            place.topic
        )
        .fetch_all(self.connection())
        .await
        .doing("look for what is due in a chat")?;
        self.reminders(place.household, due).await
    }

    pub async fn reminder_said(
        &mut self,
        household: HouseholdId,
        entry: EntryId,
        by: Option<OutboxId>,
        now: DateTime<Utc>,
    ) -> Result<()> {
        self.forget(household);
        let (now, by) = (time_text(now), by.map(|id| id.0));
        sqlx::query!(
            "update reminder_state set state = 'said', changed_at = ?, outbox_id = ?
             where household_id = ? and entry_id = ?",
            now,
            by,
            household.0,
            entry.0
        )
        .execute(self.connection())
        .await
        .doing("keep that a reminder was said")?;
        Ok(())
    }

    /// When something falls due next in a channel.
    pub async fn next_due(&mut self, channel: &str) -> Result<Option<DateTime<Utc>>> {
        let next = sqlx::query_scalar!(
            r#"select min(at) as "at?: String" from (
                   select min(due_at) as at from reminder_state where channel = ?1 and state = 'waiting'
                   union all
                   select min(next_at) from schedule where channel = ?1 and next_at is not null)"#,
            channel
        )
        .fetch_one(self.connection())
        .await
        .doing("look for what falls due next")?;
        words::optional(next, words::time)
    }
}
