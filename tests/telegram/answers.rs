//! How answers look in a chat.

use hobside::render;
use serde_json::json;

use crate::kitchen::{Chat, Kitchen};
use crate::server::{Call, Fault, Server, State};

#[test]
fn what_people_type_cannot_become_markup() {
    let (kitchen, robin) = Kitchen::with_barley();
    robin.says("batch <b>rice</b> & <i>peas, 500 g white rice, cooked 1400");
    let (_, posted) = robin.hears("1400 g net");
    assert!(
        posted.html.contains("&amp;") && posted.html.contains("<b>"),
        "{posted:?}"
    );
    let robin = Chat::private(&kitchen.server, 502, "<b>Ana</b> & Co");
    robin.says(&format!("/start {}", kitchen.invite()));
    robin.hears(&render::invite_accepted());
    robin.says("batch barley, 500 g pearl barley, cooked 1480");
    robin.hears("1480 g net");
    robin.says("140 barley");
    robin.hears("Left: 1340 g");
}

#[test]
fn a_long_answer_is_cut_between_lines_with_its_buttons_at_the_end() {
    let server = Server::start();
    server.state().hears_all = true;
    let mut kitchen = Kitchen::closed(server);
    kitchen.start();
    let robin = Chat::group(&kitchen.server, -77, "Robin");
    kitchen.let_in(&robin);
    let lines = ["10 g pearl barley"; 60].join(", ");
    robin.says(&format!("batch strong broth, {lines}, cooked 900"));
    let last = kitchen.server.wait("an answer in parts", |state| {
        let sent = state.calls_of("sendmessage");
        let last = sent.last()?;
        let whole = last.params["text"].as_str()?.contains("60. 10 g");
        (whole && last.answer.is_some()).then(|| last.clone())
    });
    assert!(last.params["reply_markup"].is_object());
    let texts = kitchen.server.state().texts(-77);
    let parts = &texts[texts
        .iter()
        .position(|text| text.contains("strong broth"))
        .unwrap()..];
    assert!(parts.len() > 1, "{parts:?}");
    let before: Vec<_> = {
        let state = kitchen.server.state();
        let posted: Vec<_> = state.posted.values().cloned().collect();
        posted[posted.len() - parts.len()..posted.len() - 1].to_vec()
    };
    assert!(before.iter().all(|posted| posted.keyboard.is_none()));
    // Every line is there once and whole.
    let text = parts.join("\n");
    for line in 1..=60 {
        assert_eq!(
            text.matches(&format!("\n{line}. 10 g")).count(),
            1,
            "line {line} of {text}"
        );
    }
}

#[test]
fn weighings_are_answered_without_sound() {
    let (_kitchen, robin) = Kitchen::with_barley();
    robin.says("140 barley");
    assert!(robin.hears("Left: 1340 g").1.silent);
    robin.says("what's left");
    assert!(!robin.hears("In stock").1.silent);
}

#[test]
fn a_button_takes_back_and_stops_waiting() {
    let (kitchen, robin) = Kitchen::with_barley();
    robin.says("140 barley");
    let (answer, posted) = robin.hears("Left: 1340 g");
    let button = &posted.keyboard.unwrap()["inline_keyboard"][0][0];
    assert_eq!(button["text"], json!("Undo"));
    robin.presses(answer, button["callback_data"].as_str().unwrap());
    kitchen.server.wait("the press is answered", |state| {
        (!state.calls_of("answercallbackquery").is_empty()).then_some(())
    });
    let put_back = kitchen.server.wait("a way back", |state| {
        let mut buttons = state.posted.iter().filter_map(|((_, id), posted)| {
            let button = posted.keyboard.as_ref()?["inline_keyboard"][0][0].clone();
            (button["text"] == json!("Put it back")).then(|| (*id, button["callback_data"].clone()))
        });
        buttons.next()
    });
    assert_eq!(kitchen.left(501), 1480.0);
    robin.presses(put_back.0, put_back.1.as_str().unwrap());
    kitchen.server.wait("it is back", |_| {
        (kitchen.left(501) == 1340.0).then_some(())
    });
}

#[test]
fn an_edit_whose_answer_is_gone_is_answered_anew() {
    let (kitchen, robin) = Kitchen::with_barley();
    let message = robin.says("140 barley");
    let (answer, _) = robin.hears("Left: 1340 g");
    kitchen.server.state().posted.remove(&(501, answer));
    robin.edits(message, "104 barley");
    let (new, posted) = robin.hears("Left: 1376 g");
    assert!(new != answer && posted.keyboard.is_some());
    // The new message is the answer from now on.
    robin.edits(message, "100 barley");
    let (edited, _) = robin.hears("Left: 1380 g");
    assert_eq!(edited, new);
}

