//! When the notes of each chat have to be looked at, and what came of each that was owed.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, NaiveDate, Utc};

use super::Transaction;
use super::error::{Doing, Result};
use super::household::HouseholdId;
use super::outbox::OutboxId;
use super::reminder::DueChat;
use super::words::{self, time_text};
use crate::domain::clock::ToldNotes;
use crate::domain::clock::due::CameTo;
use crate::domain::clock::occurrence::{NoteKind, Occurrence};
use crate::domain::clock::put_away::HotPot;

/// What a look at the notes of a chat needs to know.
#[derive(Debug, Clone, PartialEq)]
pub struct Scheduled {
    pub since: DateTime<Utc>,
    /// Notes are told here: it is a group, or the household has none in this channel.
    pub told_here: bool,
    /// The last date that each kind was looked at for.
    pub last: BTreeMap<NoteKind, NaiveDate>,
}

impl Transaction {
    /// A chat of a household is known from now on: nothing due before is owed in it, and where the others are told may
    /// have changed.
    pub(super) async fn schedule_chat(
        &mut self,
        channel: &str,
        chat: &str,
        household: HouseholdId,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let now = time_text(now);
        sqlx::query!(
            "insert into schedule (channel, chat, household_id, since, next_at) values (?1, ?2, ?3, ?4, ?4)
             on conflict (channel, chat) do update
             set household_id = excluded.household_id, since = excluded.since
             where household_id <> excluded.household_id",
            channel,
            chat,
            household.0,
            now
        )
        .execute(self.connection())
        .await
        .doing("schedule the notes of a chat")?;
        sqlx::query!(
            "update schedule set next_at = ? where household_id = ?",
            now,
            household.0
        )
        .execute(self.connection())
        .await
        .doing("look again at where notes are told")?;
        Ok(())
    }

    /// The household has chosen other times: what was due before is settled.
    pub async fn restart_schedule(
        &mut self,
        household: HouseholdId,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let now = time_text(now);
        sqlx::query!(
            "update schedule set since = ?1, next_at = ?1 where household_id = ?2",
            now,
            household.0
        )
        .execute(self.connection())
        .await
        .doing("schedule notes anew")?;
        Ok(())
    }

