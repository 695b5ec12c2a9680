//! Who comes in, who does not, and what nobody learns.

use std::process::Command;
use std::time::Duration;

use hobside::render;
use serde_json::json;

use crate::kitchen::{Chat, Kitchen};
use crate::server::{Fault, Server, TOKEN};

#[test]
fn a_stranger_gets_one_polite_sentence_and_no_data() {
    let (kitchen, _robin) = Kitchen::with_barley();
    let stranger = Chat::private(&kitchen.server, 66, "Mallory");
    for text in [
        "what's left",
        "140 barley",
        "/start",
        "undo",
        "how much barley",
    ] {
        stranger.says(text);
    }
    stranger.hears(&render::stranger());
    // Whoever is let in is answered after all of that was read.
    kitchen.server.wait("all is confirmed", |state| {
        state.all_confirmed().then_some(())
    });
    std::thread::sleep(Duration::from_secs(2));
    let heard = kitchen.server.state().texts(66);
    assert_eq!(heard, [render::stranger()]);
}

#[test]
fn a_code_lets_in_one_chat_once() {
    let kitchen = Kitchen::open();
    let robin = Chat::private(&kitchen.server, 501, "Robin");
    let code = kitchen.code();
    assert!(code.len() >= 16, "{code}");
    kitchen.let_in(&robin);
    let late = Chat::private(&kitchen.server, 66, "Mallory");
    late.says(&format!("/start {code}"));
    late.hears(&render::invite_wrong());
    // A fresh one from the command line does.
    let ana = Chat::private(&kitchen.server, 502, "Ana");
    ana.says(&format!("/start {}", kitchen.invite()));
    ana.hears(&render::invite_accepted());
}

#[test]
fn the_first_code_is_printed_once_with_its_use() {
    let mut kitchen = Kitchen::open();
    kitchen.code();
    let robin = Chat::private(&kitchen.server, 501, "Robin");
    kitchen.let_in(&robin);
    let printed = kitchen.printed();
    assert!(
        printed.contains("?start=") && printed.contains("?startgroup="),
        "{printed}"
    );
    let (status, _) = kitchen.terminate();
    assert!(status.success());
    kitchen.start();
    robin.says("help");
    robin.hears("batch");
    assert_eq!(
        kitchen.printed().matches("/start ").count(),
        1,
        "{}",
        kitchen.printed()
    );
}

#[test]
fn a_group_is_let_in_and_told_what_the_bot_cannot_hear() {
    let kitchen = Kitchen::open();
    let group = Chat::group(&kitchen.server, -77, "Robin");
    group.says(&format!("/start@stove_side_bot {}", kitchen.code()));
    group.hears(&render::invite_accepted());
    group.hears(&render::privacy_mode());
    group.says("@stove_side_bot what's left");
    group.hears("stock");
    assert!(kitchen.logged().contains("privacy mode is on"));
}

#[test]
fn a_bot_that_hears_all_complains_of_nothing() {
    let server = Server::start();
    server.state().hears_all = true;
    let mut kitchen = Kitchen::closed(server);
    kitchen.start();
    let group = Chat::group(&kitchen.server, -77, "Robin");
    kitchen.let_in(&group);
    group.says("/start");
    let asked = group.says("/help");
    kitchen.server.wait("an answer to help", |state| {
        let answered = |posted: &crate::server::Posted| posted.under == Some(asked);
        state.posted.values().any(answered).then_some(())
    });
    let heard = kitchen.server.state().texts(-77);
    assert!(!heard.contains(&render::privacy_mode()), "{heard:?}");
    assert!(!kitchen.logged().contains("privacy mode"));
}

#[test]
fn a_guessed_press_books_nothing() {
    let (kitchen, robin) = Kitchen::with_barley();
    robin.says("140 barley");
    let (answer, posted) = robin.hears("Left: 1340 g");
    let undo = posted.keyboard.unwrap()["inline_keyboard"][0][0]["callback_data"].clone();
    let stranger = Chat::private(&kitchen.server, 66, "Mallory");
    stranger.presses(answer, undo.as_str().unwrap());
    robin.presses(answer, "undo 1");
    kitchen.server.wait("both presses are answered", |state| {
        (state.calls_of("answercallbackquery").len() == 2).then_some(())
    });
    robin.says("what's left");
    robin.hears("1340 g, 9 portions");
    let heard = kitchen.server.state().texts(66);
    assert!(heard.is_empty(), "{heard:?}");
}

