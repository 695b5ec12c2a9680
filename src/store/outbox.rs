//! The outbox: answers, written in the transaction that books and sent afterwards.

use chrono::{DateTime, Utc};
use serde_json::Value;

use super::Transaction;
use super::error::{Doing, Error, Result};
use super::words::{self, time_text};
use crate::domain::ids::MessageId;
use crate::render::Picture;

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OutboxId(pub i64);

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OutboxKind {
    Reply,
    /// Said without being asked.
    Notice,
    /// Replaces an earlier reply.
    Edit,
    /// A bare reaction on the message; `text` is the emoji.
    Reaction,
    /// A picture, with a text beside it.
    Picture,
}

impl OutboxKind {
    fn word(self) -> &'static str {
        match self {
            Self::Reply => "reply",
            Self::Notice => "notice",
            Self::Edit => "edit",
            Self::Reaction => "reaction",
            Self::Picture => "picture",
        }
    }

    fn from_word(word: &str) -> Result<Self> {
        match word {
            "reply" => Ok(Self::Reply),
            "notice" => Ok(Self::Notice),
            "edit" => Ok(Self::Edit),
            "reaction" => Ok(Self::Reaction),
            "picture" => Ok(Self::Picture),
            _ => Err(Error::Unreadable {
                what: "a kind of answer",
                value: word.to_owned(),
            }),
        }
    }
}

/// An answer to be sent.
#[derive(Debug, Clone)]
pub struct NewReply<'a> {
    /// The message that it answers; none for a notice.
    pub message: Option<MessageId>,
    pub channel: &'a str,
    pub chat: &'a str,
    pub topic: Option<&'a str>,
    pub kind: OutboxKind,
    pub edits: Option<OutboxId>,
    /// The channel's own id of the message answered.
    pub answers: Option<&'a str>,
    pub text: &'a str,
    /// Byte ranges of the text.
    pub bold: &'a [[usize; 2]],
    /// Rows of label and what a press carries.
    pub buttons: &'a [Vec<(String, String)>],
    pub data: &'a Value,
    pub picture: Option<&'a Picture>,
    pub silent: bool,
}

/// An answer that waits to be sent.
#[derive(Debug, Clone, PartialEq)]
pub struct Outgoing {
    pub id: OutboxId,
    pub chat: String,
    pub topic: Option<String>,
    pub kind: OutboxKind,
    /// The reply that an edit replaces, and the channel's own ids of the messages that show it now.
    pub edits: Option<(OutboxId, Vec<String>)>,
    /// The channel's own id of the message or press that is answered.
    pub answers: Option<String>,
    /// The message to put it under: the one answered, or the one whose button was pressed.
    pub under: Option<String>,
    pub text: String,
    pub bold: Vec<[usize; 2]>,
    pub buttons: Vec<Vec<(String, String)>>,
    pub data: Value,
    pub picture: Option<Picture>,
    pub silent: bool,
    /// It is the board of its chat, or says that there is none any more.
    pub board: Option<Board>,
    pub attempts: i64,
    pub created_at: DateTime<Utc>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Board {
    Hangs,
    Away,
}

impl Transaction {
    pub async fn say(&mut self, new: &NewReply<'_>, now: DateTime<Utc>) -> Result<OutboxId> {
        let (message, edits) = (new.message.map(|id| id.0), new.edits.map(|id| id.0));
        let (kind, now) = (new.kind.word(), time_text(now));
        let (bold, buttons) = (words::json_text(&new.bold), words::json_text(&new.buttons));
        let data = words::json_text(new.data);
        let picture = new.picture.map(|picture| words::json_text(&picture));
        let id = sqlx::query!(
            "insert into outbox (message_id, channel, chat, topic, kind, edits, answers, body, bold, buttons, data,
                                 picture, silent, created_at)
             values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            message,
            new.channel,
            new.chat,
            new.topic,
            kind,
            edits,
            new.answers,
            new.text,
            bold,
            buttons,
            data,
            picture,
            new.silent,
            now
        )
        .execute(self.connection())
        .await
        .doing("put an answer into the outbox")?
        .last_insert_rowid();
        Ok(OutboxId(id))
    }

