//! What `hobside doctor` found, graded and worded: for whoever keeps the box that the bot runs on.

mod words;

use chrono::{DateTime, TimeDelta, Utc};
use serde_json::{Value, json};

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    Fine,
    /// Somebody should look at it one of these days.
    Look,
    /// The bot does not work, or will lose something.
    Wrong,
}

impl Grade {
    fn word(self) -> &'static str {
        match self {
            Self::Fine => "fine",
            Self::Look => "look",
            Self::Wrong => "wrong",
        }
    }

    /// What the program ends with; 1 and 2 are for what could not be run at all.
    pub fn exit_code(self) -> u8 {
        match self {
            Self::Fine => 0,
            Self::Look => 3,
            Self::Wrong => 4,
        }
    }
}

/// Something waits: how much, and since when.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Queue {
    pub waiting: u64,
    pub oldest: Option<DateTime<Utc>>,
    /// Given up on of late.
    pub set_aside: u64,
}

/// One thing that was looked at.
#[derive(Debug, Clone, PartialEq)]
pub enum Finding {
    /// `None`: none is named here. It is never shown.
    Token(Option<Result<(), String>>),
    File {
        file: String,
        bytes: u64,
        free_bytes: Option<u64>,
    },
    /// There is no file that could be read, and why.
    NoFile(String),
    Running {
        /// The process, as far as it says.
        by: Option<Option<u32>>,
    },
    Schema {
        found: i64,
        known: i64,
    },
    Whole {
        entries: u64,
    },
    Damaged(String),
    Chats {
        households: u64,
        /// Channel and how many.
        chats: Vec<(String, u64)>,
    },
    /// Groups in Telegram, and in how many of them free words were heard.
    Privacy {
        groups: u64,
        heard: u64,
    },
    Clock {
        now: DateTime<Utc>,
        /// The machine's zone, if it says.
        zone: Option<String>,
        households: Vec<String>,
        /// When the newest message came in.
        newest: Option<DateTime<Utc>>,
    },
    Backups {
        folder: String,
        count: u64,
        oldest: Option<DateTime<Utc>>,
        newest: Option<DateTime<Utc>>,
    },
    Messages(Queue),
    Answers(Queue),
}

/// A clock may be off by so much before the books would be out of order.
const CLOCK_SLACK: TimeDelta = TimeDelta::minutes(5);
/// What waits longer is stuck.
const PATIENCE: TimeDelta = TimeDelta::minutes(10);
/// A daily copy that failed twice is missed.
const BACKUP_AGE_MAX: TimeDelta = TimeDelta::days(3);
const FREE_BYTES_MIN: u64 = 20 << 20;

