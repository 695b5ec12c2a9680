//! The polite end: what is in hand is finished, within five seconds.

use std::io::Write;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::json;

use super::running::{Bridge, HOBSIDE, books, cooked, kitchen};

/// A machine that is busy with other tests is slower to start and to end a process than the bot is to stop.
const LIMIT: Duration = Duration::from_millis(5500);

fn terminate(child: &mut Child) -> (bool, Duration) {
    let start = Instant::now();
    let asked = Command::new("kill")
        .args(["-TERM", &child.id().to_string()])
        .status();
    assert!(asked.expect("it runs").success());
    let ended = child.wait().expect("it ends");
    (ended.success(), start.elapsed())
}

fn entries(file: &Path) -> usize {
    books(file)["entries"].as_array().map_or(0, Vec::len)
}

#[test]
fn a_bridge_that_waits_ends_at_once() {
    let (_folder, file) = kitchen();
    let mut bridge = cooked(&file);
    let (well, took) = terminate(&mut bridge.child);
    assert!(well);
    assert!(took < LIMIT, "{took:?}");
}

#[test]
fn a_line_in_hand_is_answered_whole_or_not_begun() {
    let (_folder, file) = kitchen();
    cooked(&file).close();
    for round in 0..12_u64 {
        let before = entries(&file);
        let line = json!({"type": "message", "chat": "c1", "id": format!("round {round}"), "text": format!("{} dal", 60 + 3 * round),
            "from": {"id": "u1", "name": "Robin"}, "at": "2026-10-14T19:00:00+01:00"});
        let mut bridge = Bridge::open(&file);
        // Until it answers it may not have begun to listen for signals.
        bridge.send(&json!({"type": "tick", "at": "2026-10-14T18:30:00+01:00"}));
        bridge.write(&line);
        std::thread::sleep(Duration::from_millis(round * 25));
        let (well, took) = terminate(&mut bridge.child);
        assert!(well && took < LIMIT, "{took:?}");
        let mut out = Vec::new();
        while let Some(value) = bridge.next() {
            out.push(value);
        }
        match out.last() {
            // Whatever was begun has its end.
            Some(done) => assert_eq!(
                (&done["type"], &done["outcome"]),
                (&json!("done"), &json!("recorded"))
            ),
            None => assert_eq!(entries(&file), before),
        }
        let mut again = Bridge::open(&file);
        let outcome = again.send(&line).pop().expect("an end")["outcome"].clone();
        assert_eq!(outcome == "repeated", !out.is_empty(), "{outcome}: {out:?}");
        again.close();
        assert_eq!(entries(&file), before + 1, "booked once");
    }
}

#[test]
fn a_reader_that_is_stuck_does_not_hold_up_the_end() {
    let (_folder, file) = kitchen();
    let mut bridge = cooked(&file);
    // Nobody reads any more: the pipe fills up, and the bridge cannot write.
    let mut line = json!({"type": "message", "chat": "c1", "text": "help", "from": {"id": "u1", "name": "Robin"},
        "at": "2026-10-14T19:00:00+01:00"});
    for number in 0..150 {
        line["id"] = format!("unread {number}").into();
        bridge.write(&line);
    }
    std::thread::sleep(Duration::from_secs(3));
    let (_, took) = terminate(&mut bridge.child);
    assert!(took < LIMIT, "{took:?}");
    let mut next = Bridge::open(&file);
    next.record("130 dal");
    next.close();
}

#[test]
fn a_terminal_ends_at_once() {
    let (_folder, file) = kitchen();
    let mut child = Command::new(HOBSIDE)
        .arg("--db")
        .arg(&file)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut input = child.stdin.take().expect("it is piped");
    writeln!(input, "batch rice, 500 g dry white rice, cooked 1400").expect("it reads");
    let mut output = std::io::BufReader::new(child.stdout.take().expect("it is piped"));
    let mut said = String::new();
    while !said.contains("1400 g net") {
        assert!(
            std::io::BufRead::read_line(&mut output, &mut said).expect("text") > 0,
            "{said}"
        );
    }
    let (well, took) = terminate(&mut child);
    assert!(well && took < LIMIT, "{took:?}");
    drop(input);
}
