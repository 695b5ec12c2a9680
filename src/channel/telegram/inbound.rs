//! What an update means for the service.

use chrono::{DateTime, Utc};
use teloxide::types::{
    CallbackQuery, CallbackQueryId, Chat, MediaKind, Message, MessageKind, ThreadId, Update,
    UpdateKind, User,
};

use super::CHANNEL;
use crate::service::{Inbound, Kind, Revision, Sender};

/// The General topic of a forum: a thread that sends must not name.
const GENERAL: i32 = 1;

#[derive(Debug)]
pub enum Event {
    /// Somebody wrote, or edited what they wrote.
    Said(Inbound),
    /// Somebody pressed a button, which wants an answer whatever comes of it.
    Pressed {
        press: CallbackQueryId,
        inbound: Option<Inbound>,
    },
    /// A group became a supergroup.
    Moved { old: String, new: String },
    /// Nothing that concerns this bot.
    Nothing,
}

/// `now` stands in for the time of a press, which carries none.
pub fn read(update: &Update, now: DateTime<Utc>) -> Event {
    let revision = Revision::Numbered(update.id.0.into());
    match &update.kind {
        UpdateKind::Message(message) => moved(message).unwrap_or_else(|| {
            let words = message.text().or(message.caption());
            said(message, words, revision)
        }),
        // A caption that was taken away is an edit to no words; so the books follow.
        UpdateKind::EditedMessage(message) => {
            let none = can_have_caption(message).then_some("");
            let words = message.text().or(message.caption()).or(none);
            said(message, words, revision)
        }
        UpdateKind::CallbackQuery(query) => Event::Pressed {
            press: query.id.clone(),
            inbound: pressed(query, revision, now),
        },
        _ => Event::Nothing,
    }
}

/// Both chats tell of a move, each from its side.
fn moved(message: &Message) -> Option<Event> {
    let here = message.chat.id.to_string();
    if let Some(new) = message.migrate_to_chat_id() {
        let new = new.to_string();
        return Some(Event::Moved { old: here, new });
    }
    let old = message.migrate_from_chat_id()?.to_string();
    Some(Event::Moved { old, new: here })
}

fn said(message: &Message, words: Option<&str>, revision: Revision) -> Event {
    let (Some(text), Some(sender)) = (words, sender(message)) else {
        return Event::Nothing;
    };
    let topic = topic(message);
    // In a topic, what replies to nothing replies to the message that opened it.
    let reply_to = message
        .reply_to_message()
        .map(|replied| replied.id)
        .filter(|id| message.thread_id != Some(ThreadId(*id)) || !message.is_topic_message);
    Event::Said(Inbound {
        channel: CHANNEL,
        chat: message.chat.id.to_string(),
        chat_name: chat_name(&message.chat),
        external_id: message.id.to_string(),
        revision,
        kind: Kind::Message,
        sender,
        text: text.to_owned(),
        reply_to: reply_to.map(|id| id.to_string()),
        topic,
        private: message.chat.is_private(),
        forwarded: message.forward_origin().is_some(),
        household_chat: None,
        sent_at: message.date,
    })
}

fn pressed(query: &CallbackQuery, revision: Revision, now: DateTime<Utc>) -> Option<Inbound> {
    let message = query.message.as_ref()?;
    Some(Inbound {
        channel: CHANNEL,
        chat: message.chat().id.to_string(),
        chat_name: chat_name(message.chat()),
        external_id: query.id.to_string(),
        revision,
        kind: Kind::Press,
        sender: person(&query.from),
        text: query.data.clone()?,
        reply_to: Some(message.id().to_string()),
        topic: message.regular_message().and_then(topic),
        private: message.chat().is_private(),
        forwarded: false,
        household_chat: None,
        sent_at: now,
    })
}

/// A group's administrator may write as the group, a member as their channel; other bots are not heard.
fn sender(message: &Message) -> Option<Sender> {
    if let Some(chat) = &message.sender_chat {
        let id = chat.id.to_string();
        let name = chat_name(chat).unwrap_or_else(|| id.clone());
        return Some(Sender { id, name });
    }
    let user = message.from.as_ref().filter(|user| !user.is_bot)?;
    Some(person(user))
}

fn person(user: &User) -> Sender {
    Sender {
        id: user.id.to_string(),
        name: user.full_name(),
    }
}

fn chat_name(chat: &Chat) -> Option<String> {
    let person = || {
        let names = [chat.first_name(), chat.last_name()];
        let name = names.into_iter().flatten().collect::<Vec<_>>().join(" ");
        (!name.is_empty()).then_some(name)
    };
    chat.title().map(str::to_owned).or_else(person)
}

/// The thread that an answer goes to. Outside of forums a thread is only a chain of replies.
fn topic(message: &Message) -> Option<String> {
    let ThreadId(root) = message.thread_id.filter(|_| message.is_topic_message)?;
    (root.0 != GENERAL).then(|| root.to_string())
}

fn can_have_caption(message: &Message) -> bool {
    let MessageKind::Common(common) = &message.kind else {
        return false;
    };
    matches!(
        common.media_kind,
        MediaKind::Animation(_)
            | MediaKind::Audio(_)
            | MediaKind::Document(_)
            | MediaKind::Photo(_)
            | MediaKind::Video(_)
            | MediaKind::Voice(_)
    )
}