#[test]
fn an_answer_in_several_parts_is_edited_part_by_part() {
    let (kitchen, robin) = Kitchen::with_barley();
    let batch = |lines: usize, cooked: u32| {
        let lines = vec!["10 g pearl barley"; lines].join(", ");
        format!("batch strong broth, {lines}, cooked {cooked}")
    };
    let message = robin.says(&batch(60, 900));
    let parts = |state: &State| -> Vec<i64> {
        let posted = state.posted.iter().filter(|(_, posted)| !posted.is_board());
        let after = posted.filter(|((chat, id), _)| *chat == 501 && *id > message);
        let mut ids: Vec<i64> = after.map(|((_, id), _)| *id).collect();
        ids.sort_unstable();
        ids
    };
    let first = kitchen.server.wait("two parts", |state| {
        Some(parts(state)).filter(|parts| parts.len() == 2)
    });
    robin.edits(message, &batch(60, 800));
    let (edited, posted) = robin.hears("800 g net");
    assert_eq!((edited, posted.keyboard.is_some()), (first[0], false));
    assert_eq!(parts(&kitchen.server.state()), first);
    robin.edits(message, &batch(2, 30));
    let (edited, posted) = robin.hears("30 g net");
    assert_eq!((edited, posted.keyboard.is_some()), (first[0], true));
    kitchen.server.wait("the second part is gone", |state| {
        (parts(state) == first[..1]).then_some(())
    });
}

#[test]
fn an_edit_that_changes_nothing_is_sent_once() {
    let (kitchen, robin) = Kitchen::with_barley();
    let message = robin.says("140 barley");
    robin.hears("Left: 1340 g");
    robin.edits(message, "140  barley");
    robin.says("what's left");
    robin.hears("In stock");
    let edits = kitchen.server.state().calls_of("editmessagetext");
    assert!(edits.len() <= 1, "{edits:?}");
    assert_eq!(kitchen.left(501), 1340.0);
}

#[test]
fn a_household_may_like_bare_reactions() {
    let (kitchen, robin) = Kitchen::with_barley();
    robin.says("answers reaction");
    robin.hears("a reaction");
    let message = robin.says("140 barley");
    kitchen.server.wait("a reaction", |state| {
        let (chat, on, _) = state.reactions.first()?;
        ((*chat, *on) == (501, message)).then_some(())
    });
    let heard = kitchen.server.state().texts(501);
    assert!(
        heard.iter().all(|text| !text.contains("1340 g")),
        "{heard:?}"
    );
    assert_eq!(kitchen.left(501), 1340.0);
}

#[test]
fn where_reactions_are_refused_a_short_message_stands_in() {
    let (kitchen, robin) = Kitchen::with_barley();
    robin.says("answers reaction");
    robin.hears("a reaction");
    let refused = r#"{"ok":false,"error_code":400,"description":"Bad Request: REACTION_INVALID"}"#;
    kitchen
        .server
        .fault("setmessagereaction", Fault::Answer(400, refused));
    let message = robin.says("140 barley");
    let posted = kitchen.server.wait("a message under it", |state| {
        state
            .posted
            .values()
            .find(|posted| posted.under == Some(message))
            .cloned()
    });
    assert!(
        posted.text.chars().count() < 60 && posted.silent,
        "{posted:?}"
    );
    assert_eq!(
        kitchen.server.state().calls_of("setmessagereaction").len(),
        1
    );
}

#[test]
fn a_household_may_like_one_line() {
    let (_kitchen, robin) = Kitchen::with_barley();
    robin.says("answers brief");
    robin.hears("one line");
    robin.says("140 barley");
    let (_, posted) = robin.hears("1340 g");
    assert_eq!(posted.text.lines().count(), 1, "{posted:?}");
}

#[test]
fn answers_keep_order_and_pace_and_chats_do_not_wait_for_each_other() {
    let (kitchen, robin) = Kitchen::with_barley();
    let ana = Chat::private(&kitchen.server, 502, "Ana");
    ana.says(&format!("/start {}", kitchen.invite()));
    ana.hears(&render::invite_accepted());
    for hundreds in 1..=5 {
        robin.says(&format!("kcal {hundreds}00 g parsnip"));
    }
    ana.says("help");
    robin.hears("Parsnips, raw, 500 g");
    let sent = kitchen.server.state().calls_of("sendmessage");
    let to = |chat: i64, words: &'static str| {
        let said = move |call: &&Call| {
            call.params["chat_id"] == json!(chat) && call.text().contains(words)
        };
        sent.iter().filter(said).collect::<Vec<_>>()
    };
    let facts = to(501, "Parsnips");
    assert_eq!(facts.len(), 5, "{facts:?}");
    for (at, fact) in facts.iter().enumerate() {
        assert!(
            fact.text().contains(&format!("{}00 g", at + 1)),
            "{facts:?}"
        );
    }
    for pair in facts.windows(2) {
        let gap = pair[1].at - pair[0].at;
        assert!(
            gap.as_millis() >= 900,
            "{gap:?} between two messages in a chat"
        );
    }
    let help = to(502, "undo")[0];
    assert!(help.at < facts[4].at, "another chat is answered in between");
}
