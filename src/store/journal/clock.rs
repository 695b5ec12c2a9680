//! Reminders, and the places where they are said: where they were asked for.

use chrono::{DateTime, Utc};

use super::Writing;
use crate::domain::clock::absence::Absence;
use crate::domain::clock::{ClockDetail, NewReminder};
use crate::domain::ids::EntryId;
use crate::store::error::{Doing, Result};
use crate::store::words::{clock, time_text};

impl Writing<'_> {
    pub(super) async fn clock_detail(
        &mut self,
        entry: EntryId,
        detail: &ClockDetail,
    ) -> Result<()> {
        match detail {
            ClockDetail::Reminder(asked) => self.reminder(entry, asked).await,
            ClockDetail::Absence(absence) => self.absence(entry, absence).await,
        }
    }

    async fn absence(&mut self, entry: EntryId, absence: &Absence) -> Result<()> {
        let member = absence.member.map(|member| member.0);
        let (from, until) = (absence.from.to_string(), absence.until.to_string());
        sqlx::query!(
            "insert into absence (household_id, entry_id, absent_id, from_day, until_day) values (?, ?, ?, ?, ?)",
            self.household,
            entry.0,
            member,
            from,
            until
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep an absence")?;
        Ok(())
    }

    async fn reminder(&mut self, entry: EntryId, asked: &NewReminder) -> Result<()> {
        let kind = clock::reminder_word(asked.kind);
        let (due_at, now) = (time_text(asked.due_at), time_text(self.now));
        let wall = asked.wall.map(clock::wall_text);
        let (household, message) = (self.household, self.message.0);
        let connection = self.transaction.connection();
        sqlx::query!(
            "insert into reminder (household_id, entry_id, kind, number, words, due_at, wall)
             values (?, ?, ?, ?, ?, ?, ?)",
            household,
            entry.0,
            kind,
            asked.number,
            asked.words,
            due_at,
            wall
        )
        .execute(connection)
        .await
        .doing("keep a reminder")?;
        sqlx::query!(
            "insert into reminder_state (household_id, entry_id, channel, chat, topic, due_at, state, changed_at)
             select ?, ?, channel, chat, topic, ?, 'waiting', ? from message where message_id = ?",
            household,
            entry.0,
            due_at,
            now,
            message
        )
        .execute(self.transaction.connection())
        .await
        .doing("let a reminder wait")?;
        Ok(())
    }

    pub(super) async fn move_reminder(
        &mut self,
        reminder: EntryId,
        due_at: DateTime<Utc>,
    ) -> Result<()> {
        let due_at = time_text(due_at);
        sqlx::query!(
            "update reminder_state set due_at = ? where household_id = ? and entry_id = ?",
            due_at,
            self.household,
            reminder.0
        )
        .execute(self.transaction.connection())
        .await
        .doing("move a reminder")?;
        Ok(())
    }
}
