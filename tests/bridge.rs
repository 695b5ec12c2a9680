//! The bridge's contract, driven through the real binary: whatever does not depend on the language.

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use base64::prelude::{BASE64_STANDARD, Engine};
use serde_json::{Value, json};

struct Bridge {
    child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
}

impl Bridge {
    fn open(file: &Path) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_hobside"))
            .args(["bridge", "--timezone", "Europe/Dublin", "--db"])
            .arg(file)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the bridge starts");
        let input = child.stdin.take().expect("it is piped");
        let output = BufReader::new(child.stdout.take().expect("it is piped"));
        Self {
            child,
            input,
            output,
        }
    }

    /// Send a line as it is; every line out up to its `done` or `error`.
    fn line(&mut self, line: &str) -> Vec<Value> {
        writeln!(self.input, "{line}").expect("it reads");
        let mut out = Vec::new();
        loop {
            let mut text = String::new();
            self.output.read_line(&mut text).expect("it writes");
            let value: Value = serde_json::from_str(&text).expect(&text);
            let last = value["type"] == "done" || value["type"] == "error";
            out.push(value);
            if last {
                return out;
            }
        }
    }

    fn send(&mut self, line: Value) -> Vec<Value> {
        self.line(&line.to_string())
    }

    /// The outcome of a message.
    fn outcome(&mut self, line: Value) -> String {
        let out = self.send(line);
        let done = out.last().expect("there is an end");
        done["outcome"].as_str().expect("a done").to_owned()
    }

    /// End of input: the rest of the output.
    fn close(self) -> String {
        let Self {
            mut child,
            input,
            mut output,
        } = self;
        drop(input);
        let mut rest = String::new();
        while output.read_line(&mut rest).expect("it writes") > 0 {}
        assert!(child.wait().expect("it ends").success());
        rest
    }
}

fn file() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let file = folder.path().join("new folder").join("books.db");
    (folder, file)
}

fn message(chat: &str, id: &str, text: &str, at: &str) -> Value {
    json!({"type": "message", "chat": chat, "id": id, "from": {"id": "u1", "name": "Robin"}, "text": text,
           "at": format!("2026-10-14T{at}:00+01:00")})
}

fn with(mut line: Value, more: Value) -> Value {
    for (key, value) in more.as_object().expect("an object") {
        line[key] = value.clone();
    }
    line
}

const BATCH: &str = "batch rice, 500 g dry white rice, cooked 1400";

fn export(file: &Path, chat: &str) -> Value {
    let output = Command::new(env!("CARGO_BIN_EXE_hobside"))
        .args(["export", "--format", "json", "--chat", chat, "--db"])
        .arg(file)
        .output()
        .expect("it runs");
    assert!(output.status.success());
    serde_json::from_slice(&output.stdout).expect("JSON")
}

#[test]
fn a_line_that_is_no_input_is_an_error_with_its_number() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    for (number, line) in [
        "not json",
        "[1, 2]",
        "{\"type\":\"message\"}",
        "{\"type\":\"nonsense\"}",
        "{\"type\":\"tick\",\"at\":\"yesterday\"}",
        "{\"type\":\"message\",\"chat\":\"c1\",\"id\":7,\"from\":{\"id\":\"u1\"},\"text\":\"x\"}",
    ]
    .into_iter()
    .enumerate()
    {
        let out = bridge.line(line);
        assert_eq!(out.len(), 1, "{out:?}");
        assert_eq!(out[0]["type"], "error");
        assert_eq!(out[0]["line"], number + 1);
        assert!(out[0]["text"].as_str().is_some_and(|text| !text.is_empty()));
    }
    let out = bridge.send(json!({"type": "tick", "at": "2026-10-14T08:00:00+01:00"}));
    assert_eq!(
        out,
        [json!({"type": "done", "id": null, "chat": null, "outcome": "answered"})]
    );
    assert_eq!(bridge.close(), "");
}

