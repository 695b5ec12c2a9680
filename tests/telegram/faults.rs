//! The server and the network at their worst.

use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::kitchen::{Chat, Kitchen};
use crate::methods::refusal;
use crate::server::{Call, Fault, State};

const HTML: &str = "<html><head><title>502 Bad Gateway</title></head></html>";
const TOO_MANY: &str = r#"{"ok":false,"error_code":429,"description":"Too Many Requests: retry after 3","parameters":{"retry_after":3}}"#;

/// Calls that tell how much barley is left, in order.
fn left(state: &State) -> Vec<Call> {
    let mut calls = state.calls_of("sendmessage");
    calls.retain(|call| {
        call.params["text"]
            .as_str()
            .is_some_and(|text| text.contains("Left: "))
    });
    calls
}

fn delivered(state: &State) -> Vec<String> {
    left(state)
        .iter()
        .filter(|call| {
            call.answer
                .as_ref()
                .is_some_and(|answer| answer["ok"] == json!(true))
        })
        .map(|call| {
            call.params["text"]
                .as_str()
                .unwrap()
                .lines()
                .last()
                .unwrap()
                .to_owned()
        })
        .collect()
}

#[test]
fn too_many_requests_are_waited_out_in_that_chat_alone() {
    let (kitchen, robin) = Kitchen::with_barley();
    let ana = Chat::private(&kitchen.server, 502, "Ana");
    ana.says(&format!("/start {}", kitchen.invite()));
    ana.hears("Welcome");
    kitchen
        .server
        .fault("sendmessage", Fault::Answer(429, TOO_MANY));
    robin.says("140 barley");
    kitchen
        .server
        .wait("a refusal", |state| (left(state).len() == 1).then_some(()));
    robin.says("40 barley");
    ana.says("help");
    let asked = Instant::now();
    ana.hears("batch");
    assert!(
        asked.elapsed() < Duration::from_secs(3),
        "another chat has waited"
    );
    robin.hears("Left: 1300 g");
    let state = kitchen.server.state();
    let calls = left(&state);
    assert!(
        calls[1].at - calls[0].at >= Duration::from_secs(3),
        "it did not wait"
    );
    assert_eq!(delivered(&state), ["Left: 1340 g", "Left: 1300 g"]);
}

#[test]
fn faults_of_the_server_are_outlived_in_order() {
    let (kitchen, robin) = Kitchen::with_barley();
    let failed = r#"{"ok":false,"error_code":500,"description":"Internal Server Error"}"#;
    kitchen
        .server
        .fault("sendmessage", Fault::Answer(500, failed));
    kitchen
        .server
        .fault("sendmessage", Fault::Answer(502, HTML));
    kitchen.server.fault("getupdates", Fault::Answer(502, HTML));
    robin.says("140 barley");
    robin.says("40 barley");
    robin.hears("Left: 1300 g");
    assert_eq!(
        delivered(&kitchen.server.state()),
        ["Left: 1340 g", "Left: 1300 g"]
    );
}

#[test]
fn a_cut_connection_may_repeat_an_answer_and_never_an_entry() {
    let (kitchen, robin) = Kitchen::with_barley();
    kitchen.server.fault("sendmessage", Fault::CutAfter);
    kitchen.server.fault("sendmessage", Fault::CutBefore);
    kitchen.server.fault("getupdates", Fault::CutAfter);
    robin.says("140 barley");
    robin.says("40 barley");
    robin.hears("Left: 1300 g");
    let said = delivered(&kitchen.server.state());
    assert_eq!(said, ["Left: 1340 g", "Left: 1340 g", "Left: 1300 g"]);
    assert_eq!(kitchen.left(501), 1300.0);
}

#[test]
fn polls_that_fail_are_tried_again() {
    let (kitchen, robin) = Kitchen::with_barley();
    for fault in [
        Fault::Answer(
            429,
            r#"{"ok":false,"error_code":429,"description":"x","parameters":{"retry_after":1}}"#,
        ),
        Fault::Answer(
            409,
            r#"{"ok":false,"error_code":409,"description":"Conflict: terminated by other getUpdates request; make sure that only one bot instance is running"}"#,
        ),
        Fault::Answer(200, "not an answer at all"),
        Fault::CutBefore,
        Fault::Slow(Duration::from_secs(1)),
    ] {
        kitchen.server.fault("getupdates", fault);
    }
    robin.says("140 barley");
    robin.hears("Left: 1340 g");
}

