//! The power goes: a write-ahead log that ends anywhere, or in garbage; a checkpoint that got half way; and a disk that does
//! not do what it is told. What was acknowledged is in the books unless its own bytes are gone, and nothing is half there.

use std::path::{Path, PathBuf};
use std::process::Command;

use hobside::store::Store;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use sqlx::{ConnectOptions, Connection, Row};

use super::chance::Chance;
use super::running::{Bridge, HOBSIDE, books, cooked, ended, kitchen};

/// The head of a log, and of each of its frames (sqlite.org/walformat.html).
const LOG_HEAD: usize = 32;
const FRAME_HEAD: usize = 24;

/// Books, a log beside them, and what was in the books each time that an answer came.
struct Outage {
    folder: tempfile::TempDir,
    books: Vec<u8>,
    log: Vec<u8>,
    /// How long the log was, and what was in the books by then.
    answered: Vec<(usize, Rows)>,
    frame: usize,
}

/// What was said, with what became of it, and the journal.
#[derive(Debug, Clone, PartialEq)]
struct Rows {
    messages: Vec<String>,
    entries: Vec<String>,
}

async fn rows(file: &Path) -> Rows {
    let options = SqliteConnectOptions::new().filename(file);
    let mut books = options.connect().await.expect("it opens");
    let read = async |books: &mut SqliteConnection, sql: &'static str| -> Vec<String> {
        let rows = sqlx::query(sql).fetch_all(books).await.expect("it reads");
        rows.iter().map(|row| row.get(0)).collect()
    };
    let rows = Rows {
        messages: read(&mut books, "select message_id || ' ' || body || ' ' || coalesce(outcome, '') from message order by message_id").await,
        entries: read(&mut books, "select concat_ws(' ', household_id, entry_id, kind, from_id, to_id, mass_mg, reverses) from entry order by 1, entry_id").await,
    };
    books.close().await.expect("closed");
    rows
}

fn log_of(file: &Path) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push("-wal");
    name.into()
}

impl Outage {
    /// A kitchen whose log was never brought home.
    async fn new() -> Self {
        let (folder, file) = kitchen();
        cooked(&file).close();
        let before = std::fs::read(&file).expect("it is there");
        let mut answered = vec![(0, rows(&file).await)];
        let mut bridge = Bridge::open(&file);
        for text in [
            "150 dal",
            "undo",
            "160 dal",
            "recount: dal 1200",
            "threw away 30 dal",
        ] {
            bridge.record(text);
            let length = std::fs::metadata(log_of(&file)).expect("a log").len();
            answered.push((length as usize, rows(&file).await));
        }
        bridge.kill();
        let after = std::fs::read(&file).expect("it is there");
        assert!(before == after, "the log was brought home: say less");
        let log = std::fs::read(log_of(&file)).expect("a log");
        let page = u32::from_be_bytes(log[8..12].try_into().expect("four bytes"));
        Self {
            folder,
            books: after,
            log,
            answered,
            frame: FRAME_HEAD + page as usize,
        }
    }

    /// Start on such books and such a log; whatever is found must be whole, and as it once was. Gives how many
    /// answers of the last run are in it.
    async fn found(&self, books: &[u8], log: &[u8]) -> usize {
        let file = self.folder.path().join("found.db");
        std::fs::write(&file, books).expect("written");
        std::fs::write(log_of(&file), log).expect("written");
        let store = Store::open_alone(&file).await.expect("it opens");
        store.check(&file).await.expect("it is whole");
        let found = rows(&file).await;
        store.close().await;
        let mut answered = self.answered.iter().map(|(_, rows)| rows);
        let place = answered.position(|rows| rows.entries.len() >= found.entries.len());
        let place = place.expect("no more than was ever there");
        let then = &self.answered[place].1;
        assert_eq!(found.entries, then.entries, "as after answer {place}");
        // The next message may have been stored, and waits.
        let next = &self.answered[(place + 1).min(self.answered.len() - 1)].1;
        let (last, all_but) = found.messages.split_last().expect("messages");
        let waits =
            last.ends_with(' ') && next.messages.iter().any(|it| it.starts_with(last.as_str()));
        let told = found.messages == then.messages;
        assert!(told || waits && all_but == then.messages, "{found:?}");
        place
    }

