//! The board that hangs in a chat.

use std::time::{Duration, Instant};

use hobside::render;
use serde_json::json;

use crate::kitchen::{Chat, Kitchen};
use crate::server::{Fault, Posted, Server, State};

/// Wait for a board in the chat that says so; gives its id.
#[track_caller]
fn board(server: &Server, chat: i64, words: &str) -> (i64, Posted) {
    server.wait(&format!("a board with {words:?} in {chat}"), |state| {
        let mut boards = state.boards(chat).into_iter();
        boards.find(|(_, board)| board.text.contains(words))
    })
}

/// How often a message was edited.
fn edits(state: &State, message: i64) -> usize {
    let edits = state.calls_of("editmessagetext").into_iter();
    let of_it = edits.filter(|call| call.params["message_id"] == json!(message));
    of_it.filter(|call| call.is_done()).count()
}

#[track_caller]
fn pinned(server: &Server, chat: i64, message: i64) {
    server.wait("the board is pinned", |state| {
        state.pinned.contains(&(chat, message)).then_some(())
    });
}

#[test]
fn a_board_is_hung_up_and_edited_in_place() {
    let (kitchen, robin) = Kitchen::with_barley();
    let server = &kitchen.server;
    let (id, hung) = board(server, 501, "1480 g");
    assert!(
        hung.silent && hung.under.is_none() && hung.keyboard.is_none(),
        "{hung:?}"
    );
    pinned(server, 501, id);
    robin.says("140 barley");
    let (edited, _) = board(server, 501, "1340 g, 9 portions");
    assert_eq!(edited, id);
    robin.says("froze 600 of the barley");
    let (_, last) = board(server, 501, "Frozen:");
    assert!(last.text.contains("740 g"), "{}", last.text);
    // A question, and what is no message for the books, edit nothing.
    let before = edits(&server.state(), id);
    robin.says("what's left");
    robin.hears("In stock");
    std::thread::sleep(Duration::from_secs(8));
    assert_eq!(edits(&server.state(), id), before);
    assert_eq!(server.state().boards(501).len(), 1);
    assert_eq!(server.state().calls_of("pinchatmessage").len(), 1);
}

#[test]
fn a_burst_of_a_hundred_messages_is_a_few_edits() {
    let (kitchen, robin) = Kitchen::with_barley();
    let server = &kitchen.server;
    let (id, _) = board(server, 501, "1480 g");
    let before = edits(&server.state(), id);
    let start = Instant::now();
    for tenth in 1..=100 {
        robin.says(&format!("{:.1} g barley", 5.0 + f64::from(tenth) / 10.0));
    }
    // 1480 g less a hundred portions of 5.1 g to 15 g.
    let (edited, _) = board(server, 501, "475 g");
    assert_eq!(edited, id);
    // It shows before its edit is answered.
    server.wait("its edit is answered", |state| {
        (edits(state, id) > before).then_some(())
    });
    let (edits, seconds) = (
        edits(&server.state(), id) - before,
        start.elapsed().as_secs(),
    );
    let most = 2 + usize::try_from(seconds / 5).unwrap();
    assert!((1..=most).contains(&edits), "{edits} edits in {seconds} s");
    assert!(edits <= 10, "{edits} edits in {seconds} s");
}

#[test]
fn a_board_that_somebody_deleted_is_hung_up_anew() {
    let (kitchen, robin) = Kitchen::with_barley();
    let server = &kitchen.server;
    let (id, _) = board(server, 501, "1480 g");
    pinned(server, 501, id);
    server.state().posted.remove(&(501, id));
    robin.says("140 barley");
    let (new, _) = board(server, 501, "1340 g");
    assert_ne!(new, id);
    pinned(server, 501, new);
    robin.says("100 barley");
    assert_eq!(board(server, 501, "1240 g").0, new);
}

#[test]
fn without_the_right_to_pin_it_hangs_all_the_same() {
    let kitchen = Kitchen::open();
    let robin = Chat::group(&kitchen.server, -77, "Robin");
    kitchen.server.state().unpinnable.push(-77);
    kitchen.let_in(&robin);
    robin.says("@stove_side_bot batch barley, 500 g pearl barley, cooked 1480");
    let (id, _) = board(&kitchen.server, -77, "1480 g");
    let said = render::board_not_pinned();
    robin.hears(&said);
    kitchen.server.state().posted.remove(&(-77, id));
    robin.says("@stove_side_bot 140 barley");
    board(&kitchen.server, -77, "1340 g");
    robin.says("@stove_side_bot 100 barley");
    board(&kitchen.server, -77, "1240 g");
    let texts = kitchen.server.state().texts(-77);
    assert_eq!(texts.iter().filter(|text| **text == said).count(), 1);
}