#[test]
fn a_repeat_changes_nothing_and_another_text_needs_edited() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    assert_eq!(
        bridge.outcome(message("c1", "m1", BATCH, "18:00")),
        "recorded"
    );
    assert_eq!(
        bridge.outcome(message("c1", "m1", BATCH, "18:01")),
        "repeated"
    );
    let portion = |text: &str| message("c1", "m2", text, "19:00");
    let edited = |text: &str| with(portion(text), json!({"edited": true}));
    assert_eq!(bridge.outcome(portion("140 rice")), "recorded");
    assert_eq!(bridge.send(portion("104 rice"))[0]["type"], "error");
    assert_eq!(bridge.outcome(edited("104 rice")), "recorded");
    assert_eq!(bridge.outcome(edited("104 rice")), "repeated");
    assert_eq!(bridge.outcome(portion("104 rice")), "repeated");
    assert_eq!(bridge.send(portion("140 rice"))[0]["type"], "error");
    assert_eq!(
        bridge.outcome(edited("140 rice")),
        "recorded",
        "A, B, A is two edits"
    );
    bridge.close();
    assert_eq!(export(&file, "c1")["lots"][0]["grams"], 1260.0);
}

#[test]
fn an_answer_to_an_edit_edits_the_first_answer() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", BATCH, "18:00"));
    let first = bridge.send(message("c1", "m2", "140 rice", "19:00"));
    assert_eq!(first[0]["type"], "reply");
    assert_eq!(first[0]["to"], "m2");
    assert_eq!(first[0]["data"]["kind"], "portion");
    for text in ["104 rice", "110 rice"] {
        let edit = with(message("c1", "m2", text, "19:01"), json!({"edited": true}));
        let out = bridge.send(edit);
        assert_eq!(out[0]["type"], "edit", "{out:?}");
        assert_eq!(out[0]["edits"], first[0]["id"]);
        assert_eq!(out[0]["data"]["kind"], "portion");
        assert_ne!(out[0]["id"], first[0]["id"]);
    }
    bridge.close();
    assert_eq!(export(&file, "c1")["lots"][0]["grams"], 1290.0);
}

#[test]
fn one_id_in_two_chats_is_two_messages_of_two_households() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    for chat in ["c1", "c2"] {
        assert_eq!(
            bridge.outcome(message(chat, "m1", BATCH, "18:00")),
            "recorded"
        );
    }
    assert_eq!(
        bridge.outcome(message("c2", "m2", "100 rice", "18:05")),
        "recorded"
    );
    bridge.close();
    assert_eq!(export(&file, "c1")["lots"][0]["grams"], 1400.0);
    assert_eq!(export(&file, "c2")["lots"][0]["grams"], 1300.0);
}

#[test]
fn a_private_chat_speaks_of_the_household_it_names() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", BATCH, "18:00"));
    let private = with(
        message("p-u1", "m1", "100 rice", "18:10"),
        json!({"private": true, "household": "c1"}),
    );
    let out = bridge.send(private);
    assert_eq!(out[0]["chat"], "p-u1");
    assert_eq!(out[1]["outcome"], "recorded");
    bridge.close();
    assert_eq!(export(&file, "c1")["lots"][0]["grams"], 1300.0);
    assert_eq!(export(&file, "p-u1")["lots"][0]["grams"], 1300.0);
}

#[test]
fn a_press_counts_only_from_a_button_of_this_chat() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", BATCH, "18:00"));
    let portion = bridge.send(message("c1", "m2", "140 rice", "19:00"));
    let (on, press) = (&portion[0]["id"], &portion[0]["buttons"][0][0]["press"]);
    let pressed = |chat: &str, id: &str, press: &Value| {
        json!({"type": "press", "chat": chat, "id": id, "from": {"id": "u1", "name": "Robin"}, "on": on,
               "press": press, "at": "2026-10-14T19:05:00+01:00"})
    };
    assert_eq!(bridge.outcome(pressed("c2", "p1", press)), "refused");
    assert_eq!(
        bridge.outcome(pressed("c1", "p1", &json!("undo 1"))),
        "refused"
    );
    assert_eq!(
        bridge.outcome(pressed("c1", "p2", &json!("\u{7}"))),
        "refused"
    );
    let undone = bridge.send(pressed("c1", "p3", press));
    assert_eq!(undone[0]["to"], "p3");
    assert_eq!(undone[1]["outcome"], "recorded");
    assert_eq!(bridge.outcome(pressed("c1", "p3", press)), "repeated");
    bridge.close();
    assert_eq!(export(&file, "c1")["lots"][0]["grams"], 1400.0);
}

