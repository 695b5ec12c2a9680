//! A household taken out and put into another file: nothing is lost, and nothing that breaks the books comes in.

use std::path::{Path, PathBuf};

use chrono::Duration;
use hobside::channel::{archive, export};
use hobside::store::archive::{Cell, brought_up_to_date};
use hobside::store::{HouseholdId, Store};
use serde_json::Value;
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{AssertSqlSafe, ConnectOptions, Connection};

use super::play::Play;
use super::running::{Bridge, HOBSIDE, books, cooked, ended, kitchen, printed, run};

async fn taken_out(file: &Path, chat: &str) -> String {
    let store = Store::open(file).await.expect("it opens");
    let text = archive::export(&store, chat).await.expect("it is there");
    store.close().await;
    text
}

async fn put_in(file: &Path, text: &str) -> anyhow::Result<String> {
    let archive = archive::read(text).await?;
    let store = Store::open(file).await?;
    let said = archive::import(&store, &archive).await;
    store.close().await;
    said
}

async fn books_of(file: &Path, chat: &str) -> String {
    let store = Store::open(file).await.expect("it opens");
    let text = export::books(&store, chat).await.expect("it is there");
    store.close().await;
    text
}

/// Whoever was in the file already is known there since another moment.
#[track_caller]
fn assert_same_but_for_people(here: &str, there: &str) {
    let here: Value = serde_json::from_str(here).expect("JSON");
    let mut there: Value = serde_json::from_str(there).expect("JSON");
    assert_ne!(here["tables"]["person"], there["tables"]["person"]);
    there["tables"]["person"] = here["tables"]["person"].clone();
    assert!(here == there);
}

/// Tables that may be empty after all that is played.
const MAY_BE_EMPTY: [&str; 0] = [];

#[tokio::test]
async fn what_is_taken_out_and_put_in_is_the_same_to_the_byte() {
    for seed in 1..=3 {
        let (_folder, file) = kitchen();
        let mut play = Play::begin(&file, "kitchen", seed).await;
        play.everything().await;
        play.random(40).await;
        play.service.close().await.expect("closed");
        drop(play);
        let text = taken_out(&file, "kitchen").await;
        let whole: Value = serde_json::from_str(&text).expect("JSON");
        for (name, table) in whole["tables"].as_object().expect("tables") {
            let rows = table["rows"].as_array().expect("rows").len();
            let may_be = MAY_BE_EMPTY.contains(&name.as_str());
            assert!(rows > 0 || may_be, "{name} is empty: play something of it");
        }

        // Into an empty file, and into one where others already count messages and people.
        let (_folder, empty) = kitchen();
        let (_folder, shared) = kitchen();
        let mut others = Play::begin(&shared, "upstairs", seed + 100).await;
        others.plainly().random(15).await;
        others.service.close().await.expect("closed");
        drop(others);
        let upstairs = taken_out(&shared, "upstairs").await;
        for other in [&empty, &shared] {
            put_in(other, &text).await.expect("it fits");
            let out = taken_out(other, "kitchen").await;
            match other == &empty {
                true => assert!(out == text, "{seed}"),
                false => assert_same_but_for_people(&out, &text),
            }
            let (here, there) = (
                books_of(&file, "kitchen").await,
                books_of(other, "kitchen").await,
            );
            assert!(here == there, "{seed}");
            hobside::store::backup::check(other)
                .await
                .expect("it is whole");
        }
        assert!(taken_out(&shared, "upstairs").await == upstairs, "{seed}");

        // And the bot goes on there as it would have here.
        for other in [&file, &empty] {
            let mut play = Play::begin(other, "kitchen", seed + 200).await;
            // What was said last in the chat is not taken along, and by then means nothing.
            play.now += Duration::days(1);
            play.random(10).await;
            play.service.close().await.expect("closed");
        }
        let (here, there) = (
            books_of(&file, "kitchen").await,
            books_of(&empty, "kitchen").await,
        );
        assert!(here == there, "{seed}");
    }
}

