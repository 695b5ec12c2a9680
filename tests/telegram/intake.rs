//! What people do in chats, and what the books make of it.

use std::time::Duration;

use serde_json::{Value, json};

use crate::kitchen::{Chat, Kitchen};
use crate::methods::refusal;
use crate::server::Fault;

#[test]
fn an_update_that_was_booked_and_never_confirmed_is_booked_once() {
    let (mut kitchen, robin) = Kitchen::with_barley();
    // The poll that is open brings the message; every later one, which would confirm it, is cut.
    for _ in 0..50 {
        kitchen.server.fault("getupdates", Fault::CutBefore);
    }
    robin.says("140 barley");
    robin.hears("Left: 1340 g");
    assert!(!kitchen.server.state().all_confirmed());
    kitchen.kill();
    kitchen.server.state().clear_faults();
    kitchen.start();
    robin.says("what's left");
    robin.hears("1340 g, 9 portions");
    assert_eq!(kitchen.left(501), 1340.0);
}

#[test]
fn an_update_is_confirmed_only_after_it_is_stored() {
    let (mut kitchen, robin) = Kitchen::with_barley();
    kitchen.kill();
    robin.says("140 barley");
    // Handed out, and killed before or just after it can have been stored.
    for pause in [0, 2, 5, 10, 20, 40] {
        kitchen.start();
        kitchen.server.wait_for_poll();
        std::thread::sleep(Duration::from_millis(pause));
        kitchen.kill();
    }
    kitchen.start();
    robin.hears("Left: 1340 g");
    assert_eq!(kitchen.left(501), 1340.0);
}

#[test]
fn what_the_server_tells_twice_is_booked_once() {
    let (kitchen, robin) = Kitchen::with_barley();
    let update = {
        let id = robin.says("140 barley");
        robin.message(id, json!({ "text": "140 barley" }))
    };
    robin.hears("Left: 1340 g");
    kitchen.server.wait("it is confirmed", |state| {
        state.all_confirmed().then_some(())
    });
    let number = kitchen.server.last_update();
    // The same number again, as after a lost confirmation, among new ones.
    kitchen
        .server
        .raw_update(number, json!({ "update_id": number, "message": update }));
    robin.says("what's left");
    robin.hears("1340 g, 9 portions");
    assert_eq!(kitchen.left(501), 1340.0);
}

#[test]
fn every_poll_says_which_updates_it_wants() {
    let (kitchen, robin) = Kitchen::with_barley();
    robin.says("what's left");
    robin.hears("In stock");
    let polls = kitchen.server.state().calls_of("getupdates");
    assert!(polls.len() > 2);
    let wanted = json!(["message", "edited_message", "callback_query"]);
    assert!(
        polls
            .iter()
            .all(|poll| poll.params["allowed_updates"] == wanted),
        "{polls:?}"
    );
    assert!(
        polls
            .iter()
            .all(|poll| poll.params["timeout"].as_u64() >= Some(20))
    );
}

#[test]
fn an_unreadable_update_loses_nothing_behind_it() {
    let (kitchen, robin) = Kitchen::with_barley();
    let place = kitchen.server.last_update();
    let server = &kitchen.server;
    server.raw_update(
        place + 1,
        json!({ "update_id": place + 1, "novelty": { "a": 1 } }),
    );
    server.raw_update(
        place + 2,
        json!({ "update_id": place + 2, "message": { "text": 5 } }),
    );
    // This one makes the whole batch unreadable for the client's types.
    server.raw_update(
        place + 3,
        json!({ "update_id": "no number", "message": null }),
    );
    robin.says("140 barley");
    robin.hears("Left: 1340 g");
    kitchen.server.wait("all are passed", |state| {
        state.all_confirmed().then_some(())
    });
    robin.says("10 barley");
    robin.hears("1330 g");
}

#[test]
fn a_message_with_parts_of_a_new_kind_is_still_read() {
    let (_kitchen, robin) = Kitchen::with_barley();
    robin.sends(json!({
        "text": "140 barley",
        "entities": [{ "type": "sparkle", "offset": 0, "length": 3 }],
    }));
    robin.hears("Left: 1340 g");
}

#[test]
fn the_books_follow_every_edit() {
    let (kitchen, robin) = Kitchen::with_barley();
    let message = robin.says("140 barley");
    let (answer, first) = robin.hears("Left: 1340 g");
    for (text, left) in [
        ("104 barley", 1376),
        ("200 barley", 1280),
        ("140 barley", 1340),
    ] {
        robin.edits(message, text);
        let (edited, posted) = robin.hears(&format!("Left: {left} g"));
        assert_eq!(edited, answer, "the answer is edited, not repeated");
        assert!(posted.keyboard.is_some(), "an edit keeps its buttons");
        assert_eq!(kitchen.left(501), f64::from(left));
    }
    let again = kitchen.server.state().posted[&(501, answer)].clone();
    assert_eq!(again.text, first.text);
}

