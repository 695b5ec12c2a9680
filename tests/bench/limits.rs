//! What things cost beside what they cannot cost less than, measured in the same run and in turns, so that a busy
//! machine changes neither's share. `cargo bench --bench limits`; reading a message has a bench of its own, `parse`.

#[path = "history.rs"]
mod history;

use std::hint::black_box;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use chrono::{DateTime, Utc};
use history::Kitchen;
use hobside::foods::table;
use hobside::store::Store;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqliteSynchronous};
use sqlx::{ConnectOptions, Executor};

const HOBSIDE: &str = env!("CARGO_BIN_EXE_hobside");

fn main() {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(1)
        .enable_all()
        .build();
    runtime.expect("it starts").block_on(all());
    names();
    let megabytes = std::fs::metadata(HOBSIDE).expect("it is built").len() as f64 / 1e6;
    row("binary", "at most 20 MB", &format!("{megabytes:.1} MB"));
}

fn row(what: &str, bar: &str, found: &str) {
    println!("{what:<44} {bar:<28} {found}");
}

async fn all() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let now: DateTime<Utc> = "2026-10-14T18:00:00Z".parse().expect("a time");
    let (week, years) = (
        folder.path().join("week.db"),
        folder.path().join("years.db"),
    );
    let ended = history::write(&week, now, false).await;
    let ended_too = history::write(&years, now, true).await;
    assert_eq!(ended, ended_too);
    let store = Store::open(&years).await.expect("it opens");
    println!(
        "{} entries in the large file\n",
        store.entry_count().await.expect("counted")
    );
    store.close().await;
    start(&week, &years);
    let mut week = Kitchen::open(&week, ended).await;
    let mut years = Kitchen::open(&years, ended).await;
    message(folder.path(), &mut week).await;
    for text in ["what's left", "PLATE rice"] {
        let [short, long] = in_turns(text, &mut week, &mut years).await;
        let ratio = long.as_secs_f64() / short.as_secs_f64();
        let what = format!(
            "{} with {} years",
            text.replace("PLATE", "a plate of"),
            history::YEARS
        );
        row(
            &what,
            "at most 1.2 x a week",
            &format!("{ratio:.2} x ({long:.0?} and {short:.0?})"),
        );
    }
}

fn middle(mut times: Vec<Duration>) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}

/// No weight twice in a row: it might be one plate that was told twice.
fn said(text: &str, round: usize) -> String {
    text.replace("PLATE", &(40 + round * 7 % 53).to_string())
}

async fn in_turns(text: &str, one: &mut Kitchen, other: &mut Kitchen) -> [Duration; 2] {
    let mut times = [Vec::new(), Vec::new()];
    for round in 0..150 {
        for (times, kitchen) in times.iter_mut().zip([&mut *one, &mut *other]) {
            let start = Instant::now();
            kitchen.say(&said(text, round)).await;
            times.push(start.elapsed());
        }
    }
    times.map(middle)
}

/// A plate through the bridge's path, beside two commits of its bytes to the same disk.
async fn message(folder: &Path, kitchen: &mut Kitchen) {
    let options = SqliteConnectOptions::new()
        .filename(folder.join("bare.db"))
        .create_if_missing(true)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full);
    let mut bare = options.connect().await.expect("it opens");
    let table = "create table line (id integer primary key, bytes blob)";
    bare.execute(table).await.expect("created");
    // A stored message, and what is booked and answered to it.
    let bytes = [200_usize, 1800];
    let (mut own, mut least) = (Vec::new(), Vec::new());
    for round in 0..400 {
        let start = Instant::now();
        for size in bytes {
            let line = sqlx::query("insert into line (bytes) values (?)").bind(vec![7_u8; size]);
            line.execute(&mut bare).await.expect("committed");
        }
        least.push(start.elapsed());
        let start = Instant::now();
        kitchen.say(&said("PLATE rice", round)).await;
        own.push(start.elapsed());
    }
    let whole: Duration = own.iter().sum();
    let rate = own.len() as f64 / whole.as_secs_f64();
    let (own, least) = (middle(own), middle(least));
    let ratio = own.as_secs_f64() / least.as_secs_f64();
    row(
        "a plate, booked and answered",
        "at most 2.5 x two commits",
        &format!("{ratio:.2} x ({own:.0?} and {least:.0?})"),
    );
    row(
        "",
        "at least 1000 a second",
        &format!("{rate:.0} a second, one after the other"),
    );
}

/// A name with two letters exchanged, beside the name itself.
fn names() {
    let foods = table().foods();
    let mut times = [Vec::new(), Vec::new()];
    for (number, food) in foods.iter().enumerate() {
        let name: String = food
            .description
            .split(',')
            .next()
            .unwrap_or_default()
            .to_lowercase();
        let mut typed: Vec<char> = name.chars().collect();
        if typed.len() > 4 {
            let at = 1 + number % (typed.len() - 3);
            typed.swap(at, at + 1);
        }
        for (times, name) in times.iter_mut().zip([name, typed.into_iter().collect()]) {
            let start = Instant::now();
            black_box(table().find(&name));
            times.push(start.elapsed());
        }
    }
    for times in &mut times {
        times.sort_unstable();
    }
    let at = |times: &[Duration]| times[(times.len() - 1) * 99 / 100];
    let [known, typed] = [at(&times[0]), at(&times[1])];
    let ratio = typed.as_secs_f64() / known.as_secs_f64();
    let found = format!("{typed:.0?} at the 99th percentile, {ratio:.1} x the right name");
    row("a name with a typo", "at most 1 ms", &found);
}

/// From the start of the program to its first answer, beside a program that only says its version.
fn start(week: &Path, years: &Path) {
    let bare = || {
        let start = Instant::now();
        Command::new(HOBSIDE)
            .arg("--version")
            .output()
            .expect("it runs");
        start.elapsed()
    };
    let least = middle((0..9).map(|_| bare()).collect());
    for (file, what) in [
        (week, "start to first answer"),
        (years, "the same with 300,000 entries"),
    ] {
        let mut memory = 0.0;
        let times = (0..9).map(|_| {
            let (took, resident) = first_answer(file);
            memory = resident;
            took
        });
        let took = middle(times.collect());
        let ratio = took.as_secs_f64() / least.as_secs_f64();
        row(
            what,
            "at most 100 ms",
            &format!("{took:.0?}, {ratio:.1} x --version"),
        );
        row(
            "",
            "at most 20 MB, one household",
            &format!("{memory:.1} MB resident"),
        );
    }
}

fn first_answer(file: &Path) -> (Duration, f64) {
    let start = Instant::now();
    let mut child = Command::new(HOBSIDE)
        .args(["bridge", "--timezone", "Europe/Dublin", "--db"])
        .arg(file)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut input = child.stdin.take().expect("piped");
    let output = BufReader::new(child.stdout.take().expect("piped"));
    let id = format!("s{}", child.id());
    let line = serde_json::json!({"type": "message", "chat": "c1", "id": id, "text": "what's left",
        "from": {"id": "u1", "name": "Robin"}});
    writeln!(input, "{line}").expect("it reads");
    let answered = output
        .lines()
        .any(|line| line.expect("it writes").contains("\"done\""));
    let took = start.elapsed();
    assert!(answered);
    let status =
        std::fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap_or_default();
    let resident = status.lines().find_map(|line| line.strip_prefix("VmRSS:"));
    let kilobytes = resident.and_then(|line| line.trim().strip_suffix(" kB")?.parse::<f64>().ok());
    drop(input);
    child.wait().expect("it ends");
    (took, kilobytes.unwrap_or(f64::NAN) / 1e3)
}