    /// Answers that came before the log was so long.
    fn answered_by(&self, length: usize) -> usize {
        let answered = self.answered.iter();
        answered.filter(|(log, _)| *log <= length).count() - 1
    }
}

#[tokio::test]
async fn a_log_that_ends_anywhere_gives_books_that_once_were() {
    let outage = Outage::new().await;
    let mut chance = Chance(20);
    let ends: Vec<usize> = (LOG_HEAD..=outage.log.len())
        .step_by(outage.frame)
        .collect();
    assert!(ends.len() > 30 && ends.last() == Some(&outage.log.len()));
    let anywhere: Vec<usize> = (0..40).map(|_| chance.below(outage.log.len())).collect();
    for end in ends.into_iter().chain(anywhere).chain([0, 1, LOG_HEAD - 1]) {
        let found = outage.found(&outage.books, &outage.log[..end]).await;
        assert_eq!(found, outage.answered_by(end), "cut at {end}");
        // The file was made longer, and its bytes did not follow.
        let mut zeros = outage.log.clone();
        zeros[end..].fill(0);
        if end % 3 == 0 {
            let found = outage.found(&outage.books, &zeros).await;
            assert!(found >= outage.answered_by(end), "zeros from {end}");
        }
    }
}

#[tokio::test]
async fn a_log_with_garbage_in_it_gives_books_from_before_the_garbage() {
    let outage = Outage::new().await;
    let mut chance = Chance(21);
    for _ in 0..60 {
        let at = LOG_HEAD + chance.below(outage.log.len() - LOG_HEAD);
        let mut log = outage.log.clone();
        let end = (at + 512).min(log.len());
        for byte in &mut log[at..end] {
            *byte ^= 1 + chance.below(255) as u8;
        }
        let found = outage.found(&outage.books, &log).await;
        assert_eq!(found, outage.answered_by(at), "garbage at {at}");
    }
}

/// Pages of the log are brought home in any order, and the power goes between any two sectors: the log still has them all.
#[tokio::test]
async fn a_log_that_was_brought_home_in_part_loses_nothing() {
    let outage = Outage::new().await;
    let home = outage.folder.path().join("home.db");
    std::fs::write(&home, &outage.books).expect("written");
    std::fs::write(log_of(&home), &outage.log).expect("written");
    let options = SqliteConnectOptions::new().filename(&home);
    let mut bringing = options.connect().await.expect("it opens");
    let bring = sqlx::raw_sql("pragma wal_checkpoint(truncate)");
    bring.execute(&mut bringing).await.expect("brought home");
    let whole = std::fs::read(&home).expect("it is there");
    assert!(whole != outage.books);
    let mut chance = Chance(22);
    for _ in 0..30 {
        let mut half = outage.books.clone();
        half.resize(whole.len().max(half.len()), 0);
        for sector in (0..whole.len()).step_by(512) {
            if chance.below(2) == 0 {
                half[sector..sector + 512].copy_from_slice(&whole[sector..sector + 512]);
            }
        }
        let found = outage.found(&half, &outage.log).await;
        assert_eq!(found, outage.answered.len() - 1);
    }
}

/// Between the bot and the system: while a file of that name is there, nothing is brought to the disk.
const LYING_DISK: &str = r#"
#include <errno.h>
#include <stdlib.h>
#include <sys/syscall.h>
#include <unistd.h>
static int failing(void) {
    const char *name = getenv("HOBSIDE_TEST_DISK_FAILS");
    return name != NULL && access(name, F_OK) == 0;
}
int fsync(int file) {
    if (failing()) { errno = EIO; return -1; }
    return syscall(SYS_fsync, file);
}
int fdatasync(int file) {
    if (failing()) { errno = EIO; return -1; }
    return syscall(SYS_fdatasync, file);
}
"#;

