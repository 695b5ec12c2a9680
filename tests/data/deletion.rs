//! Deletion is real: after it nothing of a person, or of a household, is in the bytes of any file, and the books add up.

use std::path::Path;

use hobside::channel::{archive, export};
use hobside::domain::ids::MemberId;
use hobside::store::{HouseholdId, Scrubbed, Store, backup};
use serde_json::Value;
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection};

use super::play::Play;
use super::running::{Bridge, kitchen, printed, run};

/// Everything in the folder of the books but copies: the file, its log, the lock.
fn bytes(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let files = std::fs::read_dir(folder).expect("a folder");
    let files = files.map(|file| file.expect("a file").path());
    let files = files.filter(|path| path.is_file());
    let read = |path: std::path::PathBuf| {
        let bytes = std::fs::read(&path).expect("it reads");
        (path.display().to_string(), bytes)
    };
    files.map(read).collect()
}

fn holds(bytes: &[u8], words: &str) -> bool {
    let words = words.to_lowercase();
    let lower = bytes.to_ascii_lowercase();
    lower
        .windows(words.len())
        .any(|window| window == words.as_bytes())
}

#[track_caller]
fn assert_no_trace(folder: &Path, traces: &[&str]) {
    for (file, bytes) in bytes(folder) {
        for trace in traces {
            let lower = bytes.to_ascii_lowercase();
            let trace = trace.to_lowercase();
            let mut found = lower.windows(trace.len()).enumerate();
            // A time ends in "Z", and what stands behind it may be any bytes.
            let of_time = |at: usize| at > 0 && lower[at - 1].is_ascii_digit();
            let at = found.position(|(at, window)| window == trace.as_bytes() && !of_time(at));
            if let Some(at) = at {
                let around = &bytes[at.saturating_sub(80)..(at + 80).min(bytes.len())];
                panic!("{trace:?} in {file}: {:?}", String::from_utf8_lossy(around));
            }
        }
    }
}

fn assert_traces(folder: &Path, traces: &[&str]) {
    for trace in traces {
        let found = bytes(folder).iter().any(|(_, bytes)| holds(bytes, trace));
        assert!(
            found,
            "{trace:?} was never there: the test looks for nothing"
        );
    }
}

/// What stands where, and how much of everything went where.
async fn sums(file: &Path, chat: &str) -> (Vec<(String, f64)>, Value) {
    let store = Store::open_as_it_is(file).await.expect("it opens");
    let text = export::books(&store, chat).await.expect("it reads");
    store.close().await;
    let books: Value = serde_json::from_str(&text).expect("JSON");
    let entries = books["entries"].as_array().expect("a journal");
    let entries = entries.iter().map(|entry| {
        (
            entry["kind"].to_string(),
            entry["grams"].as_f64().expect("grams"),
        )
    });
    (entries.collect(), books["lots"].clone())
}

const OWN: [&str; 8] = [
    "quokka",
    "zebedee",
    "id-Zebedee",
    "ring my aunt in Kilkenny",
    "I think the fridge hums",
    "it smelled of turpentine",
    "Zeb",
    "my own lunch for the zoo",
];

#[tokio::test]
async fn nothing_of_a_person_is_left_and_the_stock_adds_up() {
    for seed in 1..=2 {
        let (folder, file) = kitchen();
        let mut play = Play::begin(&file, "kitchen", seed).await;
        play.everything().await;
        play.say("Zebedee", false, "140 dal").await;
        play.say("Zebedee", false, "I think the fridge hums").await;
        play.say(
            "Zebedee",
            true,
            "remind me on Friday at 10 to ring my aunt in Kilkenny",
        )
        .await;
        play.say("Zebedee", false, "12 min quokka tea").await;
        play.say("Ana", false, "@hobside timers").await;
        play.say("Zebedee", true, "target 2200 kcal").await;
        play.say("Zebedee", false, "binned 20 dal, it smelled of turpentine")
            .await;
        play.say("Zebedee", false, "my own lunch for the zoo").await;
        play.say("Ana", false, "100 dal for Zebedee").await;
        play.say("Ana", false, "zebedee's mug is 312 g empty").await;
        play.say("Ana", true, "what did Zebedee have today").await;
        play.random(40).await;
        play.say("Zebedee", true, "delete me").await;
        assert_traces(folder.path(), &OWN);
        let before = sums(&file, "kitchen").await;

        let answers = play.say("Zebedee", true, "yes").await;
        assert_eq!(answers[0].data["kind"], "deleted", "{answers:?}");
        assert!(answers[0].text.starts_with("You are deleted here."));
        assert_no_trace(folder.path(), &OWN);
        assert_eq!(sums(&file, "kitchen").await, before, "{seed}");

        // The others go on, and so does whoever comes back as somebody new.
        play.say("Ana", false, "120 dal").await;
        play.random(10).await;
        let fresh = play
            .say("Zebedee", false, "@hobside target 1900 kcal")
            .await;
        assert!(!fresh.is_empty());
        play.service.close().await.expect("closed");
        drop(play);
        backup::check(&file).await.expect("it is whole");
        let store = Store::open_alone(&file).await.expect("it opens");
        let text = archive::export(&store, "kitchen")
            .await
            .expect("it is there");
        assert!(text.contains("someone who left"), "{seed}");
        store.close().await;
        let (_folder, other) = kitchen();
        let read = archive::read(&text).await.expect("it is sound");
        let other = Store::open(&other).await.expect("it opens");
        archive::import(&other, &read).await.expect("it fits");
        let again = archive::export(&other, "kitchen")
            .await
            .expect("it is there");
        assert!(again == text, "{seed}");
    }
}

