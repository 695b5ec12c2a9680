//! The inbox: what people said, stored before the channel is told that it arrived.

use chrono::{DateTime, Utc};

use super::Transaction;
use super::error::{Doing, Error, Result};
use super::household::HouseholdId;
use super::words::{self, time_text};
use crate::domain::decide::Outcome;
use crate::domain::ids::{MemberId, MessageId};

/// After so many failures a message is set aside.
pub const ATTEMPTS_MAX: i64 = 5;

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    Message,
    /// A pressed button.
    Press,
}

impl Kind {
    pub(super) fn word(self) -> &'static str {
        match self {
            Kind::Message => "message",
            Kind::Press => "press",
        }
    }

    fn from_word(word: &str) -> Result<Self> {
        match word {
            "message" => Ok(Kind::Message),
            "press" => Ok(Kind::Press),
            _ => Err(Error::Unreadable {
                what: "a kind of message",
                value: word.to_owned(),
            }),
        }
    }
}

/// A message of a known household, to be stored.
#[derive(Debug, Clone)]
pub struct NewMessage<'a> {
    pub channel: &'a str,
    pub chat: &'a str,
    pub external_id: &'a str,
    pub revision: i64,
    pub kind: Kind,
    pub sender: &'a str,
    pub sender_name: &'a str,
    pub body: &'a str,
    pub reply_to: Option<&'a str>,
    pub topic: Option<&'a str>,
    pub private: bool,
    pub forwarded: bool,
    pub sent_at: DateTime<Utc>,
    pub received_at: DateTime<Utc>,
    pub household: HouseholdId,
    pub member: MemberId,
}

/// The latest revision of a message that has arrived before.
#[derive(Debug, Clone, PartialEq)]
pub struct Arrival {
    pub revision: i64,
    pub body: String,
}

/// A stored message that has no outcome yet.
#[derive(Debug, Clone)]
pub struct Waiting {
    pub id: MessageId,
    pub channel: String,
    pub chat: String,
    pub external_id: String,
    pub revision: i64,
    pub kind: Kind,
    pub body: String,
    pub reply_to: Option<String>,
    pub topic: Option<String>,
    pub private: bool,
    pub forwarded: bool,
    pub sent_at: DateTime<Utc>,
    pub received_at: DateTime<Utc>,
    pub attempts: i64,
    pub household: HouseholdId,
    pub member: MemberId,
    /// A later revision of it waits as well.
    pub edited: bool,
}

/// What an earlier revision of a message said, and when the message was first sent.
#[derive(Debug, Clone, PartialEq)]
pub struct Said {
    /// The number of the first revision, under which the message is known in the books.
    pub first: MessageId,
    pub body: String,
    pub first_sent_at: DateTime<Utc>,
}

pub fn outcome_word(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Recorded => "recorded",
        Outcome::Asked => "asked",
        Outcome::Refused => "refused",
        Outcome::Answered => "answered",
        Outcome::Ignored => "ignored",
    }
}

impl Transaction {
    /// The latest revision that has arrived, of a message or press of that id in that chat.
    pub async fn latest_arrival(
        &mut self,
        channel: &str,
        chat: &str,
        kind: Kind,
        external_id: &str,
    ) -> Result<Option<Arrival>> {
        let kind = kind.word();
        let row = sqlx::query!(
            "select revision, body from message
             where channel = ? and chat = ? and kind = ? and external_id = ?
             order by revision desc limit 1",
            channel,
            chat,
            kind,
            external_id
        )
        .fetch_optional(self.connection())
        .await
        .doing("look up a message")?;
        Ok(row.map(|row| Arrival {
            revision: row.revision,
            body: row.body,
        }))
    }

    /// Store a message; `None` if this revision is there already.
    pub async fn store_message(&mut self, new: &NewMessage<'_>) -> Result<Option<MessageId>> {
        let kind = new.kind.word();
        let (sent_at, received_at) = (time_text(new.sent_at), time_text(new.received_at));
        let stored = sqlx::query!(
            // Entries outlive messages that are deleted, so no number is given twice.
            "insert into message (message_id, channel, chat, external_id, revision, kind, sender, sender_name, body,
                                  reply_to, topic, private, forwarded, sent_at, received_at, household_id, member_id)
             values (1 + max(coalesce((select max(message_id) from message), 0),
                             coalesce((select max(message_id) from entry), 0)),
                     ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
             on conflict do nothing",
            new.channel,
            new.chat,
            new.external_id,
            new.revision,
            kind,
            new.sender,
            new.sender_name,
            new.body,
            new.reply_to,
            new.topic,
            new.private,
            new.forwarded,
            sent_at,
            received_at,
            new.household.0,
            new.member.0
        )
        .execute(self.connection())
        .await
        .doing("store a message")?;
        let id = MessageId(stored.last_insert_rowid());
        Ok((stored.rows_affected() == 1).then_some(id))
    }