#[test]
fn the_clock_never_goes_back() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", BATCH, "18:00"));
    bridge.send(json!({"type": "tick", "at": "2026-10-14T20:00:00+01:00"}));
    bridge.send(message("c1", "m2", "140 rice", "19:00"));
    bridge.close();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m3", "100 rice", "18:30"));
    bridge.close();
    let books = export(&file, "c1");
    let entries = books["entries"].as_array().expect("a list");
    let times = |key: &str| -> Vec<String> {
        let portions = entries.iter().filter(|entry| entry["kind"] == "portion");
        portions
            .map(|entry| entry[key].as_str().expect("a time").to_owned())
            .collect()
    };
    assert_eq!(
        times("occurred_at"),
        ["2026-10-14T18:00:00.000Z", "2026-10-14T17:30:00.000Z"]
    );
    assert_eq!(
        times("recorded_at"),
        ["2026-10-14T19:00:00.000Z", "2026-10-14T19:00:00.000Z"]
    );
}

#[test]
fn what_is_to_come_is_in_the_export() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", "@hobside timer 35", "18:00"));
    bridge.send(message("c1", "m2", "@hobside timer 5", "18:00"));
    bridge.send(message("c1", "m3", "@hobside cancel timer 2", "18:01"));
    bridge.send(message(
        "c1",
        "m4",
        "@hobside remind me at 8pm: soak the beans",
        "18:02",
    ));
    bridge.send(message("c1", "m5", "@hobside I'm away on Friday", "18:03"));
    bridge.close();
    let books = export(&file, "c1");
    let waiting = json!([
        {"about": "timer", "id": 1, "words": "", "member": "Robin", "set_at": "2026-10-14T17:00:00Z",
         "due_at": "2026-10-14T17:35:00Z", "wall": null},
        {"about": "once", "id": 2, "words": "soak the beans", "member": "Robin", "set_at": "2026-10-14T17:02:00Z",
         "due_at": "2026-10-14T19:00:00Z", "wall": "2026-10-14T20:00"},
    ]);
    assert_eq!(books["reminders"], waiting);
    let away = json!([{"member": "Robin", "from": "2026-10-16", "until": "2026-10-16"}]);
    assert_eq!(books["absences"], away);
}

#[test]
fn ids_hold_over_a_restart() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    let first = bridge.send(message("c1", "m1", BATCH, "18:00"));
    let portion = bridge.send(message("c1", "m2", "140 rice", "19:00"));
    assert_eq!(bridge.close(), "");
    let mut bridge = Bridge::open(&file);
    assert_eq!(
        bridge.outcome(message("c1", "m2", "140 rice", "19:00")),
        "repeated"
    );
    let later = bridge.send(message("c1", "m3", "what's left", "19:10"));
    let ids = [&first[0]["id"], &portion[0]["id"], &later[0]["id"]];
    assert!(ids[0] != ids[1] && ids[1] != ids[2] && ids[0] != ids[2]);
    let press = json!({"type": "press", "chat": "c1", "id": "p1", "from": {"id": "u1"}, "on": ids[1],
                       "press": portion[0]["buttons"][0][0]["press"]});
    assert_eq!(bridge.outcome(press), "recorded");
    assert_eq!(bridge.close(), "");
}

#[test]
fn talk_between_people_is_ignored_and_a_mention_is_answered() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    let out = bridge.send(message("c1", "m1", "see you at the station", "18:00"));
    assert_eq!(
        out,
        [json!({"type": "done", "id": "m1", "chat": "c1", "outcome": "ignored"})]
    );
    let out = bridge.send(message("c1", "m2", "@hobside help", "18:01"));
    assert_eq!(out[0]["to"], "m2");
    assert_eq!(out[1]["outcome"], "answered");
    bridge.close();
}

