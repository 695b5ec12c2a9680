//! What the doctor says of a file, in words, in JSON and by its exit code.

use std::path::Path;
use std::process::Command;

use serde_json::Value;
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection};

use super::running::{Bridge, Ended, HOBSIDE, cooked, ended, kitchen, printed};

fn doctor(file: &Path, token: Option<&str>, json: bool) -> Ended {
    let mut command = Command::new(HOBSIDE);
    command.arg("doctor").arg("--db").arg(file);
    if json {
        command.arg("--json");
    }
    for name in ["HOBSIDE_TELEGRAM_TOKEN", "HOBSIDE_TELEGRAM_TOKEN_FILE"] {
        command.env_remove(name);
    }
    if let Some(token) = token {
        command.env("HOBSIDE_TELEGRAM_TOKEN", token);
    }
    command.env("TZ", "Europe/Dublin");
    ended(&mut command)
}

fn found(ended: &Ended) -> Value {
    serde_json::from_str(&ended.out).expect(&ended.out)
}

#[track_caller]
fn finding<'a>(report: &'a Value, about: &str) -> &'a Value {
    let findings = report["findings"].as_array().expect("findings");
    let found = findings.iter().find(|finding| finding["about"] == about);
    found.unwrap_or_else(|| panic!("{about}: {report:#}"))
}

#[test]
fn a_healthy_kitchen_beside_its_bot() {
    let (_folder, file) = kitchen();
    let bot = cooked(&file);
    printed(&file, &["backup"]);
    let told = doctor(&file, Some("123456:an-invented_SECRET"), true);
    let report = found(&told);
    for about in [
        "token",
        "file",
        "running",
        "schema",
        "integrity",
        "chats",
        "privacy",
        "backups",
        "messages",
    ] {
        assert_eq!(finding(&report, about)["grade"], "fine", "{report:#}");
    }
    assert_eq!(finding(&report, "running")["process"], bot.child.id());
    assert_eq!(finding(&report, "chats")["chats"]["bridge"], 1);
    assert_eq!(finding(&report, "backups")["count"], 1);
    assert!(finding(&report, "file")["free_bytes"].as_u64() > Some(0));
    assert!(!told.out.contains("SECRET") && !told.complaint.contains("SECRET"));
    bot.close();
    let words = doctor(&file, Some("123456:an-invented_SECRET"), false).out;
    for part in [
        "token: there is one",
        "no bot has the file open",
        "every balance adds up",
        "1 in bridge",
        "none wait to be booked",
    ] {
        assert!(words.contains(part), "{part}: {words}");
    }
    assert!(!words.contains("SECRET"), "{words}");
}

/// Where a table begins in the file.
async fn page_of(file: &Path, table: &str) -> usize {
    let options = SqliteConnectOptions::new().filename(file).read_only(true);
    let mut raw = options.connect().await.expect("it opens");
    let page: i64 = sqlx::query_scalar("select rootpage from sqlite_schema where name = ?")
        .bind(table)
        .fetch_one(&mut raw)
        .await
        .expect("a table");
    raw.close().await.expect("it closes");
    usize::try_from(page).expect("a page")
}

#[tokio::test]
async fn what_should_be_looked_at_ends_with_3_and_what_is_wrong_with_4() {
    let (folder, file) = kitchen();
    cooked(&file).close();
    let no_copy = doctor(&file, None, true);
    assert_eq!(no_copy.code, 3, "{}", no_copy.out);
    assert_eq!(finding(&found(&no_copy), "backups")["grade"], "look");
    let bad_token = doctor(&file, Some("hunter2"), true);
    assert_eq!(bad_token.code, 4, "{}", bad_token.out);
    assert!(!bad_token.out.contains("hunter"), "{}", bad_token.out);
    let missing = doctor(&folder.path().join("none.db"), None, false);
    assert_eq!(missing.code, 4);
    assert!(
        missing.out.contains("there are no books at"),
        "{}",
        missing.out
    );
    let page = page_of(&file, "portion").await;
    let mut bytes = std::fs::read(&file).expect("it is there");
    bytes[(page - 1) * 4096..page * 4096 - 2000].fill(0xa5);
    std::fs::write(&file, bytes).expect("written");
    let damaged = doctor(&file, None, true);
    assert_eq!(damaged.code, 4, "{}", damaged.out);
    assert_eq!(finding(&found(&damaged), "integrity")["grade"], "wrong");
}

#[test]
fn looking_changes_nothing() {
    let (_folder, file) = kitchen();
    cooked(&file).close();
    let before = std::fs::read(&file).expect("it is there");
    doctor(&file, None, false);
    assert_eq!(std::fs::read(&file).expect("it is there"), before);
    Bridge::open(&file).close();
}