    /// The chats of a household, in whatever channel, in which notes are told.
    pub async fn note_chats(&mut self, household: HouseholdId) -> Result<Vec<(String, DueChat)>> {
        let rows = sqlx::query!(
            "select channel, chat from schedule where household_id = ? and next_at is not null order by channel, chat",
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("look for notes of a household")?;
        let rows = rows.into_iter();
        Ok(rows
            .map(|row| {
                let topic = None;
                let chat = row.chat;
                (
                    row.channel,
                    DueChat {
                        household,
                        chat,
                        topic,
                    },
                )
            })
            .collect())
    }

    pub async fn scheduled(&mut self, channel: &str, chat: &str) -> Result<Option<Scheduled>> {
        let row = sqlx::query!(
            r#"select s.since,
                      (select c.private = 0 or not exists (
                           select 1 from chat g where g.household_id = c.household_id and g.channel = c.channel
                                                and g.private = 0 and g.moved_to is null)
                       from chat c where c.channel = s.channel and c.chat = s.chat) as "told_here: bool",
                      (select max(occurrence) from note_said n
                       where n.channel = s.channel and n.chat = s.chat and n.kind = 'prep') as "prep?: String",
                      (select max(occurrence) from note_said n
                       where n.channel = s.channel and n.chat = s.chat and n.kind = 'morning') as "morning?: String",
                      (select max(occurrence) from note_said n
                       where n.channel = s.channel and n.chat = s.chat and n.kind = 'evening') as "evening?: String"
               from schedule s where s.channel = ? and s.chat = ?"#,
            channel,
            chat
        )
        .fetch_optional(self.connection())
        .await
        .doing("look up when notes are due")?;
        let Some(row) = row else { return Ok(None) };
        let mut last = BTreeMap::new();
        let kept = [
            (NoteKind::Prep, row.prep),
            (NoteKind::Morning, row.morning),
            (NoteKind::Evening, row.evening),
        ];
        for (kind, on) in kept {
            if let Some(on) = words::optional(on, words::day)? {
                last.insert(kind, on);
            }
        }
        Ok(Some(Scheduled {
            since: words::time(&row.since)?,
            told_here: row.told_here.unwrap_or(false),
            last,
        }))
    }

    /// Of which pots it was looked at whether to tell that they be put away, of late.
    pub async fn pots_looked_at(
        &mut self,
        channel: &str,
        chat: &str,
        since: DateTime<Utc>,
    ) -> Result<BTreeSet<String>> {
        let since = time_text(since);
        let codes = sqlx::query_scalar!(
            "select occurrence from note_said where channel = ? and chat = ? and kind = 'put_away' and looked_at >= ?",
            channel,
            chat,
            since
        )
        .fetch_all(self.connection())
        .await
        .doing("look up which pots were told of")?;
        Ok(codes.into_iter().collect())
    }

    /// The chats of a household are looked at by then at the latest.
    pub async fn look_by(&mut self, household: HouseholdId, by: DateTime<Utc>) -> Result<()> {
        let by = time_text(by);
        sqlx::query!(
            "update schedule set next_at = ?1 where household_id = ?2 and (next_at is null or next_at > ?1)",
            by,
            household.0
        )
        .execute(self.connection())
        .await
        .doing("look sooner at what is due")?;
        Ok(())
    }

    pub async fn note_said(
        &mut self,
        channel: &str,
        place: &DueChat,
        note: &Occurrence,
        became: (CameTo, Option<OutboxId>),
        now: DateTime<Utc>,
    ) -> Result<()> {
        let of = (note.kind.word(), note.on.to_string(), note.due_at);
        self.keep_note(channel, place, of, became, now).await
    }

    pub async fn pot_said(
        &mut self,
        channel: &str,
        place: &DueChat,
        pot: &HotPot,
        became: (CameTo, Option<OutboxId>),
        now: DateTime<Utc>,
    ) -> Result<()> {
        let of = ("put_away", pot.code.clone(), pot.due_at);
        self.keep_note(channel, place, of, became, now).await
    }

    async fn keep_note(
        &mut self,
        channel: &str,
        place: &DueChat,
        (kind, on, due_at): (&str, String, DateTime<Utc>),
        (came_to, by): (CameTo, Option<OutboxId>),
        now: DateTime<Utc>,
    ) -> Result<()> {
        let (due_at, now) = (time_text(due_at), time_text(now));
        let (came_to, by) = (came_to.word(), by.map(|id| id.0));
        sqlx::query!(
            "insert into note_said (channel, chat, kind, occurrence, household_id, due_at, looked_at, came_to, outbox_id)
             values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
            channel,
            place.chat,
            kind,
            on,
            place.household.0,
            due_at,
            now,
            came_to,
            by
        )
        .execute(self.connection())
        .await
        .doing("keep what came of a note")?;
        Ok(())
    }

    /// The notes that a chat was told last since then; with a reply, those that it replies to.
    pub async fn last_notes(
        &mut self,
        (channel, chat): (&str, &str),
        reply_to: Option<&str>,
        since: DateTime<Utc>,
    ) -> Result<Option<ToldNotes>> {
        let since = time_text(since);
        let rows = sqlx::query!(
            "select n.kind, n.looked_at from note_said n join outbox o on o.outbox_id = n.outbox_id
             where n.channel = ?1 and n.chat = ?2 and n.came_to = 'said' and n.looked_at >= ?3
               and (?4 is null or o.external_id = ?4)
             order by n.looked_at desc, n.kind desc",
            channel,
            chat,
            since,
            reply_to
        )
        .fetch_all(self.connection())
        .await
        .doing("look up what was told last")?;
        let Some(newest) = rows.first().map(|row| row.looked_at.clone()) else {
            return Ok(None);
        };
        let together = rows.iter().filter(|row| row.looked_at == newest);
        let words: BTreeSet<&str> = together.map(|row| row.kind.as_str()).collect();
        let kinds = NoteKind::ALL.into_iter();
        Ok(Some(ToldNotes {
            at: words::time(&newest)?,
            kinds: kinds.filter(|kind| words.contains(kind.word())).collect(),
            put_away: words.contains("put_away"),
            pointed: reply_to.is_some(),
        }))
    }

    pub async fn next_notes(
        &mut self,
        channel: &str,
        chat: &str,
        next: Option<DateTime<Utc>>,
    ) -> Result<()> {
        let next = next.map(time_text);
        sqlx::query!(
            "update schedule set next_at = ? where channel = ? and chat = ?",
            next,
            channel,
            chat
        )
        .execute(self.connection())
        .await
        .doing("schedule the next note")?;
        Ok(())
    }

    /// A group has a new id: what it was told stays told.
    pub(super) async fn move_schedule(
        &mut self,
        channel: &str,
        old: &str,
        new: &str,
    ) -> Result<()> {
        sqlx::query!(
            "delete from schedule where channel = ?1 and chat = ?2
               and exists (select 1 from schedule o where o.channel = ?1 and o.chat = ?3)",
            channel,
            new,
            old
        )
        .execute(self.connection())
        .await
        .doing("make room for a schedule")?;
        sqlx::query!(
            "update schedule set chat = ? where channel = ? and chat = ?",
            new,
            channel,
            old
        )
        .execute(self.connection())
        .await
        .doing("take the schedule along to the new chat")?;
        sqlx::query!(
            "update or ignore note_said set chat = ? where channel = ? and chat = ?",
            new,
            channel,
            old
        )
        .execute(self.connection())
        .await
        .doing("take what was told along to the new chat")?;
        Ok(())
    }
}