#[test]
fn an_unanswered_message_of_a_killed_run_is_answered_by_the_next() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", BATCH, "18:00"));
    let portion = |number: i32| {
        let (id, text) = (format!("k{number}"), format!("{} g rice", 11 + number));
        message("c1", &id, &text, "19:00")
    };
    // No waiting for the answers: the kill comes wherever it comes.
    for number in 0..40 {
        writeln!(bridge.input, "{}", portion(number)).expect("it reads");
    }
    bridge.child.kill().expect("it is there");
    bridge.child.wait().expect("it ends");
    let mut bridge = Bridge::open(&file);
    for number in 0..40 {
        let out = bridge.send(portion(number));
        let outcome = &out.last().expect("an end")["outcome"];
        assert!(outcome == "repeated" || outcome == "recorded", "{out:?}");
    }
    bridge.close();
    // 1400 less 11 + 12 + ... + 50.
    assert_eq!(export(&file, "c1")["lots"][0]["grams"], 180.0);
}

#[test]
fn the_same_books_export_to_the_same_bytes() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", BATCH, "18:00"));
    bridge.send(message("c1", "m2", "140 rice", "19:00"));
    bridge.close();
    let books = export(&file, "c1");
    assert_eq!(books, export(&file, "c1"));
    let keys: Vec<&String> = books.as_object().expect("an object").keys().collect();
    assert_eq!(
        keys,
        [
            "schema",
            "household",
            "members",
            "batches",
            "lots",
            "reminders",
            "absences",
            "entries"
        ]
    );
    assert_eq!(books["members"][0]["name"], "Robin");
    assert_eq!(books["batches"][0]["name"], "rice");
    let entry = &books["entries"][1];
    let keys: Vec<&String> = entry.as_object().expect("an object").keys().collect();
    let expected = [
        "id",
        "kind",
        "occurred_at",
        "recorded_at",
        "member",
        "batch",
        "place",
        "source",
        "day",
        "grams",
        "reverses",
    ];
    assert_eq!(keys, expected);
    assert_eq!(entry["kind"], "ingredient");
    assert_eq!(entry["batch"], books["batches"][0]["code"]);
}

#[test]
fn an_answer_to_a_question_can_be_edited_like_any_message() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    let cooked = "batch lentil dal, 500 g red lentils, cooked 600";
    bridge.send(message("c1", "m1", cooked, "18:00"));
    let cooked = "batch spinach dal, 500 g red lentils, cooked 900";
    bridge.send(message("c1", "m2", cooked, "18:01"));
    let asked = bridge.send(message("c1", "m3", "140 dal", "19:00"));
    assert_eq!(asked[0]["data"]["about"], "which_batch");
    let private = json!({"private": true, "household": "c1"});
    let left = |bridge: &mut Bridge, id: &str| -> Vec<f64> {
        let asks = with(message("p", id, "what's left", "19:10"), private.clone());
        let out = bridge.send(asks);
        let lots = out[0]["data"]["lots"].as_array().expect("lots");
        let grams = lots.iter().map(|lot| lot["grams"].as_f64().expect("grams"));
        grams.collect()
    };
    assert_eq!(
        bridge.outcome(message("c1", "m4", "2", "19:01")),
        "recorded"
    );
    assert_eq!(left(&mut bridge, "q1"), [600.0, 760.0]);
    let edited = |text: &str| with(message("c1", "m4", text, "19:02"), json!({"edited": true}));
    assert_eq!(bridge.outcome(edited("1")), "recorded");
    assert_eq!(left(&mut bridge, "q2"), [460.0, 900.0]);
    assert_eq!(bridge.outcome(edited("see you later")), "recorded");
    assert_eq!(left(&mut bridge, "q3"), [600.0, 900.0]);
    assert_eq!(bridge.outcome(edited("2")), "recorded");
    assert_eq!(left(&mut bridge, "q4"), [600.0, 760.0]);
    // Without the question's message there is nothing that it answers.
    let edited = with(
        message("c1", "m3", "20 lentil dal", "19:03"),
        json!({"edited": true}),
    );
    assert_eq!(bridge.outcome(edited), "recorded");
    assert_eq!(left(&mut bridge, "q5"), [580.0, 900.0]);
}