#[test]
fn the_token_is_nowhere_to_be_seen() {
    let server = Server::start();
    for fault in [
        Fault::Answer(401, r#"{"ok":true,"result":{"oddly":"shaped"}}"#),
        Fault::Answer(
            429,
            r#"{"ok":false,"error_code":429,"description":"x","parameters":{"retry_after":1}}"#,
        ),
        Fault::CutBefore,
    ] {
        server.fault("getme", fault);
    }
    server.fault("sendmessage", Fault::CutBefore);
    server.fault("getupdates", Fault::CutBefore);
    let mut kitchen = Kitchen::closed(server);
    let mut command = kitchen.command();
    let file = kitchen.folder().join("token");
    std::fs::write(&file, format!("{TOKEN}\n")).unwrap();
    command.env_remove("HOBSIDE_TELEGRAM_TOKEN");
    command.env("HOBSIDE_TELEGRAM_TOKEN_FILE", file);
    command.env("HOBSIDE_LOG", "trace").env("RUST_LOG", "trace");
    kitchen.run(command);
    let robin = Chat::private(&kitchen.server, 501, "Robin");
    kitchen.let_in(&robin);
    let arguments = std::fs::read(format!("/proc/{}/cmdline", kitchen.id())).unwrap_or_default();
    let arguments = String::from_utf8_lossy(&arguments).into_owned();
    #[cfg(target_os = "linux")]
    leaves_no_dump(kitchen.id());
    let (status, _) = kitchen.terminate();
    assert!(status.success());
    let secret = TOKEN.split_once(':').unwrap().1;
    for place in [kitchen.logged(), kitchen.printed(), arguments] {
        assert!(!place.contains(secret), "{place}");
    }
    assert!(
        kitchen.logged().contains("no connection"),
        "{}",
        kitchen.logged()
    );
}

/// A dump of the memory would hold the token, where a crash left one.
#[cfg(target_os = "linux")]
fn leaves_no_dump(process: u32) {
    let limits = std::fs::read_to_string(format!("/proc/{process}/limits")).unwrap();
    let dumps = limits
        .lines()
        .find(|line| line.starts_with("Max core file"));
    let numbers: Vec<&str> = dumps.unwrap().split_whitespace().skip(4).take(2).collect();
    assert_eq!(numbers, ["0", "0"], "{limits}");
}

#[test]
fn a_token_that_is_not_accepted_ends_the_start() {
    let mut kitchen = Kitchen::closed(Server::start());
    let mut command = kitchen.command();
    command.env("HOBSIDE_TELEGRAM_TOKEN", "5:another_SECRET");
    kitchen.run(command);
    assert!(!kitchen.ended().success());
    let logged = kitchen.logged();
    assert!(logged.contains("does not accept the token"), "{logged}");
    assert!(!logged.contains("another_SECRET"), "{logged}");
}

#[test]
fn without_a_token_it_says_which_variable_to_set() {
    let mut kitchen = Kitchen::closed(Server::start());
    let mut command: Command = kitchen.command();
    command.env_remove("HOBSIDE_TELEGRAM_TOKEN");
    kitchen.run(command);
    assert!(!kitchen.ended().success());
    assert!(kitchen.logged().contains("HOBSIDE_TELEGRAM_TOKEN_FILE"));
}

#[test]
fn a_server_that_is_down_at_the_start_is_waited_for() {
    let server = Server::start();
    server.fault("getme", Fault::CutBefore);
    server.fault(
        "getme",
        Fault::Answer(502, "<html><h1>502 Bad Gateway</h1></html>"),
    );
    let mut kitchen = Kitchen::closed(server);
    kitchen.start();
    let robin = Chat::private(&kitchen.server, 501, "Robin");
    kitchen.let_in(&robin);
    assert!(kitchen.server.state().calls_of("getme").len() >= 3);
}

#[test]
fn forwarded_codes_and_members_of_other_chats_open_nothing() {
    let (kitchen, _robin) = Kitchen::with_barley();
    let fresh = kitchen.invite();
    let stranger = Chat::private(&kitchen.server, 66, "Mallory");
    let origin = json!({ "type": "hidden_user", "date": 1, "sender_user_name": "Robin" });
    stranger.sends(json!({ "text": format!("/start {fresh}"), "forward_origin": origin }));
    stranger.hears(&render::stranger());
    assert_eq!(kitchen.server.state().texts(66).len(), 1);
}
