//! The server and the network at their worst.

use std::collections::HashSet;
use std::time::{Duration, Instant};

use hobside::render;
use serde_json::{Value, json};

use crate::kitchen::{Chat, Kitchen};
use crate::methods::refusal;
use crate::server::{Call, Fault, State};

const HTML: &str = "<html><head><title>502 Bad Gateway</title></head></html>";
const TOO_MANY: &str = r#"{"ok":false,"error_code":429,"description":"Too Many Requests: retry after 3","parameters":{"retry_after":3}}"#;

/// Ask for a fact: the answer begins with so many grams of parsnips.
fn ask(chat: &Chat, grams: u32) {
    chat.says(&format!("kcal {grams} g parsnip"));
}

/// Calls that answer such questions, in order.
fn facts(state: &State) -> Vec<Call> {
    let mut calls = state.calls_of("sendmessage");
    calls.retain(|call| call.text().contains("Parsnips"));
    calls
}

/// The grams of those that were delivered.
fn delivered(state: &State) -> Vec<u32> {
    let grams = |call: &Call| {
        let (_, grams) = call.text().lines().next()?.rsplit_once(", ")?;
        grams.split(' ').next()?.parse().ok()
    };
    let calls = facts(state).into_iter().filter(Call::is_done);
    calls.map(|call| grams(&call).unwrap()).collect()
}

fn wait_for_facts(kitchen: &Kitchen, expected: &[u32]) {
    kitchen.server.wait(&format!("{expected:?}"), |state| {
        (delivered(state) == expected).then_some(())
    });
}

#[test]
fn too_many_requests_are_waited_out_in_that_chat_alone() {
    let (kitchen, robin) = Kitchen::with_barley();
    let ana = Chat::private(&kitchen.server, 502, "Ana");
    ana.says(&format!("/start {}", kitchen.invite()));
    ana.hears(&render::invite_accepted());
    kitchen
        .server
        .fault("sendmessage", Fault::Answer(429, TOO_MANY));
    ask(&robin, 100);
    kitchen
        .server
        .wait("a call", |state| (facts(state).len() == 1).then_some(()));
    ask(&robin, 200);
    ana.says("help");
    ana.hears("undo");
    let undisturbed = Instant::now();
    wait_for_facts(&kitchen, &[100, 200]);
    let calls = facts(&kitchen.server.state());
    assert!(
        calls[1].at - calls[0].at >= Duration::from_secs(3),
        "it did not wait"
    );
    assert!(undisturbed < calls[1].at, "another chat has waited");
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
    ask(&robin, 100);
    ask(&robin, 200);
    wait_for_facts(&kitchen, &[100, 200]);
}