impl Finding {
    fn about(&self) -> &'static str {
        match self {
            Self::Token(_) => "token",
            Self::File { .. } | Self::NoFile(_) => "file",
            Self::Running { .. } => "running",
            Self::Schema { .. } => "schema",
            Self::Whole { .. } | Self::Damaged(_) => "integrity",
            Self::Chats { .. } => "chats",
            Self::Privacy { .. } => "privacy",
            Self::Clock { .. } => "clock",
            Self::Backups { .. } => "backups",
            Self::Messages(_) => "messages",
            Self::Answers(_) => "answers",
        }
    }

    fn grade(&self, now: DateTime<Utc>) -> Grade {
        let when = |bad: bool, grade| if bad { grade } else { Grade::Fine };
        match self {
            Self::Token(Some(Err(_))) | Self::NoFile(_) | Self::Damaged(_) => Grade::Wrong,
            Self::Token(_) | Self::Running { .. } | Self::Whole { .. } | Self::Schema { .. } => {
                Grade::Fine
            }
            Self::File {
                bytes, free_bytes, ..
            } => match free_bytes {
                Some(free) if *free < FREE_BYTES_MIN => Grade::Wrong,
                // A copy has to fit, and then some.
                Some(free) => when(*free < bytes.saturating_mul(4), Grade::Look),
                None => Grade::Fine,
            },
            Self::Chats { chats, .. } => when(chats.is_empty(), Grade::Look),
            Self::Privacy { groups, heard } => when(*groups > 0 && *heard == 0, Grade::Look),
            Self::Clock { zone, newest, .. } => {
                let behind = newest.is_some_and(|newest| newest > now + CLOCK_SLACK);
                when(behind, Grade::Wrong).max(when(zone.is_none(), Grade::Look))
            }
            Self::Backups { newest, .. } => {
                let fresh = newest.is_some_and(|newest| now - newest <= BACKUP_AGE_MAX);
                when(!fresh, Grade::Look)
            }
            Self::Messages(queue) => {
                when(queue.is_stuck(now), Grade::Wrong).max(when(queue.set_aside > 0, Grade::Look))
            }
            Self::Answers(queue) => when(queue.is_stuck(now) || queue.set_aside > 0, Grade::Look),
        }
    }

    fn values(&self) -> Value {
        match self {
            Self::Token(token) => json!({"present": token.is_some()}),
            Self::NoFile(why) | Self::Damaged(why) => json!({"why": why}),
            Self::File {
                file,
                bytes,
                free_bytes,
            } => json!({"file": file, "bytes": bytes, "free_bytes": free_bytes}),
            Self::Running { by } => json!({"running": by.is_some(), "process": by.flatten()}),
            Self::Schema { found, known } => json!({"found": found, "known": known}),
            Self::Whole { entries } => json!({"entries": entries}),
            Self::Chats { households, chats } => {
                let chats: serde_json::Map<String, Value> = chats
                    .iter()
                    .map(|(channel, count)| (channel.clone(), (*count).into()))
                    .collect();
                json!({"households": households, "chats": chats})
            }
            Self::Privacy { groups, heard } => json!({"groups": groups, "heard": heard}),
            Self::Clock {
                now,
                zone,
                households,
                newest,
            } => json!({
                "now": words::moment(*now),
                "zone": zone,
                "household_zones": households,
                "newest_message": newest.map(words::moment),
            }),
            Self::Backups {
                folder,
                count,
                oldest,
                newest,
            } => json!({
                "folder": folder,
                "count": count,
                "oldest": oldest.map(words::moment),
                "newest": newest.map(words::moment),
            }),
            Self::Messages(queue) | Self::Answers(queue) => json!({
                "waiting": queue.waiting,
                "oldest": queue.oldest.map(words::moment),
                "set_aside": queue.set_aside,
            }),
        }
    }
}

impl Queue {
    fn is_stuck(&self, now: DateTime<Utc>) -> bool {
        self.oldest.is_some_and(|oldest| now - oldest > PATIENCE)
    }
}

/// Everything that was looked at, at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    pub now: DateTime<Utc>,
    pub findings: Vec<Finding>,
}

impl Report {
    /// That of the worst.
    pub fn grade(&self) -> Grade {
        let grades = self.findings.iter().map(|finding| finding.grade(self.now));
        grades.max().unwrap_or(Grade::Fine)
    }

    /// A line or two for each, what is not fine marked in front.
    pub fn text(&self) -> String {
        let lines = self.findings.iter().map(|finding| {
            let mark = match finding.grade(self.now) {
                Grade::Fine => "    ",
                Grade::Look => " ?  ",
                Grade::Wrong => "!!  ",
            };
            format!("{mark}{}: {}\n", finding.about(), finding.words(self.now))
        });
        let all = lines.collect::<String>();
        let end = match self.grade() {
            Grade::Fine => "All is well.",
            Grade::Look => "It works; look at what is marked with ?.",
            Grade::Wrong => "Something is wrong: what is marked with !!.",
        };
        format!("{all}\n{end}\n")
    }