    /// What waits to be sent in a channel, oldest first, and of each chat only so many: one that has to
    /// wait must not hide the others. A board goes before the answers, which may be many. Ids of messages are those of the chat that a group has left, and
    /// mean nothing where it has moved to.
    pub async fn pending(&mut self, channel: &str, each_chat: i64) -> Result<Vec<Outgoing>> {
        let rows = sqlx::query!(
            r#"select o.outbox_id as "outbox_id!: i64", o.chat as "chat!: String", o.topic, o.kind, o.edits, e.external_id as "edits_external_id?: String",
                      (select n.parts from outbox n
                       where n.chat = o.chat and n.parts is not null and (n.outbox_id = o.edits or n.edits = o.edits)
                       order by n.sent_at desc, n.outbox_id desc limit 1) as "edits_parts?: String",
                      o.answers,
                      case when m.chat <> o.chat then null
                           when m.kind = 'press' then m.reply_to else o.answers end as "under?: String",
                      b.away as "away?: bool", o.body, o.bold, o.buttons, o.data, o.picture,
                      o.silent as "silent: bool", o.attempts, o.created_at
               from outbox o
               left join outbox e on e.outbox_id = o.edits and e.chat = o.chat
               left join message m on m.message_id = o.message_id
               left join board b on b.outbox_id = coalesce(o.edits, o.outbox_id)
               where o.outbox_id in (
                   select outbox_id from (
                       select w.outbox_id, row_number() over (
                                  partition by w.chat order by h.outbox_id is null, w.outbox_id) as place
                       from outbox w
                       left join board h on h.outbox_id = coalesce(w.edits, w.outbox_id)
                       where w.channel = ?1 and w.sent_at is null and w.failed_at is null)
                   where place <= ?2)
               order by b.outbox_id is null, o.outbox_id"#,
            channel,
            each_chat
        )
        .fetch_all(self.connection())
        .await
        .doing("read what waits to be sent")?;
        let mut pending = Vec::with_capacity(rows.len());
        for row in rows {
            let shown = match &row.edits_parts {
                Some(parts) => words::json("parts of an answer", parts)?,
                None => row.edits_external_id.into_iter().collect(),
            };
            pending.push(Outgoing {
                id: OutboxId(row.outbox_id),
                chat: row.chat,
                topic: row.topic,
                kind: OutboxKind::from_word(&row.kind)?,
                edits: row.edits.map(|id| (OutboxId(id), shown)),
                answers: row.answers,
                under: row.under,
                text: row.body,
                bold: words::json("byte ranges", &row.bold)?,
                buttons: words::json("buttons", &row.buttons)?,
                data: words::json("an answer's data", &row.data)?,
                picture: match &row.picture {
                    Some(text) => Some(words::json("a picture", text)?),
                    None => None,
                },
                silent: row.silent,
                board: row
                    .away
                    .map(|away| if away { Board::Away } else { Board::Hangs }),
                attempts: row.attempts,
                created_at: words::time(&row.created_at)?,
            });
        }
        Ok(pending)
    }

    pub async fn mark_sent(
        &mut self,
        id: OutboxId,
        external_id: Option<&str>,
        parts: Option<&[String]>,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let (now, parts) = (time_text(now), parts.map(|parts| words::json_text(&parts)));
        sqlx::query!(
            "update outbox set sent_at = ?, external_id = ?, parts = ? where outbox_id = ?",
            now,
            external_id,
            parts,
            id.0
        )
        .execute(self.connection())
        .await
        .doing("mark an answer as sent")?;
        Ok(())
    }

