//! Messages as people write them, and talk that is nobody's business: every case of `tests/corpus/`
//! is played in a kitchen of its own, and a report says how many are understood by level and kind.
//!
//! A tenth of the cases, and the whole of `apart-*.txt`, is kept apart: it is counted, but its failures are
//! shown only on request (`HOBSIDE_CORPUS_APART=show`), so that nobody mends the language for them.

mod home;

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::sync::OnceLock;

use chrono::{Duration, TimeZone, Utc};
use hobside::domain::answer::Answer;
use hobside::domain::decide::{Decision, Outcome};
use hobside::domain::ids::MemberId;
use hobside::domain::kitchen::Member;
use hobside::domain::plate::{Plate, PlatePortion};
use home::{ANA, Home, ROBIN};

const TOM: MemberId = MemberId(3);

/// One case out of so many is kept apart.
const APART_EVERY: usize = 10;

struct Case {
    place: String,
    level: String,
    kind: String,
    before: Vec<(MemberId, String)>,
    messages: Vec<(MemberId, String)>,
    expected: Vec<String>,
    apart: bool,
}

/// What came of a case.
#[derive(PartialEq, Clone, Copy)]
enum Verdict {
    Right,
    /// Silence, a question or a refusal where something else was meant: a nuisance.
    Missed,
    /// Something is in the books that was not meant.
    WrongEntry,
}

/// The kitchen of the corpus, made once.
fn kitchen() -> Home {
    static KITCHEN: OnceLock<Home> = OnceLock::new();
    KITCHEN.get_or_init(stocked).clone()
}

fn stocked() -> Home {
    let mut home = Home::new();
    let told = home.kitchen.personal.clone();
    home.kitchen.table.add(Member::new(TOM, "Tom", true), &told);
    home.kitchen.next.member = 4;
    home.now = Utc.with_ymd_and_hms(2026, 10, 11, 15, 0, 0).unwrap();
    let say = |home: &mut Home, text: &str| {
        let decision = home.say(ROBIN, text);
        assert_eq!(
            decision.outcome,
            Outcome::Recorded,
            "{text}: {:?}",
            decision.answers
        );
    };
    say(
        &mut home,
        "batch chicken stew\n900 g chicken thigh\n300 g carrots\ncooked 500",
    );
    home.now = Utc.with_ymd_and_hms(2026, 10, 14, 14, 0, 0).unwrap();
    for batch in [
        "batch chicken stew\n1200 g chicken thigh\n400 g carrots\ncooked 2000",
        "batch lentil dal\n500 g red lentils\n10 g salt\ncooked 1840",
        "batch barley\n450 g pearl barley\ncooked 1200",
        "batch leek soup\n900 g leeks\n600 g potatoes\n1 l water\ncooked 2400",
        "batch white beans\n400 g dried white beans\ncooked 900",
        "batch salsa raw\n500 g tomatoes\n200 g onions",
        "batch beef chilli\n1 kg minced beef\n800 g canned tomatoes\n480 g kidney beans\ncooked 2600",
        "batch brown rice\n450 g brown rice\ncooked 1400",
        "batch roast parsnips\n900 g parsnips\n30 g olive oil\ncooked 650",
        "blue pot is 812 g",
        "glass jar is 310 g",
        "steel bowl is 240 g",
        "1 ladle lentil dal = 180 g",
        "packet miso paste per 100 g: 199 kcal, 12 protein, 6 fat, 26 carb",
    ] {
        say(&mut home, batch);
    }
    home.now = Utc.with_ymd_and_hms(2026, 10, 14, 18, 0, 0).unwrap();
    home.addressed = false;
    home
}

