//! Which chat belongs to which household; groups that move; strangers.

use chrono::{DateTime, Utc};

use super::Transaction;
use super::error::{Doing, Result};
use super::household::HouseholdId;
use super::words::{self, time_text};

#[derive(Debug, Clone, PartialEq)]
pub struct ChatRow {
    pub household: HouseholdId,
    pub private: bool,
    /// The chat's new id, if the group has moved.
    pub moved_to: Option<String>,
}

impl Transaction {
    pub async fn chat(&mut self, channel: &str, chat: &str) -> Result<Option<ChatRow>> {
        let row = sqlx::query!(
            r#"select household_id, private as "private: bool", moved_to
               from chat where channel = ? and chat = ?"#,
            channel,
            chat
        )
        .fetch_optional(self.connection())
        .await
        .doing("look up a chat")?;
        Ok(row.map(|row| ChatRow {
            household: HouseholdId(row.household_id),
            private: row.private,
            moved_to: row.moved_to,
        }))
    }

    /// From now on this chat is about this household.
    pub async fn link_chat(
        &mut self,
        channel: &str,
        chat: &str,
        household: HouseholdId,
        private: bool,
        now: DateTime<Utc>,
    ) -> Result<()> {
        sqlx::query!(
            "insert into chat (channel, chat, household_id, private) values (?, ?, ?, ?)
             on conflict (channel, chat) do update set household_id = excluded.household_id",
            channel,
            chat,
            household.0,
            private
        )
        .execute(self.connection())
        .await
        .doing("link a chat to a household")?;
        sqlx::query!(
            "delete from stranger where channel = ? and chat = ?",
            channel,
            chat
        )
        .execute(self.connection())
        .await
        .doing("let a chat in")?;
        self.schedule_chat(channel, chat, household, now).await
    }

    /// A group has a new id: both lead to the household, what is still to be said goes to the new one,
    /// and a message that was already told stays known under its new chat.
    pub async fn move_chat(
        &mut self,
        channel: &str,
        old: &str,
        new: &str,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let Some(row) = self.chat(channel, old).await? else {
            return Ok(());
        };
        self.link_chat(channel, new, row.household, row.private, now)
            .await?;
        self.move_schedule(channel, old, new).await?;
        sqlx::query!(
            "update chat set moved_to = ? where channel = ? and chat = ?",
            new,
            channel,
            old
        )
        .execute(self.connection())
        .await
        .doing("point an old chat to its new id")?;
        // It is hung up anew where the group has gone.
        sqlx::query!(
            "update or ignore board set chat = ? where channel = ? and chat = ?",
            new,
            channel,
            old
        )
        .execute(self.connection())
        .await
        .doing("take the board along to the new chat")?;
        sqlx::query!(
            "update reminder_state set chat = ? where channel = ? and chat = ? and state = 'waiting'",
            new,
            channel,
            old
        )
        .execute(self.connection())
        .await
        .doing("take what waits along to the new chat")?;
        sqlx::query!(
            "update outbox set chat = ?
             where channel = ? and chat = ? and sent_at is null and failed_at is null",
            new,
            channel,
            old
        )
        .execute(self.connection())
        .await
        .doing("send what is waiting to the new chat")?;
        Ok(())
    }

    /// When this strange chat was last told that nobody has let it in.
    pub async fn stranger_told_at(
        &mut self,
        channel: &str,
        chat: &str,
    ) -> Result<Option<DateTime<Utc>>> {
        let told = sqlx::query_scalar!(
            "select told_at from stranger where channel = ? and chat = ?",
            channel,
            chat
        )
        .fetch_optional(self.connection())
        .await
        .doing("look up a stranger")?;
        words::optional(told, words::time)
    }

    pub async fn told_stranger(
        &mut self,
        channel: &str,
        chat: &str,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let now = time_text(now);
        sqlx::query!(
            "insert into stranger (channel, chat, told_at) values (?, ?, ?)
             on conflict (channel, chat) do update set told_at = excluded.told_at",
            channel,
            chat,
            now
        )
        .execute(self.connection())
        .await
        .doing("remember that a stranger was told")?;
        Ok(())
    }
}