    /// Sending failed and will be tried again.
    pub async fn count_send_failure(&mut self, id: OutboxId) -> Result<()> {
        sqlx::query!(
            "update outbox set attempts = attempts + 1 where outbox_id = ?",
            id.0
        )
        .execute(self.connection())
        .await
        .doing("count a failed send")?;
        Ok(())
    }

    /// The channel refuses it for good: it is set aside, so that it blocks nothing behind it.
    pub async fn set_reply_aside(&mut self, id: OutboxId, now: DateTime<Utc>) -> Result<()> {
        let now = time_text(now);
        sqlx::query!(
            "update outbox set failed_at = ? where outbox_id = ?",
            now,
            id.0
        )
        .execute(self.connection())
        .await
        .doing("set an answer aside")?;
        Ok(())
    }

    /// The first reply in this chat to a message, in any of its revisions.
    pub async fn first_reply(
        &mut self,
        channel: &str,
        chat: &str,
        message: MessageId,
    ) -> Result<Option<OutboxId>> {
        let id = sqlx::query_scalar!(
            "select o.outbox_id
             from message m
             join message r on r.channel = m.channel and r.chat = m.chat and r.kind = m.kind
                           and r.external_id = m.external_id
             join outbox o on o.message_id = r.message_id
             where m.message_id = ? and o.channel = ? and o.chat = ? and o.kind = 'reply' and o.failed_at is null
             order by o.outbox_id limit 1",
            message.0,
            channel,
            chat
        )
        .fetch_optional(self.connection())
        .await
        .doing("look up the earlier reply")?;
        Ok(id.map(OutboxId))
    }

    /// The bot's own message that the channel knows by this id.
    pub async fn sent_as(
        &mut self,
        channel: &str,
        chat: &str,
        external_id: &str,
    ) -> Result<Option<OutboxId>> {
        let sent = self.sent(channel, chat, external_id).await?;
        Ok(sent.map(|(id, _)| id))
    }

    /// The message that one of the bot's own messages answered. The outer `None`: not the bot's.
    pub async fn answered_by(
        &mut self,
        channel: &str,
        chat: &str,
        external_id: &str,
    ) -> Result<Option<Option<MessageId>>> {
        let sent = self.sent(channel, chat, external_id).await?;
        Ok(sent.map(|(_, answers)| answers))
    }

    /// The bot's own message that the channel knows by this id, and the one that it answered.
    async fn sent(
        &mut self,
        channel: &str,
        chat: &str,
        external_id: &str,
    ) -> Result<Option<(OutboxId, Option<MessageId>)>> {
        let row = sqlx::query!(
            "select outbox_id, message_id from outbox
             where channel = ? and chat = ? and external_id = ? order by outbox_id limit 1",
            channel,
            chat,
            external_id
        )
        .fetch_optional(self.connection())
        .await
        .doing("look up what was sent")?;
        Ok(row.map(|row| (OutboxId(row.outbox_id), row.message_id.map(MessageId))))
    }

    /// Whether one of the bot's own messages in this chat carries a button with this press, as it was
    /// sent or as it was edited since. Anything else was guessed.
    pub async fn offers(
        &mut self,
        channel: &str,
        chat: &str,
        external_id: &str,
        press: &str,
    ) -> Result<bool> {
        let rows = sqlx::query_scalar!(
            "select o.buttons from outbox o where o.channel = ?1 and o.chat = ?2 and o.external_id = ?3
             union all
             select e.buttons from outbox o join outbox e on e.edits = o.outbox_id
             where o.channel = ?1 and o.chat = ?2 and o.external_id = ?3",
            channel,
            chat,
            external_id
        )
        .fetch_all(self.connection())
        .await
        .doing("read the buttons of an answer")?;
        for row in rows {
            let buttons: Vec<Vec<(String, String)>> = words::json("buttons", &row)?;
            if buttons
                .iter()
                .flatten()
                .any(|(_, offered)| offered == press)
            {
                return Ok(true);
            }
        }
        Ok(false)
    }
}