    /// The oldest message without an outcome.
    pub async fn oldest_waiting(&mut self) -> Result<Option<Waiting>> {
        let row = sqlx::query!(
            r#"select message_id, channel, chat, external_id, revision, kind, body, reply_to, topic,
                      private as "private: bool", forwarded as "forwarded: bool", sent_at, received_at, attempts,
                      household_id as "household_id!: i64", member_id as "member_id!: i64",
                      exists (select 1 from message later
                              where later.channel = message.channel and later.chat = message.chat
                                and later.kind = message.kind and later.external_id = message.external_id
                                and later.revision > message.revision) as "edited!: bool"
               from message where outcome is null order by message_id limit 1"#
        )
        .fetch_optional(self.connection())
        .await
        .doing("look for a waiting message")?;
        let Some(row) = row else { return Ok(None) };
        Ok(Some(Waiting {
            id: MessageId(row.message_id),
            channel: row.channel,
            chat: row.chat,
            external_id: row.external_id,
            revision: row.revision,
            kind: Kind::from_word(&row.kind)?,
            body: row.body,
            reply_to: row.reply_to,
            topic: row.topic,
            private: row.private,
            forwarded: row.forwarded,
            sent_at: words::time(&row.sent_at)?,
            received_at: words::time(&row.received_at)?,
            attempts: row.attempts,
            household: HouseholdId(row.household_id),
            member: MemberId(row.member_id),
            edited: row.edited,
        }))
    }

    /// What the message said before this revision, as the books have it: a revision that was refused, or
    /// asks and waits, has changed nothing. `None` for the first.
    pub async fn said_before(&mut self, message: &Waiting) -> Result<Option<Said>> {
        let kind = message.kind.word();
        let rows = sqlx::query!(
            r#"select message_id as "message_id!", body, sent_at, coalesce(outcome = 'recorded', 0) as "recorded!: bool" from message
             where channel = ? and chat = ? and kind = ? and external_id = ? and revision < ?
             order by revision"#,
            message.channel,
            message.chat,
            kind,
            message.external_id,
            message.revision
        )
        .fetch_all(self.connection())
        .await
        .doing("read what was said before")?;
        let (Some(first), Some(last)) = (rows.first(), rows.last()) else {
            return Ok(None);
        };
        let mut newest_first = rows.iter().rev();
        let booked = newest_first.find(|row| row.recorded);
        Ok(Some(Said {
            first: MessageId(first.message_id),
            body: booked.unwrap_or(last).body.clone(),
            first_sent_at: words::time(&first.sent_at)?,
        }))
    }

    /// A person's own message by the channel's id, in its latest revision.
    pub async fn message_by_external_id(
        &mut self,
        channel: &str,
        chat: &str,
        external_id: &str,
    ) -> Result<Option<MessageId>> {
        let id = sqlx::query_scalar!(
            "select message_id from message
             where channel = ? and chat = ? and kind = 'message' and external_id = ?
             order by revision desc limit 1",
            channel,
            chat,
            external_id
        )
        .fetch_optional(self.connection())
        .await
        .doing("look up the message replied to")?;
        Ok(id.map(MessageId))
    }

    pub async fn set_outcome(&mut self, message: MessageId, outcome: Outcome) -> Result<()> {
        let word = outcome_word(outcome);
        sqlx::query!(
            "update message set outcome = ? where message_id = ?",
            word,
            message.0
        )
        .execute(self.connection())
        .await
        .doing("keep a message's outcome")?;
        Ok(())
    }

    /// The number of the first revision of a message, under which it is known in the books.
    pub async fn first_revision(&mut self, message: MessageId) -> Result<MessageId> {
        let first = sqlx::query_scalar!(
            r#"select r.message_id as "message_id!"
               from message m
               join message r on r.channel = m.channel and r.chat = m.chat and r.kind = m.kind
                             and r.external_id = m.external_id
               where m.message_id = ? order by r.revision limit 1"#,
            message.0
        )
        .fetch_one(self.connection())
        .await
        .doing("look up the first revision of a message")?;
        Ok(MessageId(first))
    }

    /// What waited for an answer is in the books now, or waits again, as the answer to it says: the newest
    /// revision, if its outcome is `from`, has another one.
    pub async fn turn(&mut self, message: MessageId, from: Outcome, to: Outcome) -> Result<()> {
        let (from, to) = (outcome_word(from), outcome_word(to));
        sqlx::query!(
            "update message set outcome = ?
             where message_id = (
                 select r.message_id from message m
                 join message r on r.channel = m.channel and r.chat = m.chat and r.kind = m.kind
                               and r.external_id = m.external_id
                 where m.message_id = ? order by r.revision desc limit 1)
               and outcome = ?",
            to,
            message.0,
            from
        )
        .execute(self.connection())
        .await
        .doing("keep that a question was answered")?;
        Ok(())
    }

    /// Handling failed once more. True: that was the last time, and the message is set aside.
    pub async fn count_failure(&mut self, message: MessageId) -> Result<bool> {
        let set_aside = sqlx::query_scalar!(
            r#"update message
               set attempts = attempts + 1,
                   outcome = case when attempts + 1 >= ?2 then 'failed' end
               where message_id = ?1 and outcome is null
               returning (outcome is not null) as "set_aside!: bool""#,
            message.0,
            ATTEMPTS_MAX
        )
        .fetch_optional(self.connection())
        .await
        .doing("count a failure")?;
        Ok(set_aside.unwrap_or(false))
    }

    /// When the newest message was received: a clock that is set from outside goes on from there.
    pub async fn last_received_at(&mut self) -> Result<Option<DateTime<Utc>>> {
        let received =
            sqlx::query_scalar!(
            "select received_at from message where message_id = (select max(message_id) from message)"
        )
                .fetch_optional(self.connection())
                .await
                .doing("read the time of the newest message")?;
        words::optional(received, words::time)
    }
}
