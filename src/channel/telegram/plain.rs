//! An update cut down to what this bot reads, and then read as teloxide's type.
//!
//! The Bot API grows: a new kind of formatting or of attachment makes a message unreadable for a type
//! that is strict about it, or leaves it without its words. What this bot never looks at must not cost
//! a person the message, and one update must not cost those of its batch.

use serde_json::{Map, Value, json};
use teloxide::types::{Update, UpdateKind};

/// Attachments that can have a caption.
const MEDIA: [&str; 7] = [
    "animation",
    "audio",
    "document",
    "paid_media",
    "photo",
    "video",
    "voice",
];

/// An update, or only its number if nothing in it concerns this bot or can be read.
#[derive(Debug)]
pub struct Arrived {
    pub number: i32,
    pub update: Option<Update>,
}

/// `None` if it does not even have a number: it is passed with the next one that has.
pub fn read(value: &Value) -> Option<Arrived> {
    let number = i32::try_from(value["update_id"].as_i64()?).ok()?;
    let update = update(number, value);
    Some(Arrived { number, update })
}

fn update(number: i32, value: &Value) -> Option<Update> {
    let mut plain = Map::new();
    plain.insert("update_id".to_owned(), number.into());
    if let Some(said) = value.get("message") {
        plain.insert("message".to_owned(), message(said, None));
    } else if let Some(edited) = value.get("edited_message") {
        // A caption that was taken away is an edit to no words; so the books follow.
        let media = MEDIA.iter().any(|kind| edited.get(kind).is_some());
        let unsaid = media.then_some("");
        plain.insert("edited_message".to_owned(), message(edited, unsaid));
    } else if let Some(press) = value.get("callback_query") {
        let mut kept = keep(press, &["id", "chat_instance", "data"]);
        kept.insert("from".to_owned(), user(&press["from"]));
        if let Some(on) = press.get("message") {
            kept.insert("message".to_owned(), message(on, Some("")));
        }
        plain.insert("callback_query".to_owned(), kept.into());
    }
    // As text: the type borrows its keys, and finds none in a value.
    let update: Update = serde_json::from_str(&Value::from(plain).to_string()).ok()?;
    (!matches!(update.kind, UpdateKind::Error(_))).then_some(update)
}

/// Captions are read like texts. `unsaid` stands in where there is neither.
fn message(value: &Value, unsaid: Option<&str>) -> Value {
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
    let words = value.get("text").or_else(|| value.get("caption")).cloned();
    if let Some(words) = words.or_else(|| unsaid.map(Value::from)) {
        kept.insert("text".to_owned(), words);
    }
    if let Some(from) = value.get("from") {
        kept.insert("from".to_owned(), user(from));
    }
    if let Some(left) = value.get("left_chat_member") {
        kept.insert("left_chat_member".to_owned(), user(left));
    }
    if let Some(came) = value.get("new_chat_members").and_then(Value::as_array) {
        let came: Vec<Value> = came.iter().map(user).collect();
        kept.insert("new_chat_members".to_owned(), came.into());
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
    let names = ["id", "type", "title", "first_name", "last_name"];
    keep(value, &names).into()
}

fn user(value: &Value) -> Value {
    let names = ["id", "is_bot", "first_name", "last_name"];
    keep(value, &names).into()
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

    #[track_caller]
    fn updated(value: Value) -> Option<UpdateKind> {
        Some(read(&value).expect("it has a number").update?.kind)
    }

    #[test]
    fn a_message_with_strange_parts_keeps_its_words() {
        let read = updated(json!({ "update_id": 9, "message": strange() }));
        let Some(UpdateKind::Message(message)) = read else {
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
        assert!(matches!(updated(press), Some(UpdateKind::CallbackQuery(_))));
    }

    #[test]
    fn what_is_no_message_at_all_is_only_a_number() {
        assert!(updated(json!({ "update_id": 9, "message": { "text": "x" } })).is_none());
        assert!(updated(json!({ "update_id": 9, "message": null })).is_none());
        assert!(updated(json!({ "update_id": 9, "novelty": {} })).is_none());
        assert!(read(&json!({ "message": strange() })).is_none());
        assert!(read(&json!({ "update_id": "nine" })).is_none());
    }
}