/// The cases of the project, or of a folder of other people's (`HOBSIDE_CORPUS`).
fn cases(kind: &str) -> Vec<(String, String)> {
    let folder = guests().unwrap_or(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/corpus").into());
    let mut files: Vec<_> = fs::read_dir(folder)
        .expect("the corpus is there")
        .map(|file| file.expect("readable").path())
        .filter(|path| {
            path.file_name()
                .is_some_and(|name| name.to_string_lossy().starts_with(kind))
        })
        .collect();
    files.sort();
    files
        .into_iter()
        .map(|path| {
            let name = path
                .file_name()
                .expect("a file")
                .to_string_lossy()
                .into_owned();
            (name, fs::read_to_string(&path).expect("text"))
        })
        .collect()
}

fn guests() -> Option<String> {
    std::env::var("HOBSIDE_CORPUS").ok()
}

fn speaker(line: &str, mark: char) -> Option<(MemberId, &str)> {
    for (name, id) in [("Robin", ROBIN), ("Ana", ANA), ("Tom", TOM)] {
        if let Some(text) = line
            .strip_prefix(name)
            .and_then(|rest| rest.strip_prefix(mark))
        {
            return Some((id, text.trim()));
        }
    }
    None
}

fn read_cases() -> Vec<Case> {
    let mut all = Vec::new();
    for (file, text) in [cases("messages"), cases("apart")].concat() {
        for block in text.split("\n\n") {
            let lines: Vec<&str> = block
                .lines()
                .filter(|line| !line.starts_with('#') && !line.trim().is_empty())
                .collect();
            let Some(head) = lines.first().and_then(|line| line.strip_prefix("== ")) else {
                continue;
            };
            let (level, kind) = head.split_once(' ').unwrap_or((head, "other"));
            let mut case = Case {
                place: format!("{file} #{}", all.len() + 1),
                level: level.into(),
                kind: kind.trim().into(),
                before: Vec::new(),
                messages: Vec::new(),
                expected: Vec::new(),
                apart: guests().is_none()
                    && (file.starts_with("apart") || all.len() % APART_EVERY == APART_EVERY - 1),
            };
            for line in &lines[1..] {
                let unescaped = |text: &str| text.trim().replace("\\n", "\n");
                if let Some(expected) = line.strip_prefix("-->") {
                    case.expected = expected
                        .split(';')
                        .map(|part| part.trim().to_owned())
                        .collect();
                } else if let Some(text) = line.strip_prefix('>') {
                    case.before.push((ROBIN, unescaped(text)));
                } else if let Some((who, text)) = speaker(line, '>') {
                    case.before.push((who, unescaped(text)));
                } else if let Some((who, text)) = speaker(line, ':') {
                    case.messages.push((who, unescaped(text)));
                } else {
                    case.messages.push((ROBIN, unescaped(line)));
                }
            }
            assert!(!case.expected.is_empty(), "{}: {block}", case.place);
            all.push(case);
        }
    }
    all
}

fn play(case: &Case) -> (Home, Vec<Decision>) {
    let mut home = kitchen();
    let mut decisions = Vec::new();
    for (who, text) in case.before.iter().chain(&case.messages) {
        decisions.push(home.say(*who, text));
    }
    (home, decisions)
}

/// Everything that stands on plates, as the corpus writes it.
fn plates(home: &Home) -> Vec<String> {
    plates_by(home, |name| name)
}

/// The same, with the pots of one dish told apart or not.
fn plates_by(home: &Home, called: impl Fn(String) -> String) -> Vec<String> {
    let today = home.kitchen.settings().zone;
    let today = (home.now.with_timezone(&today).naive_local() - Duration::hours(3)).date();
    let mut sums: BTreeMap<(String, String), i64> = BTreeMap::new();
    for plate in &home.kitchen.plates {
        for portion in &plate.portions {
            let days = (today - plate.day).num_days();
            let day = match days {
                0 => String::new(),
                1 => "yesterday ".into(),
                _ => format!("{} ", plate.day),
            };
            let who = &home.kitchen.member(plate.member).expect("a member").name;
            let key = (format!("{day}{who}"), called(name(home, plate, portion)));
            *sums.entry(key).or_default() += portion.mass.mg();
        }
    }
    sums.into_iter()
        .map(|((who, name), mg)| format!("{who} {} {name}", grams(mg)))
        .collect()
}

fn grams(mg: i64) -> String {
    let tenths = (mg as f64 / 100.0).round() / 10.0;
    format!("{tenths}")
}

fn name(home: &Home, _: &Plate, portion: &PlatePortion) -> String {
    if let Some(batch) = portion.batch {
        let batch = home.kitchen.batch(batch);
        let sunday = batch.made_on.to_string() == "2026-10-11";
        return if sunday {
            format!("{} (old)", batch.name)
        } else {
            batch.name.clone()
        };
    }
    let profile = &home.kitchen.profiles[&portion.profile.expect("food or batch")];
    profile
        .food
        .map_or_else(|| profile.description.clone(), |code| code.to_string())
}

/// Whether what stands is what was meant; plain foods may be named in everyday words.
fn stands(home: &Home, expected: &[&str]) -> bool {
    let wanted: Vec<String> = expected.iter().map(|line| canonical(home, line)).collect();
    // Which of two batches was drawn is told by what is left of them, if the case names neither.
    let apart = wanted.iter().any(|line| line.contains("(old)"));
    let mut unmatched = plates_by(home, |name| match apart {
        true => name,
        false => name.replace(" (old)", ""),
    });
    for line in &wanted {
        match unmatched.iter().position(|known| near(known, line)) {
            Some(at) => {
                unmatched.remove(at);
            }
            None => return false,
        }
    }
    unmatched.is_empty()
}

/// Grams from volumes and counts are given to a gram.
fn near(standing: &str, wanted: &str) -> bool {
    let split = |line: &str| {
        let words: Vec<&str> = line.split(' ').collect();
        let at = words.iter().position(|word| word.parse::<f64>().is_ok())?;
        let grams: f64 = words[at].parse().ok()?;
        Some((words[..at].join(" "), grams, words[at + 1..].join(" ")))
    };
    match (split(standing), split(wanted)) {
        (Some((who, grams, name)), Some((wanted_who, wanted_grams, wanted_name))) => {
            who == wanted_who && name == wanted_name && (grams - wanted_grams).abs() <= 0.51
        }
        _ => false,
    }
}

fn canonical(home: &Home, line: &str) -> String {
    let words: Vec<&str> = line.split(' ').collect();
    let Some(at) = words.iter().position(|word| word.parse::<f64>().is_ok()) else {
        return line.into();
    };
    let name = words[at + 1..].join(" ");
    let is_batch = home
        .kitchen
        .batches
        .values()
        .any(|batch| name.starts_with(&batch.name));
    let is_packet = home
        .kitchen
        .packets
        .iter()
        .any(|packet| packet.name == name);
    if is_batch || is_packet {
        let plain = name.replace(" (new)", "");
        return format!("{} {plain}", words[..=at].join(" "));
    }
    match hobside::foods::table().find(&name) {
        hobside::foods::Found::Taken(found) => format!("{} {}", words[..=at].join(" "), found.code),
        _ => line.into(),
    }
}

fn left(home: &Home, line: &str) -> bool {
    let Some((name, wanted)) = line
        .strip_prefix("left ")
        .and_then(|rest| rest.rsplit_once(' '))
    else {
        return false;
    };
    let old = name.ends_with("(old)");
    let name = name.replace(" (old)", "").replace(" (new)", "");
    let batches = home
        .kitchen
        .batches
        .values()
        .filter(|batch| batch.name == name);
    let chosen = if old {
        batches.min_by_key(|batch| batch.id)
    } else {
        batches.max_by_key(|batch| batch.id)
    };
    let wanted: f64 = wanted.parse().unwrap_or(f64::NAN);
    chosen.is_some_and(|batch| (batch.left().grams() - wanted).abs() <= 0.51)
}

fn judge(case: &Case) -> (Verdict, String) {
    let (home, decisions) = play(case);
    let last = decisions.last().expect("a case has a message");
    let count_before = case.before.len();
    let told = describe(&home, &decisions[count_before..]);
    let booked = last.outcome == Outcome::Recorded;
    let word = |word: &str| match word {
        "ask" => last.outcome == Outcome::Asked || asks(last),
        "silent" => last.outcome == Outcome::Ignored,
        "answer" => last.outcome == Outcome::Answered,
        "refuse" => last.outcome == Outcome::Refused,
        "none" => plates(&home).is_empty(),
        "recorded" => last.outcome == Outcome::Recorded,
        _ => false,
    };
    let mut plate_lines: Vec<&str> = Vec::new();
    let mut right = true;
    let mut only_words = true;
    for expected in &case.expected {
        let alternatives: Vec<&str> = expected.split('|').map(str::trim).collect();
        if alternatives
            .iter()
            .all(|one| ["ask", "silent", "answer", "refuse", "none", "recorded"].contains(one))
        {
            right &= alternatives.iter().any(|one| word(one));
        } else if expected.starts_with("left ") {
            only_words = false;
            right &= left(&home, expected);
        } else {
            only_words = false;
            plate_lines.push(expected);
        }
    }
    if !plate_lines.is_empty() {
        right &= stands(&home, &plate_lines);
    }
    let verdict = match right {
        true => Verdict::Right,
        false if booked && (only_words || !plate_lines.is_empty()) => Verdict::WrongEntry,
        false => Verdict::Missed,
    };
    (verdict, told)
}

fn asks(decision: &Decision) -> bool {
    decision
        .answers
        .iter()
        .any(|answer| matches!(answer, Answer::Ask(_)))
}

fn describe(home: &Home, decisions: &[Decision]) -> String {
    let outcomes: Vec<String> = decisions
        .iter()
        .map(|decision| format!("{:?}", decision.outcome))
        .collect();
    format!("{} | {}", outcomes.join(","), plates(home).join("; "))
}

#[test]
fn messages_are_understood_as_meant() {
    let show_apart = std::env::var("HOBSIDE_CORPUS_APART").is_ok();
    let mut table: BTreeMap<(bool, String, String), (usize, usize, usize)> = BTreeMap::new();
    let mut failures = String::new();
    for case in read_cases() {
        let (verdict, told) = judge(&case);
        for kind in [case.kind.as_str(), "ALL"] {
            let row = table
                .entry((case.apart, case.level.clone(), kind.into()))
                .or_default();
            row.0 += 1;
            row.1 += usize::from(verdict == Verdict::Right);
            row.2 += usize::from(verdict == Verdict::WrongEntry);
        }
        if verdict != Verdict::Right && (!case.apart || show_apart) {
            let texts: Vec<&str> = case
                .before
                .iter()
                .chain(&case.messages)
                .map(|(_, text)| text.as_str())
                .collect();
            let mark = if verdict == Verdict::WrongEntry {
                "WRONG"
            } else {
                "missed"
            };
            writeln!(
                failures,
                "{mark} {} {} {}\n    {:?}\n    want {}\n    got  {told}",
                case.place,
                case.level,
                case.kind,
                texts,
                case.expected.join("; ")
            )
            .expect("a string takes it");
        }
    }
    println!("{failures}");
    for ((apart, level, kind), (all, right, wrong)) in &table {
        let share = 100.0 * *right as f64 / *all as f64;
        let apart = if *apart { "apart " } else { "" };
        println!(
            "{apart}{level:8} {kind:14} {right:4} of {all:4} right ({share:5.1} %), {wrong} wrong entries"
        );
    }
    for ((apart, level, kind), (all, right, wrong)) in table {
        if kind != "ALL" || apart || guests().is_some() {
            continue;
        }
        let share = right as f64 / all as f64;
        // Where the language stands; what it aims at is 1.0, 0.97 and 0.85. Raise them as it learns.
        let (floor, wrong_most) = match level.as_str() {
            "plain" => (0.995, 0),
            "natural" => (0.95, 3),
            _ => (0.80, 18),
        };
        assert!(share >= floor, "{level}: {right} of {all}");
        assert!(wrong <= wrong_most, "{level}: {wrong} wrong entries");
    }
}

/// What was booked before a line of talk: nothing, a plate of its speaker, of somebody else too.
const BEFORE_TALK: [&[(MemberId, &str)]; 4] = [
    &[],
    &[(ANA, "210 dal")],
    &[(ROBIN, "130 soup, 90 rice")],
    &[(ROBIN, "210 dal"), (ANA, "110 salsa")],
];

#[test]
fn talk_is_left_alone() {
    let homes = BEFORE_TALK.map(|before| {
        let mut home = kitchen();
        for (who, text) in before {
            home.say(*who, text);
        }
        (before, home)
    });
    let mut failures = Vec::new();
    let mut count = 0;
    for (file, text) in cases("chatter") {
        for (number, line) in text.lines().enumerate() {
            if line.trim().is_empty() || line.starts_with('#') {
                continue;
            }
            count += 1;
            for (before, home) in &homes {
                let said = line.replace("\\n", "\n");
                let outcome = home.clone().say(ROBIN, &said).outcome;
                if outcome != Outcome::Ignored {
                    let behind = before.last().map_or("", |(_, text)| text);
                    failures.push(format!(
                        "{file}:{} {outcome:?} {line} ({behind})",
                        number + 1
                    ));
                }
            }
        }
    }
    println!(
        "{}\n{} false replies in {count} lines of talk",
        failures.join("\n"),
        failures.len()
    );
    assert!(failures.is_empty(), "{} false replies", failures.len());
}

/// Real short messages of strangers, one a line, from a file that is not ours to hand on: name it in
/// `HOBSIDE_TALK`. At most two replies in 4,500 lines.
#[test]
fn an_open_corpus_is_left_alone() {
    let Ok(path) = std::env::var("HOBSIDE_TALK") else {
        println!("skipped: name a file of short messages in HOBSIDE_TALK");
        return;
    };
    let text = fs::read_to_string(path).expect("HOBSIDE_TALK is a text file");
    let lines: Vec<&str> = text
        .lines()
        .filter(|line| !line.trim().is_empty())
        .collect();
    let mut replies = 0;
    for line in &lines {
        let decision = kitchen().say(ROBIN, line);
        if decision.outcome != Outcome::Ignored {
            println!("{:?} {line}", decision.outcome);
            replies += 1;
        }
    }
    println!("{replies} false replies in {} lines", lines.len());
    assert!(
        replies * 4500 <= 2 * lines.len().max(4500),
        "{replies} false replies"
    );
}
