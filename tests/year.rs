//! A year through the bridge in seconds: hourly ticks, a household that cooks, restarts by a kill at random lines, a week
//! without the bot. What is owed is reckoned here by plain loops and tables of offsets, without a library of zones; every
//! note and every timer of the year must be accounted for, once.
//!
//! One zone and ninety days in a run of all tests; `HOBSIDE_YEAR=1` plays 366 days in four zones.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufRead, BufReader, Read, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use chrono::{DateTime, Duration, NaiveDate, NaiveTime, Utc};
use serde_json::{Value, json};
use sqlx::Row;

/// A zone as its offsets: from a moment on, so many minutes east. The rules are from memory, and the dates by hand.
struct Zone {
    name: &'static str,
    offsets: &'static [(&'static str, i64)],
    /// A time of day that is leapt over, or comes twice, where there is one.
    morning: &'static str,
}

const ZONES: [Zone; 4] = [
    Zone {
        name: "Europe/Dublin",
        offsets: &[
            ("2026-01-01T00:00:00Z", 0),
            ("2026-03-29T01:00:00Z", 60),
            ("2026-10-25T01:00:00Z", 0),
        ],
        morning: "1:30am",
    },
    Zone {
        name: "America/New_York",
        offsets: &[
            ("2026-01-01T00:00:00Z", -300),
            ("2026-03-08T07:00:00Z", -240),
            ("2026-11-01T06:00:00Z", -300),
        ],
        morning: "2:15am",
    },
    Zone {
        name: "Australia/Lord_Howe",
        offsets: &[
            ("2026-01-01T00:00:00Z", 660),
            ("2026-04-04T15:00:00Z", 630),
            ("2026-10-03T15:30:00Z", 660),
        ],
        morning: "1:45am",
    },
    Zone {
        name: "Asia/Tokyo",
        offsets: &[("2026-01-01T00:00:00Z", 540)],
        morning: "2:15am",
    },
];

fn moment(text: &str) -> DateTime<Utc> {
    text.parse().expect("a moment")
}

impl Zone {
    fn offset(&self, at: DateTime<Utc>) -> i64 {
        let known = self.offsets.iter().rev();
        let mut begun = known.filter(|(from, _)| moment(from) <= at);
        begun.next().expect("there is one before").1
    }

    fn date(&self, at: DateTime<Utc>) -> NaiveDate {
        (at + Duration::minutes(self.offset(at))).date_naive()
    }

    /// When a clock on the wall first shows a time of a date, or has leapt over it.
    fn shows(&self, on: NaiveDate, time: NaiveTime) -> DateTime<Utc> {
        let wall = on.and_time(time).and_utc();
        let mut at = wall - Duration::hours(14);
        loop {
            let shown = at + Duration::minutes(self.offset(at));
            if shown >= wall {
                return at;
            }
            at += Duration::minutes(1);
        }
    }
}

struct Bridge {
    child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
}

impl Bridge {
    fn open(file: &Path, zone: &str) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_hobside"))
            .args(["bridge", "--timezone", zone, "--db"])
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

    fn send(&mut self, line: &Value, out: &mut Vec<Value>) {
        writeln!(self.input, "{line}").expect("it reads");
        loop {
            let mut text = String::new();
            self.output.read_line(&mut text).expect("it writes");
            let value: Value = serde_json::from_str(&text).expect(&text);
            assert_ne!(value["type"], "error", "{line}: {value}");
            let last = value["type"] == "done";
            out.push(value);
            if last {
                return;
            }
        }
    }

    /// Send a line and kill the bridge, wherever it is in handling it.
    fn kill_at(mut self, line: &Value, out: &mut Vec<Value>) {
        let _ = writeln!(self.input, "{line}");
        self.child.kill().expect("it is there");
        self.child.wait().expect("it ends");
        // What it had said by then is said.
        let mut rest = String::new();
        self.output.read_to_string(&mut rest).expect("it reads");
        let whole = rest
            .split_inclusive('\n')
            .filter(|line| line.ends_with('\n'));
        out.extend(whole.map(|line| serde_json::from_str::<Value>(line).expect(line)));
    }
}

/// A little chance, the same in every run.
struct Chance(u64);

impl Chance {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        (self.0 >> 33) % most
    }
}

/// One line in, and when.
struct Line {
    at: DateTime<Utc>,
    text: Option<String>,
}