#[test]
fn a_household_may_want_no_board() {
    let (kitchen, robin) = Kitchen::with_barley();
    let server = &kitchen.server;
    let (id, _) = board(server, 501, "1480 g");
    pinned(server, 501, id);
    robin.says("no board");
    let (away, _) = robin.hears(&render::board_put_away());
    assert_eq!(away, id);
    assert!(server.state().pinned.is_empty());
    robin.says("140 barley");
    robin.hears("Left: 1340 g");
    std::thread::sleep(Duration::from_secs(6));
    assert!(server.state().boards(501).is_empty());
    robin.says("board");
    let (new, _) = board(server, 501, "1340 g");
    assert_ne!(new, id);
    pinned(server, 501, new);
}

#[test]
fn a_crash_loses_no_edit() {
    let (mut kitchen, robin) = Kitchen::with_barley();
    let (id, _) = board(&kitchen.server, 501, "1480 g");
    pinned(&kitchen.server, 501, id);
    // The edit is carried out, and nobody learns of it.
    kitchen.server.fault("editmessagetext", Fault::CutAfter);
    robin.says("140 barley");
    board(&kitchen.server, 501, "1340 g");
    robin.says("100 barley");
    robin.hears("Left: barley 1240 g");
    kitchen.kill();
    kitchen.start();
    assert_eq!(board(&kitchen.server, 501, "1240 g").0, id);
    assert_eq!(kitchen.server.state().boards(501).len(), 1);
}

#[test]
fn a_crash_before_the_first_board_is_known_to_be_sent_leaves_one_board() {
    let (mut kitchen, robin) = Kitchen::with_barley();
    // The first message of the board is in the chat, and nobody learns of it.
    kitchen.server.fault("sendmessage", Fault::CutAfter);
    kitchen
        .server
        .wait("the first message of the board", |state| {
            let posted = state.posted.values();
            let mut texts = posted.map(|posted| posted.text.as_str());
            texts
                .any(|text| text == render::board_coming())
                .then_some(())
        });
    kitchen.kill();
    kitchen.start();
    let (id, _) = board(&kitchen.server, 501, "1480 g");
    pinned(&kitchen.server, 501, id);
    robin.says("140 barley");
    assert_eq!(board(&kitchen.server, 501, "1340 g").0, id);
    assert_eq!(kitchen.server.state().boards(501).len(), 1);
}

#[test]
fn in_a_group_with_topics_it_hangs_where_its_household_talks() {
    let kitchen = Kitchen::open();
    let group = Chat::supergroup(&kitchen.server, -1_001, "Robin");
    kitchen.let_in(&group);
    let text = "@stove_side_bot batch barley, 500 g pearl barley, cooked 1480";
    group.sends(json!({ "text": text, "message_thread_id": 30, "is_topic_message": true }));
    let (id, hung) = board(&kitchen.server, -1_001, "1480 g");
    assert_eq!(hung.topic, Some(30));
    pinned(&kitchen.server, -1_001, id);
}

#[test]
fn each_chat_of_a_household_has_its_board() {
    let (kitchen, robin) = Kitchen::with_barley();
    let server = &kitchen.server;
    board(server, 501, "1480 g");
    let group = Chat::group(server, -77, "Robin");
    group.says(&format!("/start@stove_side_bot {}", kitchen.invite()));
    let (there, _) = board(server, -77, "1480 g");
    robin.says("140 barley");
    board(server, 501, "1340 g");
    assert_eq!(board(server, -77, "1340 g").0, there);
}

#[test]
fn a_board_goes_along_with_a_group() {
    let kitchen = Kitchen::open();
    let server = &kitchen.server;
    let robin = Chat::group(server, -77, "Robin");
    kitchen.let_in(&robin);
    robin.says("@stove_side_bot batch barley, 500 g pearl barley, cooked 1480");
    board(server, -77, "1480 g");
    let moved = json!({ "ok": false, "error_code": 400,
        "description": "Bad Request: group chat was upgraded to a supergroup chat",
        "parameters": { "migrate_to_chat_id": -1_007_700 } });
    server.refuse(-77, moved);
    robin.says("@stove_side_bot 140 barley");
    let (id, _) = board(server, -1_007_700, "1340 g");
    pinned(server, -1_007_700, id);
    assert_eq!(server.state().boards(-1_007_700).len(), 1);
}
