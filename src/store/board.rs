//! Where the boards hang: one message of each chat, and what it shows.

use chrono::{DateTime, Utc};

use super::Transaction;
use super::error::{Doing, Result};
use super::household::HouseholdId;
use super::outbox::OutboxId;
use super::words;

/// A board, with the newest row of the outbox that speaks of it.
#[derive(Debug, Clone, PartialEq)]
pub struct BoardRow {
    pub hung: OutboxId,
    pub away: bool,
    /// The chat that the newest row went to: a group that moved has another one now.
    pub shown_in: String,
    pub shows: String,
    pub bold: Vec<[usize; 2]>,
    pub sent_at: Option<DateTime<Utc>>,
    /// The channel refused it for good.
    pub failed_at: Option<DateTime<Utc>>,
}

impl Transaction {
    /// Every household that is reached in a channel, and its chats that have not moved on.
    pub async fn chats_of(&mut self, channel: &str) -> Result<Vec<(HouseholdId, String)>> {
        let rows = sqlx::query!(
            "select household_id, chat from chat
             where channel = ? and moved_to is null order by household_id, chat",
            channel
        )
        .fetch_all(self.connection())
        .await
        .doing("list the chats of a channel")?;
        let rows = rows.into_iter();
        Ok(rows
            .map(|row| (HouseholdId(row.household_id), row.chat))
            .collect())
    }

    /// The topic of a chat in which something was booked or answered last.
    pub async fn topic_of_talk(&mut self, channel: &str, chat: &str) -> Result<Option<String>> {
        let topic = sqlx::query_scalar!(
            "select topic from message
             where channel = ? and chat = ? and kind = 'message' and outcome in ('recorded', 'asked', 'answered')
             order by message_id desc limit 1",
            channel,
            chat
        )
        .fetch_optional(self.connection())
        .await
        .doing("look for the topic in which a chat talks")?;
        Ok(topic.flatten())
    }

    pub async fn board(&mut self, channel: &str, chat: &str) -> Result<Option<BoardRow>> {
        let row = sqlx::query!(
            r#"select b.outbox_id, b.away as "away: bool", o.chat, o.body, o.bold, o.sent_at, o.failed_at
               from board b
               join outbox o on o.outbox_id = coalesce(
                   (select max(e.outbox_id) from outbox e where e.edits = b.outbox_id), b.outbox_id)
               where b.channel = ? and b.chat = ?"#,
            channel,
            chat
        )
        .fetch_optional(self.connection())
        .await
        .doing("look up a board")?;
        let Some(row) = row else { return Ok(None) };
        Ok(Some(BoardRow {
            hung: OutboxId(row.outbox_id),
            away: row.away,
            shown_in: row.chat,
            shows: row.body,
            bold: words::json("byte ranges", &row.bold)?,
            sent_at: words::optional(row.sent_at, words::time)?,
            failed_at: words::optional(row.failed_at, words::time)?,
        }))
    }

    /// From now on the board of this chat is this message.
    pub async fn hang_board(
        &mut self,
        channel: &str,
        chat: &str,
        household: HouseholdId,
        message: OutboxId,
    ) -> Result<()> {
        sqlx::query!(
            "insert into board (channel, chat, household_id, outbox_id) values (?, ?, ?, ?)
             on conflict (channel, chat) do update
             set household_id = excluded.household_id, outbox_id = excluded.outbox_id, away = 0",
            channel,
            chat,
            household.0,
            message.0
        )
        .execute(self.connection())
        .await
        .doing("hang up a board")?;
        Ok(())
    }

    pub async fn put_board_away(&mut self, channel: &str, chat: &str) -> Result<()> {
        sqlx::query!(
            "update board set away = 1 where channel = ? and chat = ?",
            channel,
            chat
        )
        .execute(self.connection())
        .await
        .doing("put a board away")?;
        Ok(())
    }

    /// True the first time: it has to be said that the bot may not pin in this chat.
    pub async fn pin_refused(&mut self, channel: &str, chat: &str) -> Result<bool> {
        let told = sqlx::query!(
            "update board set pin_refused = 1 where channel = ? and chat = ? and pin_refused = 0",
            channel,
            chat
        )
        .execute(self.connection())
        .await
        .doing("note that a board may not be pinned")?;
        Ok(told.rows_affected() > 0)
    }
}