/// What a household of four says over so many days, and the ticks between.
fn lines(zone: &Zone, start: DateTime<Utc>, days: i64, chance: &mut Chance) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut say = |at, text: &str| {
        lines.push(Line {
            at,
            text: Some(text.to_owned()),
        });
    };
    say(
        start,
        "batch dal, 400 g red lentils, 900 g water, cooked 1200",
    );
    say(start + Duration::minutes(1), "no quiet hours");
    say(
        start + Duration::minutes(2),
        &format!("morning notes at {}", zone.morning),
    );
    for day in 0..days {
        let midnight = start + Duration::days(day);
        // A week without the bot: nobody writes either.
        let away = (40..47).contains(&day);
        for hour in 1..24 {
            let at = midnight + Duration::hours(hour);
            if !away {
                lines.push(Line { at, text: None });
            }
            let minute = 5 + chance.below(50) as i64;
            let at = at + Duration::minutes(minute);
            let text = match (day % 3, hour) {
                (0, 8) => "batch dal, 400 g red lentils, 900 g water, cooked 1200",
                (1, 8) => "140 dal",
                (1, 9) => "35 min dal",
                (2, 10) => "timer 50 min rice",
                (2, 20) => "recount: dal 0",
                _ => continue,
            };
            if !away {
                lines.push(Line {
                    at,
                    text: Some(text.to_owned()),
                });
            }
        }
    }
    lines.sort_by_key(|line| line.at);
    lines
}

/// What must be looked at when: plain loops over dates and lines.
struct Owed {
    /// By date: when it is due, and the line at which it is looked at.
    mornings: BTreeMap<NaiveDate, (DateTime<Utc>, DateTime<Utc>)>,
    /// When each timer is due.
    timers: Vec<DateTime<Utc>>,
}

fn owed(zone: &Zone, lines: &[Line]) -> Owed {
    let time = NaiveTime::parse_from_str(zone.morning, "%I:%M%p").expect("a time of day");
    let set = lines[2].at;
    let end = lines.last().expect("there are lines").at;
    let minutes = |line: &Line| match line.text.as_deref() {
        Some("35 min dal") => Some(35),
        Some("timer 50 min rice") => Some(50),
        _ => None,
    };
    let timers: Vec<DateTime<Utc>> = lines
        .iter()
        .filter_map(|line| Some(line.at + Duration::minutes(minutes(line)?)))
        .filter(|due| *due <= end)
        .collect();
    let mut mornings = BTreeMap::new();
    let mut on = zone.date(set);
    while zone.shows(on, time) <= end {
        let due = zone.shows(on, time);
        on = on.succ_opt().expect("another day");
        if due <= set {
            continue;
        }
        // With a timer that rings, what is due within a quarter of an hour is said as well.
        let mut before = None;
        let mut looked = None;
        for line in lines.iter().filter(|line| line.at > set) {
            let rings = timers
                .iter()
                .any(|timer| *timer <= line.at && before.is_none_or(|before| *timer > before));
            let until = line.at + Duration::minutes(if rings { 15 } else { 0 });
            // One of an earlier day waits for the day's own, if that is still to come.
            let today = zone.date(line.at);
            let waits = today >= on && zone.shows(today, time) > until;
            if due <= until && !waits {
                looked = Some(line.at);
                break;
            }
            before = Some(line.at);
        }
        if let Some(looked) = looked {
            mornings.insert(on.pred_opt().expect("a day before"), (due, looked));
        }
    }
    Owed { mornings, timers }
}

fn play(zone: &Zone, days: i64, kills: u64) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let file = folder.path().join("books.db");
    let mut chance = Chance(days as u64);
    let start = moment("2026-01-20T00:00:30Z");
    let lines = lines(zone, start, days, &mut chance);
    let owed = owed(zone, &lines);
    let mut out = Vec::new();
    let mut bridge = Bridge::open(&file, zone.name);
    let every = lines.len() as u64 / kills;
    for (number, line) in lines.iter().enumerate() {
        let at = line.at.to_rfc3339();
        let sent = match &line.text {
            None => json!({"type": "tick", "at": at}),
            Some(text) => {
                json!({"type": "message", "chat": "c1", "id": format!("m{number}"), "text": text,
                                 "from": {"id": format!("u{}", number % 4)}, "at": at})
            }
        };
        if chance.below(every) == 0 {
            bridge.kill_at(&sent, &mut out);
            bridge = Bridge::open(&file, zone.name);
        }
        bridge.send(&sent, &mut out);
    }
    drop(bridge.input);
    bridge.child.wait().expect("it ends");
    account_for(zone, &owed, &out, &rows(&file, "morning"));
    // Every date has its evening too; who plans nothing is told nothing.
    let evenings = rows(&file, "evening");
    let follows = |pair: &[Kept]| pair[0].0.succ_opt() == Some(pair[1].0);
    assert!(evenings.windows(2).all(follows), "{}", zone.name);
    assert!(evenings.len() + 1 >= owed.mornings.len(), "{}", zone.name);
    assert!(evenings.iter().all(|row| row.3 != "said"), "{}", zone.name);
}

