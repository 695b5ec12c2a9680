//! What an update, as `plain` has read it, means for the service.

use chrono::{DateTime, Utc};
use teloxide::types::{
    CallbackQuery, CallbackQueryId, Chat, Message, ThreadId, Update, UpdateKind, User,
};

use super::CHANNEL;
use crate::service::{Inbound, Kind, Revision, Sender};

/// What somebody says by leaving the group, and by coming back into it.
const LEAVES: &str = "/leave";
const RETURNS: &str = "/rejoin";

/// The General topic of a forum: a thread that sends must not name.
const GENERAL: i32 = 1;

#[derive(Debug)]
pub enum Event {
    /// Somebody wrote, or edited what they wrote.
    Said(Inbound),
    /// People left the group or came into it: what that means is told in their own words.
    WentOrCame(Vec<Inbound>),
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
        UpdateKind::Message(message) | UpdateKind::EditedMessage(message) => {
            let event = moved(message).or_else(|| went_or_came(message, revision));
            event.unwrap_or_else(|| said(message, revision))
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

/// Who is out of the group is at its table no more, and back at it when they come in again.
fn went_or_came(message: &Message, revision: Revision) -> Option<Event> {
    let left = message.left_chat_member().map(std::slice::from_ref);
    let (users, says) = match (left, message.new_chat_members()) {
        (Some(left), _) => (left, LEAVES),
        (None, Some(came)) => (came, RETURNS),
        (None, None) => return None,
    };
    let people = users.iter().filter(|user| !user.is_bot).map(person);
    let told = people.enumerate().map(|(place, sender)| {
        let mut inbound = inbound(message, revision, (says, sender));
        if place > 0 {
            inbound.external_id += &format!(".{place}");
        }
        inbound
    });
    Some(Event::WentOrCame(told.collect()))
}

fn said(message: &Message, revision: Revision) -> Event {
    match (message.text(), sender(message)) {
        (Some(text), Some(sender)) => Event::Said(inbound(message, revision, (text, sender))),
        _ => Event::Nothing,
    }
}

fn inbound(message: &Message, revision: Revision, (text, sender): (&str, Sender)) -> Inbound {
    let topic = topic(message);
    // In a topic, what replies to nothing replies to the message that opened it.
    let reply_to = message
        .reply_to_message()
        .map(|replied| replied.id)
        .filter(|id| message.thread_id != Some(ThreadId(*id)) || !message.is_topic_message);
    Inbound {
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
    }
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

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;
    use crate::channel::telegram::plain;

    #[track_caller]
    fn event(kind: &str, message: Value) -> Event {
        let arrived = plain::read(&json!({ "update_id": 9, kind: message })).unwrap();
        read(&arrived.update.unwrap(), DateTime::UNIX_EPOCH)
    }

    fn message(more: Value) -> Value {
        let mut message = json!({
            "message_id": 7, "date": 1_790_000_000,
            "chat": { "id": -1001, "type": "supergroup", "title": "Kitchen" },
            "from": { "id": 5, "is_bot": false, "first_name": "Robin", "last_name": "Ash" },
        });
        let fields = message.as_object_mut().unwrap();
        fields.extend(more.as_object().unwrap().clone());
        message
    }

    #[track_caller]
    fn inbound(kind: &str, more: Value) -> Inbound {
        match event(kind, message(more)) {
            Event::Said(inbound) => inbound,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_text_is_carried_over_whole() {
        let inbound = inbound("message", json!({ "text": "140 dal" }));
        assert_eq!(inbound.chat, "-1001");
        assert_eq!(inbound.chat_name.as_deref(), Some("Kitchen"));
        assert_eq!(inbound.external_id, "7");
        assert_eq!(inbound.revision, Revision::Numbered(9));
        assert_eq!(inbound.sender.id, "5");
        assert_eq!(inbound.sender.name, "Robin Ash");
        assert_eq!(inbound.text, "140 dal");
        assert!(!inbound.private && !inbound.forwarded);
        assert_eq!((inbound.reply_to, inbound.topic), (None, None));
        assert_eq!(inbound.sent_at.timestamp(), 1_790_000_000);
    }

    #[test]
    fn captions_are_read_like_messages() {
        let photo = json!([{ "file_id": "x", "file_unique_id": "y", "width": 1, "height": 1 }]);
        let with = json!({ "photo": photo, "caption": "140 dal" });
        assert_eq!(inbound("message", with.clone()).text, "140 dal");
        assert_eq!(inbound("edited_message", with).text, "140 dal");
        // Taken away in an edit, it takes what it said with it; a bare photo never said anything.
        let without = json!({ "photo": photo });
        assert_eq!(inbound("edited_message", without.clone()).text, "");
        assert!(matches!(event("message", message(without)), Event::Nothing));
    }

    #[test]
    fn a_topic_is_named_and_the_general_one_is_not() {
        let root = message(json!({ "message_id": 30, "text": "" }));
        let in_topic = inbound(
            "message",
            json!({ "text": "x", "message_thread_id": 30, "is_topic_message": true, "reply_to_message": root }),
        );
        assert_eq!(in_topic.topic.as_deref(), Some("30"));
        assert_eq!(in_topic.reply_to, None);
        let general = json!({ "text": "x", "message_thread_id": 1, "is_topic_message": true });
        assert_eq!(inbound("message", general).topic, None);
    }

    #[test]
    fn a_chain_of_replies_is_no_topic() {
        let root = message(json!({ "message_id": 30, "text": "" }));
        let reply = inbound(
            "message",
            json!({ "text": "x", "message_thread_id": 30, "reply_to_message": root }),
        );
        assert_eq!(reply.topic, None);
        assert_eq!(reply.reply_to.as_deref(), Some("30"));
    }

    #[test]
    fn a_group_that_moves_says_so_from_both_sides() {
        for more in [
            json!({ "chat": { "id": -5, "type": "group", "title": "Kitchen" }, "migrate_to_chat_id": -1001 }),
            json!({ "migrate_from_chat_id": -5 }),
        ] {
            match event("message", message(more)) {
                Event::Moved { old, new } => assert_eq!((&*old, &*new), ("-5", "-1001")),
                other => panic!("{other:?}"),
            }
        }
    }

    #[test]
    fn a_press_names_the_message_that_it_was_on() {
        let query = json!({ "id": "44", "chat_instance": "1", "data": "u8",
            "from": { "id": 5, "is_bot": false, "first_name": "Robin" },
            "message": message(json!({ "text": "x", "message_thread_id": 30, "is_topic_message": true })) });
        let Event::Pressed { press, inbound } = event("callback_query", query) else {
            panic!("no press")
        };
        let inbound = inbound.unwrap();
        assert_eq!(
            (press.to_string(), inbound.external_id.as_str()),
            ("44".to_owned(), "44")
        );
        assert_eq!((inbound.text.as_str(), inbound.kind), ("u8", Kind::Press));
        assert_eq!(inbound.reply_to.as_deref(), Some("7"));
        assert_eq!(inbound.topic.as_deref(), Some("30"));
    }

    #[test]
    fn a_press_on_a_message_that_is_too_old_to_see_is_still_a_press() {
        let query = json!({ "id": "44", "chat_instance": "1", "data": "u8",
            "from": { "id": 5, "is_bot": false, "first_name": "Robin" },
            "message": { "message_id": 7, "date": 0, "chat": { "id": 5, "type": "private", "first_name": "Robin" } } });
        match event("callback_query", query) {
            Event::Pressed {
                inbound: Some(inbound),
                ..
            } => assert!(inbound.private),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn who_leaves_the_group_or_comes_into_it_says_so_in_their_own_name() {
        let user = |id: i64, name: &str| json!({ "id": id, "is_bot": false, "first_name": name });
        let left = json!({ "left_chat_member": user(6, "Ana") });
        let Event::WentOrCame(went) = event("message", message(left)) else {
            panic!("nobody left")
        };
        assert_eq!(
            (went[0].sender.id.as_str(), went[0].text.as_str()),
            ("6", "/leave")
        );
        let bot = json!({ "id": 9, "is_bot": true, "first_name": "Bot" });
        let came = json!({ "new_chat_members": [bot, user(6, "Ana"), user(7, "Tom")] });
        let Event::WentOrCame(came) = event("message", message(came)) else {
            panic!("nobody came")
        };
        let told: Vec<_> = came
            .iter()
            .map(|it| {
                (
                    it.external_id.as_str(),
                    it.sender.name.as_str(),
                    it.text.as_str(),
                )
            })
            .collect();
        assert_eq!(told, [("7", "Ana", "/rejoin"), ("7.1", "Tom", "/rejoin")]);
    }

    #[test]
    fn a_forwarded_message_says_so() {
        let origin = json!({ "type": "hidden_user", "date": 1, "sender_user_name": "Somebody" });
        assert!(inbound("message", json!({ "text": "x", "forward_origin": origin })).forwarded);
    }

    #[test]
    fn an_administrator_may_write_as_the_group_and_bots_are_not_heard() {
        let group = json!({ "id": -1001, "type": "supergroup", "title": "Kitchen" });
        let bot = json!({ "id": 9, "is_bot": true, "first_name": "Bot" });
        let anonymous = inbound(
            "message",
            json!({ "text": "x", "from": bot, "sender_chat": group }),
        );
        assert_eq!(anonymous.sender.id, "-1001");
        assert_eq!(anonymous.sender.name, "Kitchen");
        let heard = event("message", message(json!({ "text": "x", "from": bot })));
        assert!(matches!(heard, Event::Nothing));
    }
}