#[tokio::test]
async fn nothing_of_a_household_is_left_and_the_others_stay() {
    let (folder, file) = kitchen();
    let mut upstairs = Play::begin(&file, "upstairs", 5).await;
    upstairs.random(12).await;
    upstairs.service.close().await.expect("closed");
    drop(upstairs);
    let mut play = Play::begin(&file, "kitchen-zq77", 6).await;
    play.everything().await;
    play.say(
        "Quentin",
        false,
        "@hobside batch zanzibar stew, 500 g lentils, cooked 900",
    )
    .await;
    play.random(15).await;
    play.service.close().await.expect("closed");
    drop(play);
    let traces = ["kitchen-zq77", "zanzibar", "Quentin"];
    assert_traces(folder.path(), &traces);
    let whole = |file: std::path::PathBuf| async move {
        let store = Store::open(&file).await.expect("it opens");
        let text = archive::export(&store, "upstairs")
            .await
            .expect("it is there");
        store.close().await;
        text
    };
    let before = whole(file.clone()).await;

    let mut play = Play::begin(&file, "kitchen-zq77", 7).await;
    let refused = play
        .say("Ana", false, "@hobside delete this household")
        .await;
    assert_eq!(refused[0].data["code"], "keeper_only", "{refused:?}");
    let asked = play
        .say("Robin", false, "@hobside delete this household")
        .await;
    assert_eq!(asked[0].data["kind"], "ask", "{asked:?}");
    // Typed at once, "for good" is no confirmation.
    let asked = play
        .say("Robin", false, "@hobside delete this household for good")
        .await;
    assert_eq!(asked[0].data["kind"], "ask", "{asked:?}");
    let done = play.say("Robin", false, "1").await;
    assert_eq!(done[0].data["what"], "household", "{done:?}");
    // What was said last went to that chat, and was forgotten when it was sent.
    assert_no_trace(folder.path(), &traces);
    play.service.close().await.expect("closed");
    assert_no_trace(folder.path(), &traces);
    assert!(whole(file.clone()).await == before);
    backup::check(&file).await.expect("it is whole");
}

fn say(bridge: &mut Bridge, who: &str, id: &str, text: &str) -> Vec<Value> {
    bridge.send(&serde_json::json!({
        "type": "message", "chat": "c1", "id": id, "from": {"id": format!("u-{who}"), "name": who},
        "text": text, "at": "2026-10-14T18:00:00+01:00",
    }))
}

#[test]
fn at_the_box_it_takes_two_steps_and_no_bot() {
    let (folder, file) = kitchen();
    let mut bridge = Bridge::open(&file);
    say(
        &mut bridge,
        "Robin",
        "a1",
        "batch dal, 500 g red lentils, cooked 1200, fridge",
    );
    say(&mut bridge, "Quentin", "a2", "140 dal");
    say(&mut bridge, "Ana", "a3", "100 dal for Quentin");
    let forget = ["forget", "--chat", "c1", "--member", "quentin"];
    let busy = run(&file, &forget);
    assert!(
        busy.complaint.contains("another copy of the bot"),
        "{}",
        busy.complaint
    );
    bridge.close();
    printed(&file, &["backup"]);
    let told = printed(&file, &forget);
    assert!(told.contains("Nothing was done"), "{told}");
    assert!(
        told.contains("Copies that were made before still hold it"),
        "{told}"
    );
    assert_traces(folder.path(), &["Quentin"]);
    let nobody = run(
        &file,
        &["forget", "--chat", "c1", "--member", "Otto", "--for-good"],
    );
    assert!(
        nobody.complaint.contains("nobody here is called"),
        "{}",
        nobody.complaint
    );
    let keeper = run(
        &file,
        &["forget", "--chat", "c1", "--member", "Robin", "--for-good"],
    );
    assert!(
        keeper.complaint.contains("keeps this household"),
        "{}",
        keeper.complaint
    );
    let done = [&forget[..], &["--for-good"]].concat();
    let told = printed(&file, &done);
    assert!(told.starts_with("Quentin is deleted"), "{told}");
    assert_no_trace(folder.path(), &["Quentin"]);
    let books: Value = super::running::books(&file);
    let members = books["entries"].as_array().expect("a journal");
    let gone = members
        .iter()
        .filter(|entry| entry["member"] == "someone who left");
    assert_eq!(gone.count(), 2, "{members:?}");
    assert!(
        run(&file, &done)
            .complaint
            .contains("nobody here is called")
    );
    let household = ["forget", "--chat", "c1", "--household"];
    assert!(printed(&file, &household).contains("Nothing was done"));
    printed(&file, &[&household[..], &["--for-good"]].concat());
    assert_eq!(printed(&file, &["export", "--list"]), "");
    assert_no_trace(folder.path(), &["lentil", "Robin"]);
}