#[test]
fn an_edit_that_asks_is_followed_by_its_answer_or_by_the_next_edit() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", BATCH, "18:00"));
    bridge.send(message("c1", "m2", "500 rice", "18:10"));
    let edited = |cooked: u32, at: &str| {
        let text = BATCH.replace("1400", &cooked.to_string());
        with(message("c1", "m1", &text, at), json!({"edited": true}))
    };
    assert_eq!(bridge.outcome(edited(140, "18:20")), "asked");
    assert_eq!(export(&file, "c1")["lots"][0]["grams"], 900.0);
    // The same text as the latest revision, though the books never had it.
    assert_eq!(bridge.outcome(edited(140, "18:21")), "repeated");
    assert_eq!(bridge.outcome(edited(1040, "18:22")), "recorded");
    assert_eq!(export(&file, "c1")["lots"][0]["grams"], 540.0);
    let asked = bridge.send(edited(140, "18:23"));
    let press = &asked[0]["buttons"][0][0]["press"];
    let press = json!({"type": "press", "chat": "c1", "id": "p1", "from": {"id": "u1", "name": "Robin"},
                       "on": asked[0]["edits"], "press": press, "at": "2026-10-14T18:24:00+01:00"});
    assert_eq!(bridge.outcome(press), "recorded");
    let books = export(&file, "c1");
    assert_eq!(books["batches"][0]["net_grams"], 140.0);
    assert!(books["lots"].as_array().expect("lots").is_empty());
}

/// What the README says of the signs, over every kind of entry.
#[test]
fn exported_grams_have_their_signs() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    for (number, text) in [
        "batch stew, 600 g potatoes, 300 g beef mince",
        "drained 20 g fat from the stew",
        "stew weighed 1200",
        "140 stew for Ana",
        "make it 150",
        "binned 40 stew",
        "recount: stew 900",
        "100 stew",
        "undo",
    ]
    .into_iter()
    .enumerate()
    {
        let at = format!("18:{:02}", 10 + number);
        let robin = with(
            message("c1", &format!("m{number}"), text, &at),
            json!({"private": true}),
        );
        let ana = json!({"from": {"id": "u2", "name": "Ana"}, "text": "what's left", "id": format!("a{number}")});
        bridge.send(with(robin.clone(), ana));
        assert_eq!(bridge.outcome(robin), "recorded", "{text}");
    }
    bridge.close();
    let books = export(&file, "c1");
    let entries = books["entries"].as_array().expect("entries");
    let grams = |kind: &str| -> Vec<f64> {
        let of_kind = entries.iter().filter(|entry| entry["kind"] == kind);
        of_kind
            .map(|entry| entry["grams"].as_f64().expect("grams"))
            .collect()
    };
    assert_eq!(grams("ingredient"), [600.0, 300.0]);
    assert_eq!(grams("pour_off"), [20.0]);
    assert_eq!(grams("portion"), [140.0, 150.0, 100.0]);
    assert_eq!(grams("waste"), [40.0]);
    assert_eq!(grams("reversal"), [-140.0, -100.0]);
    let sum = |kinds: &[&str]| -> f64 { kinds.iter().flat_map(|kind| grams(kind)).sum() };
    let went_in = sum(&["ingredient", "weigh", "settle", "count"]);
    let went_out = sum(&["portion", "waste", "pour_off", "reversal"]);
    let left = books["lots"][0]["grams"].as_f64().expect("grams");
    assert_eq!(left, 900.0);
    assert!(
        (went_in - went_out - left).abs() < 1e-6,
        "{went_in} {went_out}"
    );
    let hers = entries.iter().filter(|entry| entry["member"] == "Ana");
    let hers: f64 = hers
        .map(|entry| entry["grams"].as_f64().expect("grams"))
        .sum();
    assert_eq!(hers, 150.0);
}

#[test]
fn a_food_may_be_named_by_its_number() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    let out = bridge.send(message("c1", "m1", "500 g NDB 16069", "19:00"));
    assert_eq!(out[0]["data"]["plates"][0]["lines"][0]["food"], "NDB 16069");
    let out = bridge.send(message("c1", "m2", "1 cup sliced NDB 11260", "19:30"));
    assert_eq!(out[1]["outcome"], "recorded");
}

