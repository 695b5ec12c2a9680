//! Updates that teloxide's types cannot hold, read for the little that this bot needs.
//!
//! The Bot API grows: a new kind of formatting, or of attachment, makes a message unreadable as a
//! whole for a type that is strict about it. What this bot never looks at must not cost a person the
//! message. So what is needed is copied into an update of the plainest kind, and that is read.

use serde_json::{Map, Value, json};
use teloxide::types::{Update, UpdateKind};

use super::api::Arrived;

/// An update of a batch that could not be read as a whole; `None` if it does not even have a number.
pub fn arrived(value: &Value) -> Option<Arrived> {
    let number = u32::try_from(value["update_id"].as_u64()?).ok()?;
    Some(Arrived {
        number,
        update: update(number, value),
    })
}

/// The update without whatever is not needed, if that can be read.
pub fn update(number: u32, value: &Value) -> Option<Update> {
    let mut plain = Map::new();
    plain.insert("update_id".to_owned(), number.into());
    for kind in ["message", "edited_message"] {
        if let Some(found) = value.get(kind) {
            plain.insert(kind.to_owned(), message(found));
        }
    }
    if let Some(press) = value.get("callback_query") {
        let mut kept = keep(press, &["id", "chat_instance", "data"]);
        kept.insert("from".to_owned(), user(&press["from"]));
        if let Some(found) = press.get("message") {
            kept.insert("message".to_owned(), message(found));
        }
        plain.insert("callback_query".to_owned(), kept.into());
    }
    // As text: the type borrows its keys, and finds none in a value.
    let update: Update = serde_json::from_str(&Value::from(plain).to_string()).ok()?;
    (!matches!(update.kind, UpdateKind::Error(_))).then_some(update)
}

fn message(value: &Value) -> Value {
    let mut kept = keep(
        value,
        &[
            "message_id",
            "message_thread_id",
            "is_topic_message",
            "date",
            "edit_date",
            "migrate_to_chat_id",
            "migrate_from_chat_id",
        ],
    );
    kept.insert("chat".to_owned(), chat(&value["chat"]));
    if let Some(text) = value.get("text").or_else(|| value.get("caption")) {
        kept.insert("text".to_owned(), text.clone());
    }
    if let Some(from) = value.get("from") {
        kept.insert("from".to_owned(), user(from));
    }
    if let Some(sender) = value.get("sender_chat") {
        kept.insert("sender_chat".to_owned(), chat(sender));
    }
    if value.get("forward_origin").is_some() {
        // Only that it was forwarded counts, not from whom.
        let origin = json!({ "type": "hidden_user", "date": 0, "sender_user_name": "" });
        kept.insert("forward_origin".to_owned(), origin);
    }
    if let Some(replied) = value.get("reply_to_message") {
        let mut plain = keep(replied, &["message_id", "message_thread_id", "date"]);
        plain.insert("chat".to_owned(), chat(&replied["chat"]));
        plain.insert("text".to_owned(), "".into());
        kept.insert("reply_to_message".to_owned(), plain.into());
    }
    kept.into()
}

fn chat(value: &Value) -> Value {
    keep(
        value,
        &["id", "type", "title", "first_name", "last_name", "username"],
    )
    .into()
}

fn user(value: &Value) -> Value {
    keep(
        value,
        &["id", "is_bot", "first_name", "last_name", "username"],
    )
    .into()
}

fn keep(value: &Value, names: &[&str]) -> Map<String, Value> {
    names
        .iter()
        .filter_map(|name| Some(((*name).to_owned(), value.get(name)?.clone())))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn strange() -> Value {
        json!({
            "message_id": 7, "date": 1_790_000_000, "message_thread_id": 3, "is_topic_message": true,
            "chat": { "id": -1001, "type": "supergroup", "title": "Kitchen", "new_thing": [] },
            "from": { "id": 5, "is_bot": false, "first_name": "Robin", "badge": {} },
            "caption": "140 dal", "hologram": { "file_id": 1 },
            "caption_entities": [{ "type": "sparkle", "offset": 0, "length": 3 }],
            "reply_to_message": { "message_id": 6, "date": 1, "hologram": {},
                                  "chat": { "id": -1001, "type": "supergroup", "title": "Kitchen" } },
        })
    }

    #[test]
    fn a_message_with_strange_parts_keeps_its_words() {
        let read = update(9, &json!({ "update_id": 9, "message": strange() })).unwrap();
        let UpdateKind::Message(message) = read.kind else {
            panic!("{read:?}")
        };
        assert_eq!(message.text(), Some("140 dal"));
        assert_eq!(message.reply_to_message().unwrap().id.0, 6);
        assert!(message.is_topic_message && message.forward_origin().is_none());
    }

    #[test]
    fn a_press_on_a_strange_message_stays_a_press() {
        let press = json!({ "update_id": 9, "callback_query": {
            "id": "44", "chat_instance": "1", "data": "u1", "novelty": 1,
            "from": { "id": 5, "is_bot": false, "first_name": "Robin" }, "message": strange() } });
        assert!(matches!(
            update(9, &press).unwrap().kind,
            UpdateKind::CallbackQuery(_)
        ));
    }

    #[test]
    fn what_is_no_message_at_all_stays_unread() {
        assert!(update(9, &json!({ "update_id": 9, "message": { "text": "x" } })).is_none());
        assert!(update(9, &json!({ "update_id": 9, "novelty": {} })).is_none());
        assert!(
            arrived(&json!({ "update_id": 9, "novelty": {} }))
                .unwrap()
                .update
                .is_none()
        );
        assert!(arrived(&json!({ "message": strange() })).is_none());
    }
}