/// A number that an entry bears is never given to another message, so that nobody takes back what is not theirs.
#[test]
fn an_undo_after_a_deletion_takes_back_nothing_of_who_left() {
    let (_folder, file) = kitchen();
    let mut bridge = Bridge::open(&file);
    say(
        &mut bridge,
        "Robin",
        "b1",
        "batch dal, 500 g red lentils, cooked 1200, fridge",
    );
    say(&mut bridge, "Quentin", "b2", "140 dal");
    bridge.close();
    printed(
        &file,
        &[
            "forget",
            "--chat",
            "c1",
            "--member",
            "Quentin",
            "--for-good",
        ],
    );
    let mut bridge = Bridge::open(&file);
    say(&mut bridge, "Robin", "b3", "@hobside target 2000 kcal");
    say(&mut bridge, "Robin", "b4", "undo");
    bridge.close();
    let books: Value = super::running::books(&file);
    assert_eq!(books["lots"][0]["grams"], 1060.0, "{}", books["lots"]);
}

/// A kitchen in which Quentin ate; his number there.
fn with_quentin(file: &Path) -> MemberId {
    let mut bridge = Bridge::open(file);
    say(
        &mut bridge,
        "Robin",
        "c1",
        "batch dal, 500 g red lentils, cooked 1200, fridge",
    );
    say(&mut bridge, "Quentin", "c2", "140 dal");
    bridge.close();
    MemberId(2)
}

async fn forget(store: &Store, member: MemberId) {
    let mut transaction = store.begin().await.expect("it begins");
    let now = "2026-10-14T19:00:00Z".parse().expect("a time");
    let gone = transaction.forget_member(HouseholdId(1), member, None, now);
    gone.await.expect("deleted");
    transaction.commit().await.expect("committed");
}

/// Killed between the commit and the writing anew: the next start makes it good.
#[tokio::test]
async fn what_a_crash_left_in_the_file_goes_at_the_next_start() {
    let (folder, file) = kitchen();
    let quentin = with_quentin(&file);
    let store = Store::open(&file).await.expect("it opens");
    forget(&store, quentin).await;
    let traces = bytes(folder.path());
    let traces = traces.iter().any(|(_, bytes)| holds(bytes, "Quentin"));
    assert!(
        traces,
        "nothing was written anew yet: the test looks for nothing"
    );
    store.close().await;
    let bot = Store::open_alone(&file).await.expect("it opens");
    assert_no_trace(folder.path(), &["Quentin"]);
    assert_eq!(bot.scrub().await.expect("nothing is owed"), Scrubbed::Whole);
}

/// While somebody reads the old pages they cannot go; what is owed is not forgotten.
#[tokio::test]
async fn a_reader_holds_up_what_goes_and_no_more() {
    let (folder, file) = kitchen();
    let quentin = with_quentin(&file);
    let store = Store::open(&file).await.expect("it opens");
    let reader = Store::open_as_it_is(&file).await.expect("it opens");
    let mut look = reader.look().await.expect("it begins");
    look.journal(HouseholdId(1)).await.expect("it reads");
    forget(&store, quentin).await;
    assert_eq!(store.scrub().await.expect("it writes"), Scrubbed::Read);
    drop(look);
    reader.close().await;
    assert_eq!(store.scrub().await.expect("it writes"), Scrubbed::Whole);
    assert_no_trace(folder.path(), &["Quentin"]);
}

/// The guard is lifted for a household that goes as a whole, and stands again.
#[tokio::test]
async fn entries_are_guarded_after_a_household_has_gone() {
    let (_folder, file) = kitchen();
    with_quentin(&file);
    let store = Store::open(&file).await.expect("it opens");
    let schema =
        "select group_concat(sql, ';') from (select sql from sqlite_schema order by type, name)";
    let options = SqliteConnectOptions::new().filename(&file);
    let mut raw = options.connect().await.expect("it opens");
    let before: String = sqlx::query_scalar(schema)
        .fetch_one(&mut raw)
        .await
        .expect("it reads");
    let mut transaction = store.begin().await.expect("it begins");
    let gone = transaction.forget_household(HouseholdId(1), None);
    gone.await.expect("deleted");
    transaction.commit().await.expect("committed");
    store.scrub().await.expect("it writes");
    let after: String = sqlx::query_scalar(schema)
        .fetch_one(&mut raw)
        .await
        .expect("it reads");
    assert_eq!(before, after);
    store.close().await;
    let mut bridge = Bridge::open(&file);
    say(
        &mut bridge,
        "Ana",
        "d1",
        "batch rice, 400 g dry white rice, cooked 1150, fridge",
    );
    bridge.close();
    let refused = sqlx::query("delete from entry").execute(&mut raw).await;
    let refused = refused.expect_err("entries are never deleted").to_string();
    assert!(refused.contains("entries are never deleted"), "{refused}");
    raw.close().await.expect("it closes");
}