#[test]
fn a_time_that_no_clock_can_stand_at_is_an_error_and_stops_nothing() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    for (at, says) in [
        ("9999-12-31T23:59:59Z", "out of range"),
        ("3000-01-01T00:00:00Z", "out of range"),
        ("0001-01-01T00:00:00Z", "out of range"),
        ("last night", "no time"),
        ("2026-10-14T19:20:00", "no time"),
    ] {
        let said = bridge.send(with(
            message("c1", at, "20 g zorblax", "19:20"),
            json!({"at": at}),
        ));
        assert_eq!(said[0]["type"], "error", "{at}");
        let text = said[0]["text"].as_str().expect("a text");
        assert!(text.contains("\"at\"") && text.contains(says), "{text}");
        let tick = bridge.send(json!({"type": "tick", "at": at}));
        assert_eq!(tick[0]["type"], "error", "{at}");
    }
    let late = "2999-12-31T23:59:59Z";
    let asked = bridge.outcome(with(
        message("c1", "m1", "@hobside 20 g zorblax", "19:20"),
        json!({"at": late}),
    ));
    assert_eq!(asked, "asked");
    let next = bridge.outcome(with(
        message("c1", "m2", "@hobside 20 g butter", "19:20"),
        json!({"at": late}),
    ));
    assert_eq!(next, "recorded");
}

#[test]
fn a_label_is_a_picture_whose_code_is_the_batch() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", BATCH, "19:20"));
    let out = bridge.send(message("c1", "m2", "label rice 62 x 40 mm", "19:21"));
    let [picture, done] = out.as_slice() else {
        panic!("{out:?}");
    };
    assert_eq!(done["outcome"], "answered");
    assert_eq!(picture["type"], "picture");
    assert_eq!(picture["to"], "m2");
    assert_eq!(picture["mime"], "image/png");
    let data = &picture["data"];
    assert_eq!(data["kind"], "label");
    assert_eq!(data["labels"][0]["batch"], "R1");
    assert_eq!(data["labels"][0]["grams"], 1400.0);
    assert_eq!(data["page"], Value::Null);
    let text = picture["base64"].as_str().expect("base64");
    let png = BASE64_STANDARD.decode(text).expect("base64");
    let mut decoder = png::Decoder::new(std::io::Cursor::new(png));
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().expect("a PNG");
    assert_eq!((reader.info().width, reader.info().height), (732, 472));
    let mut grey = vec![0; reader.output_buffer_size().expect("it fits")];
    reader.next_frame(&mut grey).expect("whole");
    let mut image = rqrr::PreparedImage::prepare_from_greyscale(732, 472, |x, y| grey[y * 732 + x]);
    let code = image.detect_grids()[0].decode().expect("it reads").1;
    // What is scanned can be typed.
    let private = json!({"private": true});
    let shown = bridge.send(with(message("c1", "m3", &code, "19:22"), private));
    assert_eq!(shown[0]["data"]["batch"]["code"], "R1");
}

#[test]
fn the_batch_data_carries_the_terms_of_both_lists() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    let sauce = "batch sauce: 200 g soy sauce, 100 g prawns, 1 packet mystery mix, cooked 300";
    bridge.send(message("c1", "m1", sauce, "19:20"));
    let stew = "batch stew: 100 g sauce, 50 g hazelnuts, 500 g carrots, cooked 600";
    let out = bridge.send(message("c1", "m2", stew, "19:21"));
    let batch = &out[0]["data"]["batch"];
    assert_eq!(
        batch["allergens"],
        json!([
            "Crustacean shellfish",
            "crustaceans",
            "wheat",
            "cereals containing gluten",
            "tree nuts",
            "nuts",
            "soybeans"
        ])
    );
    let unknown = batch["allergens_unknown"].as_array().expect("a list");
    assert_eq!(unknown, &[json!("mystery mix")]);
}

/// What is said of its own accord, in the order in which it comes.
fn notices(out: &[Value]) -> Vec<&str> {
    let said = out.iter().filter(|line| line["type"] == "notice");
    said.filter_map(|line| line["text"].as_str()).collect()
}