/// What the books say came of a note: its date, when it was due, when looked at, what came of it.
type Kept = (NaiveDate, DateTime<Utc>, DateTime<Utc>, String);

/// What came of each note of a kind.
fn rows(file: &Path, kind: &'static str) -> Vec<Kept> {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build();
    runtime.expect("it starts").block_on(async {
        let options = sqlx::sqlite::SqliteConnectOptions::new().filename(file);
        let pool = sqlx::sqlite::SqlitePool::connect_with(options)
            .await
            .expect("it opens");
        let query =
            "select occurrence, due_at, looked_at, came_to from note_said where kind = ? order by occurrence";
        let rows = sqlx::query(query)
            .bind(kind)
            .fetch_all(&pool)
            .await
            .expect("they read");
        let rows = rows.iter();
        rows.map(|row| {
            let text = |column: &str| row.get::<String, _>(column);
            let on = text("occurrence").parse().expect("a date");
            (
                on,
                moment(&text("due_at")),
                moment(&text("looked_at")),
                text("came_to"),
            )
        })
        .collect()
    })
}

fn account_for(zone: &Zone, owed: &Owed, out: &[Value], rows: &[Kept]) {
    // A notice whose mark was lost in a crash comes again under its id.
    let notices = out.iter().filter(|line| line["type"] == "notice");
    let notices: BTreeMap<&str, &Value> = notices
        .filter_map(|line| Some((line["id"].as_str()?, &line["data"])))
        .collect();
    let data = notices.values().flat_map(|data| {
        let also = data["also"].as_array().into_iter().flatten();
        std::iter::once(*data).chain(also)
    });
    let said: Vec<&Value> = data.filter(|data| data["kind"] == "reminder").collect();
    let about = |about: &str| -> Vec<&Value> {
        said.iter()
            .filter(|data| data["about"] == about)
            .copied()
            .collect()
    };
    // Every morning has one row, looked at when it should have been.
    let kept: BTreeMap<NaiveDate, (DateTime<Utc>, DateTime<Utc>)> = rows
        .iter()
        .map(|(on, due, looked, _)| (*on, (*due, *looked)))
        .collect();
    assert_eq!(kept.len(), rows.len(), "{}: a date twice", zone.name);
    for (on, expected) in &owed.mornings {
        assert_eq!(
            kept.get(on),
            Some(expected),
            "{}: the morning of {on}",
            zone.name
        );
    }
    assert_eq!(kept.len(), owed.mornings.len(), "{}", zone.name);
    // What was said was read, once for each date, with what it speaks for.
    let came_to = |wanted: &str| -> BTreeSet<String> {
        let rows = rows.iter().filter(|(.., came_to)| came_to == wanted);
        rows.map(|(on, ..)| on.to_string()).collect()
    };
    let read: Vec<String> = about("morning")
        .iter()
        .filter_map(|data| Some(data["occurrence"].as_str()?.to_owned()))
        .collect();
    assert_eq!(
        read.iter().cloned().collect::<BTreeSet<_>>(),
        came_to("said"),
        "{}",
        zone.name
    );
    assert_eq!(
        read.len(),
        came_to("said").len(),
        "{}: a note twice",
        zone.name
    );
    assert!(read.len() > 10 && !came_to("nothing").is_empty());
    let merged: BTreeSet<String> = about("morning")
        .iter()
        .flat_map(|data| data["also_for"].as_array().into_iter().flatten())
        .filter_map(|on| Some(on.as_str()?.to_owned()))
        .collect();
    assert!(merged.is_subset(&came_to("merged")), "{}", zone.name);
    // Every timer rang once.
    let mut rang: Vec<DateTime<Utc>> = about("timer")
        .iter()
        .filter_map(|data| Some(moment(data["due_at"].as_str()?)))
        .collect();
    rang.sort();
    let mut due = owed.timers.clone();
    due.sort();
    assert_eq!(rang, due, "{}: timers", zone.name);
}

#[test]
fn every_note_and_every_timer_is_accounted_for() {
    match std::env::var_os("HOBSIDE_YEAR") {
        None => play(&ZONES[0], 90, 12),
        Some(_) => ZONES.iter().for_each(|zone| play(zone, 366, 40)),
    }
}
