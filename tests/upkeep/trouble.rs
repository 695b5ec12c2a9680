//! What is wrong with a file is said in words, and nothing is done to it.

use std::path::Path;
use std::process::Command;

use hobside::store::Error;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use sqlx::{ConnectOptions, Connection};

use super::running::{Bridge, HOBSIDE, books, cooked, ended, kitchen, printed, run};

async fn raw(file: &Path) -> SqliteConnection {
    let options = SqliteConnectOptions::new()
        .filename(file)
        .create_if_missing(true);
    options.connect().await.expect("it opens")
}

#[track_caller]
fn refused(file: &Path, arguments: &[&str], why: &str) {
    let ended = run(file, arguments);
    assert_eq!(ended.code, 1, "{arguments:?}: {}", ended.out);
    assert!(
        ended.complaint.contains(why),
        "{arguments:?}: {}",
        ended.complaint
    );
}

#[test]
fn a_second_bot_on_one_file_refuses_until_the_first_is_gone() {
    let (folder, file) = kitchen();
    let mut first = cooked(&file);
    let who = format!("(process {})", first.child.id());
    refused(&file, &["bridge"], "another copy of the bot has");
    refused(&file, &["bridge"], &who);
    refused(&file, &[], &who);
    let other_name = folder.path().join("link.db");
    #[cfg(unix)]
    std::os::unix::fs::symlink(&file, &other_name).expect("a second name");
    #[cfg(unix)]
    refused(&other_name, &["bridge"], &who);
    // Whoever only looks, or makes a code, may come beside it.
    assert_eq!(books(&file)["batches"][0]["name"], "lentil dal");
    assert!(!printed(&file, &["invite"]).is_empty());
    first.record("140 dal");
    // The lock goes with the process, however that ends.
    first.kill();
    let mut next = Bridge::open(&file);
    next.record("150 dal");
    next.close();
    Bridge::open(&file).close();
}

#[test]
fn anything_but_books_is_left_alone() {
    let (folder, file) = kitchen();
    let notes = b"onions, lentils, salt: a list that somebody keeps here, and no database at all\n";
    std::fs::write(&file, notes.repeat(40)).expect("written");
    for arguments in [
        &["bridge"][..],
        &["export", "--list"],
        &["backup"],
        &["invite"],
    ] {
        refused(&file, arguments, "something else than the books");
    }
    assert_eq!(std::fs::read(&file).expect("it is there"), notes.repeat(40));
    refused(folder.path(), &["bridge"], "is a folder");
    refused(
        &folder.path().join("none.db"),
        &["backup"],
        "there are no books at",
    );
    refused(
        &folder.path().join("none.db"),
        &["export", "--list"],
        "there are no books at",
    );
}

#[tokio::test]
async fn the_database_of_another_program_is_left_alone() {
    let (_folder, file) = kitchen();
    let mut other = raw(&file).await;
    sqlx::raw_sql("create table song (title text); insert into song values ('x');")
        .execute(&mut other)
        .await
        .expect("written");
    other.close().await.expect("closed");
    refused(&file, &["bridge"], "something else than the books");
    let mut other = raw(&file).await;
    let tables: Vec<String> = sqlx::query_scalar("select name from sqlite_schema")
        .fetch_all(&mut other)
        .await
        .expect("read");
    assert_eq!(tables, ["song"]);
}

/// Whoever may write everything is not stopped by a file's permissions: as another user, then.
#[cfg(unix)]
#[test]
fn a_file_that_cannot_be_written_is_refused_at_the_start() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt, chown};
    use std::os::unix::process::CommandExt;

    let (folder, file) = kitchen();
    cooked(&file).close();
    let binary = folder.path().join("hobside");
    std::fs::hard_link(HOBSIDE, &binary)
        .or_else(|_| std::fs::copy(HOBSIDE, &binary).map(|_| ()))
        .expect("the binary, where that user finds it");
    let root = std::fs::metadata(folder.path()).expect("it is there").uid() == 0;
    let start = || {
        let mut command = Command::new(&binary);
        if root {
            command.uid(65534).gid(65534);
        }
        command.arg("bridge").arg("--db").arg(&file);
        ended(&mut command)
    };
    let mode = |path: &Path, mode| {
        let permissions = PermissionsExt::from_mode(mode);
        std::fs::set_permissions(path, permissions).expect("set");
    };
    let lock = folder.path().join("hobside.db.lock");
    if root {
        for path in [folder.path(), &file, &lock] {
            chown(path, Some(65534), Some(65534)).expect("given away");
        }
    }
    mode(&file, 0o444);
    let refused = start();
    assert_eq!(refused.code, 1);
    assert!(
        refused.complaint.contains("can be read and not written"),
        "{}",
        refused.complaint
    );
    mode(&file, 0o644);
    mode(folder.path(), 0o555);
    let refused = start();
    assert_eq!(refused.code, 1);
    let complaint = &refused.complaint;
    assert!(
        complaint.contains("not write in its folder") || complaint.contains("not written"),
        "{complaint}"
    );
    mode(folder.path(), 0o755);
    let works = start();
    assert_eq!(works.code, 0, "{}", works.complaint);
}

#[tokio::test]
async fn a_full_disk_is_called_so() {
    let (_folder, file) = kitchen();
    cooked(&file).close();
    let mut small = raw(&file).await;
    let full = "pragma max_page_count = 1; create table more (x blob); \
                insert into more select zeroblob(100000) from entry, entry;";
    let cause = sqlx::raw_sql(full).execute(&mut small).await;
    let error = Error::Database {
        doing: "store a message",
        cause: cause.expect_err("it does not fit"),
    };
    let text = error.to_string();
    assert!(
        text.starts_with("could not store a message: there is no space left on the disk"),
        "{text}"
    );
}

/// The bridge's files may only grow so far for a while: every write beyond that fails as on a bad disk.
#[cfg(target_os = "linux")]
#[test]
fn what_does_not_fit_is_not_half_booked_and_goes_on_when_it_does() {
    let (_folder, file) = kitchen();
    cooked(&file).close();
    let entries = |file: &Path| books(file)["entries"].as_array().map_or(0, Vec::len);
    let before = entries(&file);
    let mut limited = Command::new("sh");
    let start = "trap '' XFSZ; exec \"$0\" bridge --timezone Europe/Dublin --db \"$1\" 2>/dev/null";
    limited.args(["-c", start, HOBSIDE]).arg(&file);
    let mut bridge = Bridge::start(&mut limited);
    bridge.record("100 dal");
    let process = bridge.child.id().to_string();
    let limit = |to: &str| {
        let mut command = Command::new("prlimit");
        command.args(["--pid", &process, &format!("--fsize={to}:unlimited")]);
        ended(&mut command).code == 0
    };
    if !limit("100000") {
        eprintln!("skipped: there is no prlimit here, or it is not allowed");
        return;
    }
    let is_error = |out: &[serde_json::Value]| out.last().expect("an end")["type"] == "error";
    let told = (0..30).map(|number| is_error(&bridge.say(&format!("{} dal", 101 + number))));
    let failed = told.filter(|failed| *failed).count();
    assert!(failed > 0, "the limit was met");
    assert!(limit("unlimited"), "it was allowed before");
    bridge.record("150 dal");
    bridge.close();
    assert!(entries(&file) > before + 1);
    let checked = printed(&file, &["backup"]);
    assert!(checked.contains("Read again and whole"), "{checked}");
}