#[test]
fn the_commands_take_it_from_machine_to_machine() {
    let (folder, file) = kitchen();
    cooked(&file).close();
    let text = printed(&file, &["export", "--chat", "c1", "--format", "archive"]);
    let path = folder.path().join("kitchen.json");
    std::fs::write(&path, &text).expect("written");
    let (_folder, other) = kitchen();
    let said = printed(&other, &["import", "--from", path.to_str().expect("text")]);
    assert!(said.starts_with("c1 is in, with "), "{said}");
    assert_eq!(books(&other), books(&file));
    let (_folder, third) = kitchen();
    let mut command = std::process::Command::new("sh");
    let line = format!(
        "'{HOBSIDE}' import --db '{}' < '{}'",
        third.display(),
        path.display()
    );
    assert_eq!(ended(command.args(["-c", &line])).code, 0);
    assert_eq!(books(&third), books(&file));
    let mut bridge = Bridge::open(&third);
    bridge.record("150 dal");
    bridge.record("undo");
    bridge.close();
    let again = run(&other, &["import", "--from", path.to_str().expect("text")]);
    assert_eq!(again.code, 1);
    assert!(
        again.complaint.contains("is here already"),
        "{}",
        again.complaint
    );
    assert_eq!(books(&other), books(&file));
    let missing = run(&other, &["export", "--chat", "c2", "--format", "archive"]);
    assert!(
        missing.complaint.contains("no household has a chat"),
        "{}",
        missing.complaint
    );
}

/// Some change of an archive, and the words of the refusal.
type Spoil = (&'static str, fn(&mut Value));

fn cell<'a>(whole: &'a mut Value, table: &str, row: usize, column: &str) -> &'a mut Value {
    let table = &mut whole["tables"][table];
    let columns = table["columns"].as_array().expect("columns");
    let at = columns
        .iter()
        .position(|name| name == column)
        .expect("a column");
    &mut table["rows"][row][at]
}

fn row_where(whole: &Value, table: &str, column: &str, wanted: impl Fn(&Value) -> bool) -> usize {
    let table = &whole["tables"][table];
    let columns = table["columns"].as_array().expect("columns");
    let at = columns
        .iter()
        .position(|name| name == column)
        .expect("a column");
    let rows = table["rows"].as_array().expect("rows");
    rows.iter().position(|row| wanted(&row[at])).expect("a row")
}

fn moving(whole: &Value) -> usize {
    row_where(whole, "entry", "mass_mg", |mass| mass.as_i64() > Some(0))
}

const SPOILS: [Spoil; 16] = [
    ("newer version of this program", |it| {
        it["schema"] = 9999.into()
    }),
    ("there is no schema 6", |it| it["schema"] = 6.into()),
    ("another version", |it| it["version"] = 2.into()),
    ("balance that it gives", |it| {
        let row = moving(it);
        let mass = cell(it, "entry", row, "mass_mg");
        *mass = (mass.as_i64().expect("mg") + 1).into();
    }),
    ("a reversal mirrors its entry", |it| {
        let row = row_where(it, "entry", "reverses", |it| !it.is_null());
        let mass = cell(it, "entry", row, "mass_mg");
        *mass = (mass.as_i64().expect("mg") + 1).into();
    }),
    ("rules of the books", |it| {
        *cell(it, "entry", 0, "member_id") = 99.into()
    }),
    ("rules of the books", |it| {
        let row = moving(it);
        *cell(it, "entry", row, "mass_mg") = (-5).into();
    }),
    ("rules of the books", |it| {
        let row = moving(it);
        let from = cell(it, "entry", row, "from_id").clone();
        *cell(it, "entry", row, "to_id") = from;
    }),
    ("rules of the books", |it| {
        *cell(it, "batch", 0, "raw") = 7.into()
    }),
    ("does not fit its columns (mass_mg)", |it| {
        *cell(it, "entry", 3, "mass_mg") = "much".into()
    }),
    ("does not fit its columns (mass_mg)", |it| {
        *cell(it, "entry", 3, "mass_mg") = 0.5.into()
    }),
    ("the columns of batch", |it| {
        it["tables"]["batch"]["columns"][1] = "colour".into()
    }),
    ("the table packet is not in its place", |it| {
        it["tables"]
            .as_object_mut()
            .expect("tables")
            .shift_remove("packet");
    }),
    ("has no table secrets", |it| {
        it["tables"]["secrets"] = serde_json::json!({"columns": [], "rows": []});
    }),
    ("it lacks the account", |it| {
        let row = row_where(it, "account", "kind", |kind| kind == "poured");
        it["tables"]["account"]["rows"]
            .as_array_mut()
            .expect("rows")
            .remove(row);
    }),
    ("the books hold", |it| {
        *cell(it, "household", 0, "timezone") = "Mars/Olympus".into()
    }),
];