#[test]
fn an_answer_that_is_refused_for_good_blocks_nothing_behind_it() {
    for (code, why) in [
        (403, "Forbidden: bot was blocked by the user"),
        (400, "Bad Request: chat not found"),
        (400, "Bad Request: TOPIC_CLOSED"),
    ] {
        let (kitchen, robin) = Kitchen::with_barley();
        kitchen.server.refuse(501, refusal(code, why));
        robin.says("140 barley");
        kitchen.server.wait(why, |state| {
            let refused = |call: &Call| {
                call.answer
                    .as_ref()
                    .is_some_and(|answer| answer["ok"] == json!(false))
            };
            left(state).last().is_some_and(refused).then_some(())
        });
        std::thread::sleep(Duration::from_secs(3));
        assert_eq!(left(&kitchen.server.state()).len(), 1, "{why}: tried again");
        kitchen.server.allow(501);
        robin.says("40 barley");
        robin.hears("Left: 1300 g");
        assert_eq!(delivered(&kitchen.server.state()), ["Left: 1300 g"]);
    }
}

#[test]
fn a_group_that_has_moved_unheard_is_followed() {
    let kitchen = Kitchen::open();
    let old = Chat::group(&kitchen.server, -77, "Robin");
    kitchen.let_in(&old);
    let mut gone: Value = refusal(
        400,
        "Bad Request: group chat was upgraded to a supergroup chat",
    );
    gone["parameters"] = json!({ "migrate_to_chat_id": -1_077 });
    kitchen.server.refuse(-77, gone);
    old.says("/batch barley, 500 g pearl barley, cooked 1480");
    let new = Chat::supergroup(&kitchen.server, -1_077, "Robin");
    new.hears("1480 g net");
    new.says("@stove_side_bot 140 barley");
    new.hears("Left: 1340 g");
}

#[test]
fn the_end_is_polite() {
    let (mut kitchen, robin) = Kitchen::with_barley();
    // Five answers wait for their second each, and one poll for news.
    for _ in 0..4 {
        robin.says("10 barley");
    }
    kitchen.server.wait("all is confirmed", |state| {
        state.all_confirmed().then_some(())
    });
    let (status, took) = kitchen.terminate();
    assert!(status.success(), "{status}");
    assert!(took < Duration::from_secs(6), "{took:?}");
    let said = delivered(&kitchen.server.state());
    assert_eq!(
        said.last().map(String::as_str),
        Some("Left: 1440 g"),
        "{said:?}"
    );
    // And it is marked: nothing is said again.
    kitchen.start();
    robin.says("what's left");
    robin.hears("1440 g barley");
    assert_eq!(delivered(&kitchen.server.state()), said);
}

#[test]
fn the_end_does_not_wait_for_a_chat_that_has_to() {
    let (mut kitchen, robin) = Kitchen::with_barley();
    let wait =
        r#"{"ok":false,"error_code":429,"description":"x","parameters":{"retry_after":600}}"#;
    kitchen
        .server
        .fault("sendmessage", Fault::Answer(429, wait));
    robin.says("140 barley");
    kitchen
        .server
        .wait("a refusal", |state| (left(state).len() == 1).then_some(()));
    let (status, took) = kitchen.terminate();
    assert!(
        status.success() && took < Duration::from_secs(7),
        "{status} {took:?}"
    );
    kitchen.start();
    robin.hears("Left: 1340 g");
}

/// Kills at random moments: every message is booked once, and the last answer is right. The count is
/// `HOBSIDE_KILLS`, or a few.
#[test]
fn kills_at_any_moment_lose_nothing_and_book_nothing_twice() {
    let kills = std::env::var("HOBSIDE_KILLS")
        .ok()
        .and_then(|kills| kills.parse().ok());
    let kills: u32 = kills.unwrap_or(10);
    let (mut kitchen, robin) = Kitchen::with_barley();
    let mut expected = 1480;
    let mut pause = 7_u64;
    for _ in 0..kills {
        robin.says("1 barley");
        expected -= 1;
        // A row of pauses without a pattern that the bot could keep step with.
        pause = (pause * 48_271) % 2_147_483_647;
        std::thread::sleep(Duration::from_millis(pause % 250));
        kitchen.kill();
        kitchen.start();
    }
    robin.hears(&format!("Left: {expected} g"));
    assert_eq!(kitchen.left(501), f64::from(expected));
    let answers = delivered(&kitchen.server.state());
    for left in expected..1480 {
        let words = format!("Left: {left} g");
        assert!(
            answers.contains(&words),
            "nothing said {words}: {answers:?}"
        );
    }
}
