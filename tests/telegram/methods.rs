//! The methods of the Bot API, as strict as the documentation says they are.

use serde_json::{Value, json};

use crate::server::{Posted, State, USERNAME};

/// A part of the list of reactions that a bot may set (Bot API, ReactionTypeEmoji).
const REACTIONS: [&str; 6] = ["👍", "👎", "❤", "👀", "👌", "✍"];

pub fn answer(state: &mut State, method: &str, params: &Value) -> Value {
    let done = match method {
        "getme" => Ok(me(state)),
        "sendmessage" => send(state, params, "text"),
        "senddocument" if is_png(&params["document"]) => send(state, params, "caption"),
        "sendphoto" if is_png(&params["photo"]) => send(state, params, "caption"),
        "editmessagetext" => edit(state, params),
        "deletemessage" => delete(state, params),
        "pinchatmessage" => pin(state, params),
        "unpinchatmessage" => unpin(state, params),
        "setmessagereaction" => react(state, params),
        "answercallbackquery" if params["callback_query_id"].is_string() => Ok(json!(true)),
        _ => Err(refusal(404, "Not Found")),
    };
    match done {
        Ok(result) => json!({ "ok": true, "result": result }),
        Err(refusal) => refusal,
    }
}

pub fn refusal(code: u16, description: &str) -> Value {
    json!({ "ok": false, "error_code": code, "description": description })
}

fn bad(description: &str) -> Value {
    refusal(400, &format!("Bad Request: {description}"))
}

fn me(state: &State) -> Value {
    json!({
        "id": 4_839_201, "is_bot": true, "first_name": "Stove", "username": USERNAME,
        "can_join_groups": true, "can_read_all_group_messages": state.hears_all,
        "supports_inline_queries": false, "has_main_web_app": false,
    })
}

fn is_png(file: &Value) -> bool {
    let first = file["bytes"]
        .as_array()
        .is_some_and(|bytes| bytes.starts_with(&[137.into(), 80.into()]));
    first
        && file["file_name"]
            .as_str()
            .is_some_and(|name| name.ends_with(".png"))
}

/// `words` is the parameter that holds them.
fn send(state: &mut State, params: &Value, words: &str) -> Result<Value, Value> {
    let chat = params["chat_id"]
        .as_i64()
        .ok_or_else(|| bad("chat_id is empty"))?;
    if let Some(refusal) = state.refusal(chat) {
        return Err(refusal);
    }
    let topic = params.get("message_thread_id").and_then(Value::as_i64);
    if topic == Some(1) {
        return Err(bad("message thread not found"));
    }
    let posted = Posted {
        text: visible(params, words)?,
        html: params[words].as_str().unwrap_or_default().to_owned(),
        keyboard: keyboard(params)?,
        topic,
        silent: params["disable_notification"] == json!(true),
        under: params["reply_parameters"]["message_id"].as_i64(),
    };
    let id = state.next_message_id(chat);
    let result = message(chat, id, &posted);
    state.posted.insert((chat, id), posted);
    Ok(result)
}

fn edit(state: &mut State, params: &Value) -> Result<Value, Value> {
    let chat = params["chat_id"]
        .as_i64()
        .ok_or_else(|| bad("chat_id is empty"))?;
    if let Some(refusal) = state.refusal(chat) {
        return Err(refusal);
    }
    let id = params["message_id"].as_i64().unwrap_or_default();
    let (text, keyboard) = (visible(params, "text")?, keyboard(params)?);
    let posted = state
        .posted
        .get_mut(&(chat, id))
        .ok_or_else(|| bad("message to edit not found"))?;
    let html = params["text"].as_str().unwrap_or_default();
    if posted.html == html && posted.keyboard == keyboard {
        return Err(bad(
            "message is not modified: specified new message content and reply markup are exactly the \
             same as a current content and reply markup of the message",
        ));
    }
    html.clone_into(&mut posted.html);
    posted.text = text;
    posted.keyboard = keyboard;
    Ok(message(chat, id, posted))
}

fn delete(state: &mut State, params: &Value) -> Result<Value, Value> {
    let chat = params["chat_id"]
        .as_i64()
        .ok_or_else(|| bad("chat_id is empty"))?;
    let id = params["message_id"].as_i64().unwrap_or_default();
    match state.posted.remove(&(chat, id)) {
        Some(_) => Ok(json!(true)),
        None => Err(bad("message to delete not found")),
    }
}