#[test]
fn an_edit_that_comes_before_its_original_wins() {
    let (mut kitchen, robin) = Kitchen::with_barley();
    kitchen.kill();
    let message = robin.says("140 barley");
    robin.edits(message, "104 barley");
    kitchen.start();
    robin.hears("Left: 1376 g");
    assert_eq!(kitchen.left(501), 1376.0);
}

#[test]
fn a_caption_is_read_like_a_message() {
    let (kitchen, robin) = Kitchen::with_barley();
    let photo = json!([{ "file_id": "x", "file_unique_id": "y", "width": 1, "height": 1 }]);
    let message = robin.sends(json!({ "photo": photo, "caption": "140 barley" }));
    robin.hears("Left: 1340 g");
    let more = json!({ "photo": photo, "edit_date": 1_790_000_000 });
    kitchen
        .server
        .update("edited_message", robin.message(message, more));
    kitchen.server.wait("the books have followed", |_| {
        (kitchen.left(501) == 1480.0).then_some(())
    });
}

#[test]
fn answers_stay_in_their_topic_and_the_general_one_is_not_named() {
    let kitchen = Kitchen::open();
    let group = Chat::supergroup(&kitchen.server, -1_001, "Robin");
    kitchen.let_in(&group);
    let topic = json!({ "text": "/help", "message_thread_id": 30, "is_topic_message": true });
    let asked = group.sends(topic);
    let under = |id: i64| {
        kitchen
            .server
            .wait("an answer under the question", |state| {
                state
                    .posted
                    .values()
                    .find(|posted| posted.under == Some(id))
                    .cloned()
            })
    };
    assert_eq!(under(asked).topic, Some(30));
    let general = json!({ "text": "/help", "message_thread_id": 1, "is_topic_message": true });
    let asked = group.sends(general);
    assert_eq!(under(asked).topic, None);
}

#[test]
fn a_reply_to_an_answer_is_about_it() {
    let (kitchen, robin) = Kitchen::with_barley();
    robin.says("140 barley");
    let (answer, posted) = robin.hears("Left: 1340 g");
    robin.says("threw away 60 g barley");
    robin.hears("1280 g");
    let replied: Value = json!({ "message_id": answer, "date": 1, "text": posted.text,
        "chat": { "id": 501, "type": "private", "first_name": "Robin" } });
    robin.sends(json!({ "text": "undo", "reply_to_message": replied }));
    kitchen.server.wait("the first portion is taken back", |_| {
        (kitchen.left(501) == 1420.0).then_some(())
    });
}

#[test]
fn a_group_that_becomes_a_supergroup_keeps_its_books() {
    let kitchen = Kitchen::open();
    let old = Chat::group(&kitchen.server, -77, "Robin");
    kitchen.let_in(&old);
    old.says("/batch barley, 500 g pearl barley, cooked 1480");
    old.hears("1480 g net");
    // What waits for the old chat goes to the new one.
    kitchen.server.refuse(
        -77,
        json!({ "ok": false, "error_code": 429, "description": "Too Many Requests",
        "parameters": { "retry_after": 2 } }),
    );
    old.says("@stove_side_bot 140 barley");
    kitchen.server.wait("an answer is tried", |state| {
        let last = state
            .calls
            .iter()
            .rev()
            .find(|call| call.method == "sendmessage")?;
        (last.answer.as_ref()?["ok"] == json!(false)).then_some(())
    });
    let mut gone = refusal(
        400,
        "Bad Request: group chat was upgraded to a supergroup chat",
    );
    gone["parameters"] = json!({ "migrate_to_chat_id": -1_077 });
    kitchen.server.refuse(-77, gone);
    old.sends(json!({ "migrate_to_chat_id": -1_077 }));
    let new = Chat::supergroup(&kitchen.server, -1_077, "Robin");
    new.sends(json!({ "migrate_from_chat_id": -77 }));
    new.hears("Left: 1340 g");
    new.says("@stove_side_bot 40 barley");
    new.hears("1300 g");
    assert_eq!(kitchen.left(-77), 1300.0);
    assert_eq!(kitchen.left(-1_077), 1300.0);
}

#[test]
fn in_a_group_it_answers_to_its_name_and_not_to_another() {
    let kitchen = Kitchen::open();
    let group = Chat::group(&kitchen.server, -77, "Robin");
    kitchen.let_in(&group);
    let elsewhere = group.says("/help@another_bot");
    let here = group.says("/help@stove_side_bot");
    kitchen.server.wait("an answer", |state| {
        let answered = |id: i64| state.posted.values().any(|posted| posted.under == Some(id));
        assert!(!answered(elsewhere));
        answered(here).then_some(())
    });
}