#[test]
fn a_cut_connection_may_repeat_an_answer_and_never_an_entry() {
    let (kitchen, robin) = Kitchen::with_barley();
    kitchen.server.fault("sendmessage", Fault::CutAfter);
    kitchen.server.fault("sendmessage", Fault::CutBefore);
    kitchen.server.fault("getupdates", Fault::CutAfter);
    robin.says("140 barley");
    ask(&robin, 100);
    wait_for_facts(&kitchen, &[100]);
    let said = kitchen.server.state().texts(501);
    let repeats = said.iter().filter(|text| text.contains("Left: 1340 g"));
    assert_eq!(repeats.count(), 2, "{said:?}");
    assert_eq!(kitchen.left(501), 1340.0);
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
fn a_second_bot_on_the_token_ends_this_one_with_a_word() {
    let (mut kitchen, _robin) = Kitchen::with_barley();
    for _ in 0..8 {
        kitchen.server.fault(
            "getupdates",
            Fault::Answer(
                409,
                r#"{"ok":false,"error_code":409,"description":"Conflict: terminated by other getUpdates request; make sure that only one bot instance is running"}"#,
            ),
        );
    }
    let status = kitchen.ended();
    assert!(!status.success());
    let logged = kitchen.logged();
    assert!(logged.contains("same token"), "{logged}");
    assert!(kitchen.printed().contains("Connected as @"));
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
        let refused = |state: &State| {
            let calls = state.calls.iter();
            calls
                .filter(|call| call.is_refused() && !call.is_board())
                .count()
        };
        kitchen
            .server
            .wait(why, |state| (refused(state) == 1).then_some(()));
        std::thread::sleep(Duration::from_secs(3));
        assert_eq!(refused(&kitchen.server.state()), 1, "{why}: tried again");
        kitchen.server.allow(501);
        ask(&robin, 100);
        wait_for_facts(&kitchen, &[100]);
        // What would have changed the answer that never arrived is said anew.
        robin.says("40 barley");
        robin.hears("1300 g");
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
    // Each answer waits for its second, and a poll for news.
    for grams in [100, 200, 300, 400] {
        ask(&robin, grams);
    }
    kitchen.server.wait("all is confirmed", |state| {
        state.all_confirmed().then_some(())
    });
    let (status, took) = kitchen.terminate();
    assert!(status.success(), "{status}");
    assert!(took < Duration::from_secs(6), "{took:?}");
    assert_eq!(delivered(&kitchen.server.state()), [100, 200, 300, 400]);
    // And it is marked: nothing is said again.
    kitchen.start();
    ask(&robin, 500);
    wait_for_facts(&kitchen, &[100, 200, 300, 400, 500]);
}

#[test]
fn the_end_does_not_wait_for_a_chat_that_has_to() {
    let (mut kitchen, robin) = Kitchen::with_barley();
    let wait =
        r#"{"ok":false,"error_code":429,"description":"x","parameters":{"retry_after":600}}"#;
    kitchen
        .server
        .fault("sendmessage", Fault::Answer(429, wait));
    ask(&robin, 100);
    kitchen
        .server
        .wait("a call", |state| (facts(state).len() == 1).then_some(()));
    let (status, took) = kitchen.terminate();
    assert!(
        status.success() && took < Duration::from_secs(7),
        "{status} {took:?}"
    );
    kitchen.start();
    wait_for_facts(&kitchen, &[100]);
}

/// Kills at random moments, with faults of the server between them and a repeat of the last update after each: every
/// message is booked once and answered. `HOBSIDE_KILLS` says how many.
#[test]
fn kills_at_any_moment_lose_nothing_and_book_nothing_twice() {
    let kills = std::env::var("HOBSIDE_KILLS")
        .ok()
        .and_then(|kills| kills.parse().ok());
    let kills: u32 = kills.unwrap_or(25);
    let mut kitchen = Kitchen::open();
    let robin = Chat::private(&kitchen.server, 501, "Robin");
    kitchen.let_in(&robin);
    robin.says("batch barley, 20 kg pearl barley, cooked 60000");
    robin.hears("60000 g net");
    let mut pause = 7_u64;
    let mut thrown = 0;
    for kill in 1..=kills {
        // The same weight at once might be one plate that was told twice.
        let grams = 11 + kill * 7 % 53;
        thrown += grams;
        let id = robin.says(&format!("threw away {grams} g barley"));
        let number = kitchen.server.last_update();
        ask(&robin, kill);
        // A row of pauses without a pattern that the bot could keep step with.
        pause = (pause * 48_271) % 2_147_483_647;
        let fault = match pause % 10 {
            0 => Some(Fault::Answer(502, HTML)),
            1 => Some(Fault::Answer(
                500,
                r#"{"ok":false,"error_code":500,"description":"Internal Server Error"}"#,
            )),
            2 => Some(Fault::Answer(
                429,
                r#"{"ok":false,"error_code":429,"description":"Too Many Requests","parameters":{"retry_after":1}}"#,
            )),
            3 => Some(Fault::CutBefore),
            4 => Some(Fault::CutAfter),
            _ => None,
        };
        if let Some(fault) = fault {
            let method = if pause.is_multiple_of(3) {
                "getupdates"
            } else {
                "sendmessage"
            };
            // One at a time: what fails often in a row is waited for longer and longer.
            kitchen.server.state().clear_faults();
            kitchen.server.fault(method, fault);
        }
        std::thread::sleep(Duration::from_millis(pause % 250));
        kitchen.kill();
        let message = robin.message(
            id,
            json!({ "text": format!("threw away {grams} g barley") }),
        );
        kitchen
            .server
            .raw_update(number, json!({ "update_id": number, "message": message }));
        kitchen.start();
    }
    // Two answers for each, one a second.
    let patience = Duration::from_secs(60 + 3 * u64::from(kills));
    kitchen
        .server
        .wait_within(patience, "an answer to each", |state| {
            let said = delivered(state);
            (1..=kills).all(|kill| said.contains(&kill)).then_some(())
        });
    assert_eq!(kitchen.left(501), f64::from(60_000 - thrown));
    let mut seen = HashSet::new();
    let mut in_order = delivered(&kitchen.server.state());
    in_order.retain(|kill| seen.insert(*kill));
    assert_eq!(
        in_order,
        (1..=kills).collect::<Vec<_>>(),
        "answers may repeat, not overtake"
    );
}