    pub fn data(&self) -> Value {
        let findings = self.findings.iter().map(|finding| {
            let mut value = json!({
                "about": finding.about(),
                "grade": finding.grade(self.now).word(),
                "text": finding.words(self.now),
            });
            if let (Some(all), Value::Object(more)) = (value.as_object_mut(), finding.values()) {
                all.extend(more);
            }
            value
        });
        json!({
            "grade": self.grade().word(),
            "at": words::moment(self.now),
            "findings": findings.collect::<Vec<_>>(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> DateTime<Utc> {
        text.parse().expect("a time")
    }

    #[track_caller]
    fn assert_graded(finding: Finding, grade: Grade, words: &str) {
        let now = at("2026-10-14T18:00:00Z");
        assert_eq!(finding.grade(now), grade, "{finding:?}");
        assert_eq!(finding.words(now), words);
    }

    #[test]
    fn what_waits_long_is_stuck() {
        let queue = |oldest: &str, set_aside| Queue {
            waiting: 2,
            oldest: Some(at(oldest)),
            set_aside,
        };
        let fresh = queue("2026-10-14T17:55:00Z", 0);
        assert_graded(
            Finding::Messages(fresh),
            Grade::Fine,
            "2 wait to be booked, the oldest for 5 min",
        );
        let old = queue("2026-10-14T15:00:00Z", 0);
        assert_graded(
            Finding::Messages(old),
            Grade::Wrong,
            "2 wait to be booked, the oldest for 3 h",
        );
        assert_graded(
            Finding::Answers(queue("2026-10-14T17:55:00Z", 1)),
            Grade::Look,
            "2 wait to be sent, the oldest for 5 min; 1 given up on in the last 30 days",
        );
        assert_graded(
            Finding::Answers(Queue::default()),
            Grade::Fine,
            "none wait to be sent",
        );
    }

    #[test]
    fn a_clock_before_what_is_booked_is_wrong() {
        let clock = |newest: &str| Finding::Clock {
            now: at("2026-10-14T18:00:00Z"),
            zone: Some("Europe/Dublin".to_owned()),
            households: vec!["Europe/Dublin".to_owned()],
            newest: Some(at(newest)),
        };
        let now = at("2026-10-14T18:00:00Z");
        assert_eq!(clock("2026-10-14T18:04:00Z").grade(now), Grade::Fine);
        let behind = clock("2026-10-14T20:00:00Z");
        assert_eq!(behind.grade(now), Grade::Wrong);
        assert!(behind.words(now).contains("2 h behind the newest message"));
    }

    #[test]
    fn a_copy_that_is_missed_for_days_is_told() {
        let backups = |newest: Option<&str>| Finding::Backups {
            folder: "/b".to_owned(),
            count: u64::from(newest.is_some()),
            oldest: newest.map(at),
            newest: newest.map(at),
        };
        assert_graded(
            backups(None),
            Grade::Look,
            "none in /b: `hobside backup` makes one",
        );
        assert_graded(
            backups(Some("2026-10-13T18:00:00Z")),
            Grade::Fine,
            "1 in /b, the oldest and the newest of Tue 13 Oct 2026 18:00 UTC",
        );
        let now = at("2026-10-14T18:00:00Z");
        assert_eq!(
            backups(Some("2026-10-10T18:00:00Z")).grade(now),
            Grade::Look
        );
    }

    #[test]
    fn the_worst_finding_grades_the_whole() {
        let report = |findings| Report {
            now: at("2026-10-14T18:00:00Z"),
            findings,
        };
        let fine = Finding::Whole { entries: 7 };
        assert_eq!(report(vec![fine.clone()]).grade().exit_code(), 0);
        let look = Finding::Privacy {
            groups: 1,
            heard: 0,
        };
        assert_eq!(
            report(vec![fine.clone(), look.clone()]).grade().exit_code(),
            3
        );
        let wrong = Finding::Damaged("a page".to_owned());
        let all = report(vec![wrong, look, fine]);
        assert_eq!(all.grade().exit_code(), 4);
        assert_eq!(all.data()["grade"], "wrong");
        assert!(
            all.text().starts_with("!!  integrity: damaged (a page)"),
            "{}",
            all.text()
        );
    }
}
