//! Store what arrived. Only after that may the channel acknowledge it.

use chrono::{DateTime, Utc};

use super::{Error, Service, Work};
use crate::domain::ids::MessageId;
use crate::render;
use crate::store::{Kind, NewMessage};

/// A message or a press as a channel hands it over.
#[derive(Debug, Clone)]
pub struct Inbound {
    /// The channel's name: `telegram`, `bridge`, `terminal`.
    pub channel: &'static str,
    /// The channel's own id of the chat.
    pub chat: String,
    /// What the chat is called, if it has a name.
    pub chat_name: Option<String>,
    /// The channel's own id of the message, unique within the chat and the kind.
    pub external_id: String,
    pub revision: Revision,
    pub kind: Kind,
    pub sender: Sender,
    /// The words, or what the pressed button carries.
    pub text: String,
    /// The channel's own id of the message replied to, or of the one whose button was pressed.
    pub reply_to: Option<String>,
    /// The thread, in a group that has them.
    pub topic: Option<String>,
    /// One person alone with the bot.
    pub private: bool,
    pub forwarded: bool,
    /// For a private message: the chat whose household it is about, where the channel says so.
    pub household_chat: Option<String>,
    /// Kitchen time: when it was sent.
    pub sent_at: DateTime<Utc>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Sender {
    /// The channel's own id of the person.
    pub id: String,
    pub name: String,
}

/// How a channel tells an edit from a repeat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Revision {
    /// The channel numbers its updates, rising; an edit has a higher number than its original.
    Numbered(i64),
    /// Counted here by distinct consecutive texts. Another text that is not said to be an edit is refused.
    Counted { edited: bool },
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Received {
    Stored(MessageId),
    /// It is there already; nothing changes.
    Repeated,
    /// The id is known with another text, and this is not said to be an edit.
    Conflict,
    /// A newer revision came first; this one means nothing any more.
    Superseded,
    /// Nobody has let the chat in. A polite sentence may wait in the outbox.
    TurnedAway,
    /// A one-time code has just let the chat in; a welcome waits in the outbox.
    LetIn,
}

impl Service {
    /// Store a message durably, or find that it is known, or turn it away.
    pub async fn receive(&self, inbound: &Inbound, now: DateTime<Utc>) -> Result<Received, Error> {
        let mut work = self.begin().await?;
        let received = work.receive(inbound, now).await?;
        work.commit().await?;
        // A chat may have come in, whose notes fall due.
        self.forget_due();
        Ok(received)
    }

    /// A group has a new id.
    pub async fn move_chat(
        &self,
        channel: &str,
        old: &str,
        new: &str,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        let mut work = self.begin().await?;
        work.transaction.move_chat(channel, old, new, now).await?;
        work.commit().await?;
        self.forget_due();
        Ok(())
    }
}

impl Work<'_> {
    async fn receive(&mut self, inbound: &Inbound, now: DateTime<Utc>) -> Result<Received, Error> {
        let latest = self
            .transaction
            .latest_arrival(
                inbound.channel,
                &inbound.chat,
                inbound.kind,
                &inbound.external_id,
            )
            .await?;
        let edited = latest.is_some();
        let revision = match (inbound.revision, latest) {
            (Revision::Numbered(number), Some(latest)) if number == latest.revision => {
                return Ok(Received::Repeated);
            }
            (Revision::Numbered(number), Some(latest)) if number < latest.revision => {
                return Ok(Received::Superseded);
            }
            (Revision::Numbered(number), _) => number,
            (Revision::Counted { .. }, None) => 0,
            (Revision::Counted { .. }, Some(latest)) if latest.body == inbound.text => {
                return Ok(Received::Repeated);
            }
            (Revision::Counted { edited: false }, Some(_)) => return Ok(Received::Conflict),
            (Revision::Counted { edited: true }, Some(latest)) => latest.revision + 1,
        };
        let admission = self.admit(inbound, now).await?;
        let Some(household) = admission.household else {
            return Ok(Received::TurnedAway);
        };
        let name = match render::clean(&inbound.sender.name) {
            name if name.is_empty() => render::clean(&inbound.sender.id),
            name => name,
        };
        let member = self
            .transaction
            .ensure_member(household, inbound.channel, &inbound.sender.id, &name, now)
            .await?;
        let message = NewMessage {
            channel: inbound.channel,
            chat: &inbound.chat,
            external_id: &inbound.external_id,
            revision,
            kind: inbound.kind,
            sender: &inbound.sender.id,
            sender_name: &name,
            body: &inbound.text,
            reply_to: inbound.reply_to.as_deref(),
            topic: inbound.topic.as_deref(),
            private: inbound.private,
            forwarded: inbound.forwarded,
            sent_at: inbound.sent_at,
            received_at: now,
            household,
            member,
        };
        let Some(id) = self.transaction.store_message(&message).await? else {
            return Ok(Received::Repeated);
        };
        if edited {
            // What is known of its acts tells that it stands as it was written.
            self.transaction.forget(household);
        }
        if admission.by_code {
            self.transaction.make_keeper(household, member).await?;
            self.welcome(inbound, id, now).await?;
            return Ok(Received::LetIn);
        }
        Ok(Received::Stored(id))
    }
}