/// The library that lies, where there is a compiler.
fn lying_disk(folder: &Path) -> Option<PathBuf> {
    let (source, library) = (folder.join("disk.c"), folder.join("disk.so"));
    std::fs::write(&source, LYING_DISK).expect("written");
    let mut compiler = Command::new("cc");
    compiler
        .args(["-shared", "-fPIC", "-o"])
        .arg(&library)
        .arg(&source);
    compiler
        .output()
        .is_ok_and(|built| built.status.success())
        .then_some(library)
}

#[cfg(target_os = "linux")]
#[test]
fn a_disk_that_fails_to_sync_is_told_of_and_books_nothing_twice() {
    let (folder, file) = kitchen();
    cooked(&file).close();
    let Some(library) = lying_disk(folder.path()) else {
        eprintln!("skipped: there is no C compiler here");
        return;
    };
    let fails = folder.path().join("fails");
    let open = || {
        let mut command = Command::new(HOBSIDE);
        command
            .args(["bridge", "--timezone", "Europe/Dublin", "--db"])
            .arg(&file);
        command
            .env("LD_PRELOAD", &library)
            .env("HOBSIDE_TEST_DISK_FAILS", &fails);
        Bridge::start(&mut command)
    };
    let line = |number: u32| {
        serde_json::json!({"type": "message", "chat": "c1", "id": format!("x{number}"), "text": format!("{} dal", 20 + number),
            "from": {"id": "u1", "name": "Robin"}, "at": "2026-10-14T19:00:00+01:00"})
    };
    let mut bridge = open();
    for number in 0..12 {
        bridge.send(&line(number));
        std::fs::write(&fails, "").expect("written");
        let told = bridge.send(&line(20 + number)).pop().expect("an end");
        assert_eq!(told["type"], "error", "{told}");
        let text = told["text"].as_str().expect("words");
        assert!(text.contains("the disk failed"), "{text}");
        // It goes on by itself, or in another life.
        if number % 2 == 0 {
            std::fs::remove_file(&fails).expect("it was there");
        } else {
            bridge.kill();
            std::fs::remove_file(&fails).expect("it was there");
            bridge = open();
        }
        let again = bridge.send(&line(20 + number)).pop().expect("an end");
        let outcome = &again["outcome"];
        assert!(outcome == "recorded" || outcome == "repeated", "{again}");
    }
    bridge.close();
    let kept = books(&file);
    let grams = |number: u32| {
        let entries = kept["entries"].as_array().expect("entries").iter();
        let wanted = f64::from(20 + number);
        entries
            .filter(|entry| {
                entry["kind"] == "portion" && entry["grams"] == -wanted || entry["grams"] == wanted
            })
            .count()
    };
    for number in (0..12).chain(20..32) {
        assert_eq!(grams(number), 1, "{} dal: {kept:#}", 20 + number);
    }
    let mut check = Command::new(HOBSIDE);
    check.arg("backup").arg("--db").arg(&file);
    let checked = ended(&mut check);
    assert!(
        checked.out.contains("Read again and whole"),
        "{}",
        checked.complaint
    );
}

/// A program beside the bot that does not let go of the file.
#[tokio::test]
async fn a_file_that_another_program_holds_is_called_so_and_waited_for() {
    let (_folder, file) = kitchen();
    let mut bridge = cooked(&file);
    let options = SqliteConnectOptions::new().filename(&file);
    let mut other = options.connect().await.expect("it opens");
    sqlx::raw_sql("begin immediate")
        .execute(&mut other)
        .await
        .expect("held");
    let told = bridge.say("150 dal").pop().expect("an end");
    let text = told["text"].as_str().unwrap_or_default();
    assert!(text.contains("another program holds the file"), "{told}");
    sqlx::raw_sql("rollback")
        .execute(&mut other)
        .await
        .expect("let go");
    bridge.record("160 dal");
    bridge.close();
}