fn pin(state: &mut State, params: &Value) -> Result<Value, Value> {
    let (chat, id) = place(state, params)?;
    if state.unpinnable.contains(&chat) {
        return Err(bad(
            "not enough rights to manage pinned messages in the chat",
        ));
    }
    if !state.posted.contains_key(&(chat, id)) {
        return Err(bad("message to pin not found"));
    }
    if params["disable_notification"] != json!(true) {
        return Err(bad("these tests expect a pin without sound"));
    }
    state.pinned.retain(|pinned| *pinned != (chat, id));
    state.pinned.push((chat, id));
    Ok(json!(true))
}

fn unpin(state: &mut State, params: &Value) -> Result<Value, Value> {
    let (chat, id) = place(state, params)?;
    if !state.pinned.contains(&(chat, id)) {
        return Err(bad("message to unpin not found"));
    }
    state.pinned.retain(|pinned| *pinned != (chat, id));
    Ok(json!(true))
}

/// The chat, if it may be written in, and the message.
fn place(state: &State, params: &Value) -> Result<(i64, i64), Value> {
    let chat = params["chat_id"].as_i64();
    let chat = chat.ok_or_else(|| bad("chat_id is empty"))?;
    match state.refusal(chat) {
        Some(refusal) => Err(refusal),
        None => Ok((chat, params["message_id"].as_i64().unwrap_or_default())),
    }
}

fn react(state: &mut State, params: &Value) -> Result<Value, Value> {
    let chat = params["chat_id"]
        .as_i64()
        .ok_or_else(|| bad("chat_id is empty"))?;
    if let Some(refusal) = state.refusal(chat) {
        return Err(refusal);
    }
    let id = params["message_id"].as_i64().unwrap_or_default();
    let emoji = params["reaction"][0]["emoji"].as_str().unwrap_or_default();
    if !REACTIONS.contains(&emoji) {
        return Err(bad("REACTION_INVALID"));
    }
    state.reactions.push((chat, id, emoji.to_owned()));
    Ok(json!(true))
}

fn message(chat: i64, id: i64, posted: &Posted) -> Value {
    let kind = match chat {
        1.. => json!({ "id": chat, "type": "private", "first_name": "Somebody" }),
        -999..1 => json!({ "id": chat, "type": "group", "title": "Kitchen" }),
        _ => json!({ "id": chat, "type": "supergroup", "title": "Kitchen" }),
    };
    json!({ "message_id": id, "date": 1_790_000_000, "chat": kind, "text": posted.text,
            "from": { "id": 4_839_201, "is_bot": true, "first_name": "Stove", "username": USERNAME } })
}

/// The text without its markup: only `<b>` and the three entities are known here.
fn visible(params: &Value, words: &str) -> Result<String, Value> {
    if params["parse_mode"] != json!("HTML") {
        return Err(bad("these tests expect HTML"));
    }
    let mut rest = params[words].as_str().unwrap_or_default();
    let (mut text, mut bold) = (String::new(), false);
    while let Some(first) = rest.chars().next() {
        let known = match (first, bold) {
            ('<', false) => rest.strip_prefix("<b>").map(|rest| (None, rest, true)),
            ('<', true) => rest.strip_prefix("</b>").map(|rest| (None, rest, false)),
            ('&', _) => [("&lt;", '<'), ("&gt;", '>'), ("&amp;", '&')]
                .into_iter()
                .find_map(|(entity, is)| Some((Some(is), rest.strip_prefix(entity)?, bold))),
            ('>', _) => None,
            (other, _) => Some((Some(other), &rest[other.len_utf8()..], bold)),
        };
        let (character, left, is_bold) = known.ok_or_else(|| bad("can't parse entities: test"))?;
        text.extend(character);
        (rest, bold) = (left, is_bold);
    }
    if bold {
        return Err(bad("can't parse entities: an open tag"));
    }
    match text.chars().map(char::len_utf16).sum::<usize>() {
        _ if text.trim().is_empty() => Err(bad("message text is empty")),
        4097.. => Err(bad("message is too long")),
        _ => Ok(text),
    }
}

fn keyboard(params: &Value) -> Result<Option<Value>, Value> {
    let Some(markup) = params.get("reply_markup") else {
        return Ok(None);
    };
    let rows = markup["inline_keyboard"]
        .as_array()
        .ok_or_else(|| bad("no keyboard"))?;
    for button in rows
        .iter()
        .flat_map(|row| row.as_array().into_iter().flatten())
    {
        let data = button["callback_data"].as_str().unwrap_or_default();
        if data.is_empty() || data.len() > 64 || button["text"].as_str().is_none_or(str::is_empty) {
            return Err(bad("BUTTON_DATA_INVALID"));
        }
    }
    Ok(Some(markup.clone()))
}