#[test]
fn what_has_fallen_due_is_said_before_the_reply_and_once() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", BATCH, "18:00"));
    assert_eq!(
        bridge.outcome(message("c1", "m2", "35 min rice", "18:01")),
        "recorded"
    );
    bridge.send(message("c2", "m1", "timer 30 min", "18:02"));
    let early = bridge.send(json!({"type": "tick", "at": "2026-10-14T18:31:00+01:00"}));
    assert_eq!(notices(&early), Vec::<&str>::new());
    let out = bridge.send(message("c1", "m3", "140 rice", "18:36"));
    let kinds: Vec<&str> = out
        .iter()
        .filter_map(|line| line["type"].as_str())
        .collect();
    assert_eq!(kinds, ["notice", "notice", "reply", "done"]);
    let chats: Vec<&Value> = out.iter().map(|line| &line["chat"]).collect();
    assert_eq!(chats[..2], [&json!("c2"), &json!("c1")]);
    assert_eq!(out[1]["text"], "rice: 35 min are over.");
    assert_eq!(out[1]["to"], Value::Null);
    let data = &out[1]["data"];
    assert_eq!(
        (&data["kind"], &data["about"]),
        (&json!("reminder"), &json!("timer"))
    );
    assert_eq!(data["due_at"], "2026-10-14T17:36:00Z");
    assert_eq!(data["late_seconds"], 0);
    assert_eq!(out[0]["data"]["late_seconds"], 240);
    let again = bridge.send(json!({"type": "tick", "at": "2026-10-14T18:37:00+01:00"}));
    assert_eq!(notices(&again), Vec::<&str>::new());
}

#[test]
fn a_timer_outlives_every_kill_and_is_said_once() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", BATCH, "18:00"));
    bridge.send(message("c1", "m2", "35 min rice", "18:01"));
    bridge.send(message("c1", "m3", "the dal takes 35 min", "18:01"));
    bridge.send(message("c1", "m4", "timer 35 min dal", "18:01"));
    let mut said = Vec::new();
    for minute in 2..50 {
        bridge.child.kill().expect("it is there");
        bridge.child.wait().expect("it ends");
        bridge = Bridge::open(&file);
        let at = format!("2026-10-14T18:{minute:02}:30+01:00");
        let out = bridge.send(json!({"type": "tick", "at": at}));
        for line in out.iter().filter(|line| line["type"] == "notice") {
            said.push((minute, line["id"].clone(), line["text"].clone()));
        }
    }
    let texts: Vec<(i32, &str)> = said
        .iter()
        .filter_map(|(minute, _, text)| Some((*minute, text.as_str()?)))
        .collect();
    // One message for all that ring at once.
    assert_eq!(
        texts,
        [(36, "rice: 35 min are over.\n\ndal: 35 min are over.")]
    );
}

#[test]
fn what_is_cancelled_or_taken_back_is_not_said() {
    let (_folder, file) = file();
    let mut bridge = Bridge::open(&file);
    bridge.send(message("c1", "m1", BATCH, "18:00"));
    bridge.send(message("c1", "m2", "35 min rice", "18:01"));
    bridge.send(message("c1", "m3", "timer 40 min", "18:02"));
    assert_eq!(
        bridge.outcome(message("c1", "m4", "undo", "18:03")),
        "recorded"
    );
    assert_eq!(
        bridge.outcome(message("c1", "m5", "cancel the rice timer", "18:04")),
        "recorded"
    );
    let none = bridge.send(json!({"type": "tick", "at": "2026-10-14T19:00:00+01:00"}));
    assert_eq!(notices(&none), Vec::<&str>::new());
    // What is put back after its time is said late: it is not lost.
    assert_eq!(
        bridge.outcome(message("c1", "m6", "undo", "19:01")),
        "recorded"
    );
    let late = bridge.send(json!({"type": "tick", "at": "2026-10-14T19:02:00+01:00"}));
    assert_eq!(
        notices(&late),
        ["rice: 35 min are over.\nLate: it was due at 18:36, 26 min ago."]
    );
}