#[tokio::test]
async fn what_would_break_the_books_is_refused_and_nothing_changes() {
    let (_folder, file) = kitchen();
    cooked(&file).close();
    let text = taken_out(&file, "c1").await;
    let (_folder, target) = kitchen();
    let mut others = Play::begin(&target, "upstairs", 7).await;
    others.random(5).await;
    others.service.close().await.expect("closed");
    drop(others);
    let before = taken_out(&target, "upstairs").await;
    let mut wrong: Vec<(String, &str)> = SPOILS
        .iter()
        .map(|(words, spoil)| {
            let mut whole: Value = serde_json::from_str(&text).expect("JSON");
            spoil(&mut whole);
            (whole.to_string(), *words)
        })
        .collect();
    let lines: Vec<usize> = text.match_indices('\n').map(|(at, _)| at).collect();
    for cut in (1..lines.len() - 3).step_by(7) {
        wrong.push((text[..lines[cut]].to_owned(), "breaks off"));
        wrong.push((text[..lines[cut] - 2].to_owned(), "breaks off"));
    }
    wrong.push((format!("{text}more"), "not JSON"));
    wrong.push((books_of(&file, "c1").await, "not an archive"));
    for (text, words) in wrong {
        let refused = put_in(&target, &text).await.expect_err(words);
        let refused = format!("{refused:#}");
        assert!(refused.contains(words), "{words}: {refused}");
        let chats = printed(&target, &["export", "--list"]);
        assert_eq!(chats.lines().count(), 1, "{words}: {chats}");
        assert!(taken_out(&target, "upstairs").await == before, "{words}");
    }
    // None of it was the archive's fault.
    put_in(&target, &text).await.expect("it fits");
}

#[tokio::test]
async fn a_chat_or_an_account_of_somebody_else_is_not_taken_over() {
    let (_folder, file) = kitchen();
    cooked(&file).close();
    let text = taken_out(&file, "c1").await;
    let (_folder, target) = kitchen();
    cooked(&target).close();
    let refused = put_in(&target, &text.replace("2026-10-14T17", "2026-10-13T17")).await;
    let refused = format!("{:#}", refused.expect_err("the chat is taken"));
    assert!(
        refused.contains("the chat bridge:c1 belongs to"),
        "{refused}"
    );

    // Whoever writes an archive says that an account of theirs is Robin's, too.
    let elsewhere = text
        .replace("\"c1\"", "\"c2\"")
        .replace("2026-10-14T17", "2026-10-13T17");
    let mut whole: Value = serde_json::from_str(&elsewhere).expect("JSON");
    let accounts = whole["tables"]["identity"]["rows"]
        .as_array_mut()
        .expect("rows");
    accounts.push(serde_json::json!(["bridge", "u666", 1]));
    let refused = put_in(&target, &whole.to_string()).await;
    let refused = format!("{:#}", refused.expect_err("another account"));
    assert!(refused.contains("are not one person's here"), "{refused}");
    // Robin in both is one person.
    put_in(&target, &elsewhere).await.expect("it fits");
    assert_same_but_for_people(&taken_out(&target, "c2").await, &elsewhere);
}

fn kept(schema: i64) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/upkeep/files");
    folder.join(format!("{schema:04}.sql"))
}

/// An archive of an earlier schema comes to what the file would, had it been brought up to date first.
#[tokio::test]
async fn archives_of_every_earlier_schema_are_taken_in() {
    let mut tried = 0;
    for schema in 1..=Store::schema() {
        let Ok(sql) = std::fs::read_to_string(kept(schema)) else {
            continue;
        };
        let (_folder, file) = kitchen();
        let options = SqliteConnectOptions::new()
            .filename(&file)
            .create_if_missing(true);
        let mut raw = options
            .foreign_keys(false)
            .connect()
            .await
            .expect("it opens");
        let loaded = sqlx::raw_sql(AssertSqlSafe(sql)).execute(&mut raw).await;
        loaded.expect("it loads");
        raw.close().await.expect("it closes");

        let store = Store::open_as_it_is(&file).await.expect("it opens");
        let mut look = store.look().await.expect("it reads");
        let old = look.take_out(HouseholdId(1)).await.expect("it is there");
        drop(look);
        store.close().await;
        assert_eq!(old.schema, schema);
        let brought = brought_up_to_date(&old).await.expect("it is taken in");

        let store = Store::open(&file).await.expect("it is brought up to date");
        let mut look = store.look().await.expect("it reads");
        let new = look.take_out(HouseholdId(1)).await.expect("it is there");
        assert_eq!(brought.schema, Store::schema());
        for (brought, new) in brought.tables.iter().zip(&new.tables) {
            if brought.name == "schedule" && schema < 11 {
                // The moment at which it was brought up to date.
                assert_eq!(brought.rows.len(), new.rows.len());
                continue;
            }
            assert_eq!(brought, new, "{schema}");
        }
        assert!(
            new.table("entry")
                .is_some_and(|table| table.rows.len() > 30)
        );
        let names = new.table("household").expect("one").rows[0].clone();
        assert!(names.contains(&Cell::Text("c1".to_owned())), "{names:?}");
        tried += 1;
    }
    assert!(tried > 12);
}
