//! `hobside demo`: an invented week of an invented household, played through the whole service on a
//! clock of its own, and then a chat on the kitchen that it leaves.

use std::path::{Path, PathBuf};

use anyhow::{Context, bail};
use chrono::{DateTime, Days, NaiveTime, TimeZone, Utc};
use chrono_tz::Tz;

use super::terminal::{self, CHANNEL, CHAT, Screen};
use super::{Lines, Shutdown};
use crate::clock::Clock;
use crate::service::{Door, Handled, Inbound, Kind, Revision, Sender, Service};
use crate::store::Store;

/// Blocks of a heading `== DAY TIME WHO` (the last day, 7, is yesterday; `as NAME` names a message,
/// `edits NAME` changes it) and what was typed.
const WEEK: &str = include_str!("week.txt");
const DAYS: u64 = 7;

/// Play the week on a fresh file, then chat.
///
/// # Errors
/// If the file is there already, or cannot be written.
pub async fn run(file: Option<&Path>, zone: Tz, shutdown: Shutdown) -> anyhow::Result<()> {
    let kept = file.is_some();
    let file = match file {
        Some(file) => file.to_owned(),
        None => scratch_file(),
    };
    if file.exists() {
        bail!(
            "{} is there already: an invented week belongs in a file of its own",
            file.display()
        );
    }
    let store = Store::open_alone(&file).await?;
    let service = Service::new(store, Door::Open { zone });
    let screen = Screen::new();
    let played = play(&service, zone, Clock::System.now(), &screen).await;
    let chatted = match played {
        Ok(_) => {
            let lines = Lines::of_standard_input();
            let beside = file.parent().unwrap_or(Path::new("."));
            terminal::run(&service, &Clock::System, lines, beside, shutdown).await
        }
        Err(error) => Err(error),
    };
    if !kept {
        for name in ["", "-wal", "-shm", ".lock"] {
            let mut path = file.clone().into_os_string();
            path.push(name);
            // What is not there need not go.
            let _ = std::fs::remove_file(path);
        }
    }
    chatted
}

fn scratch_file() -> PathBuf {
    std::env::temp_dir().join(format!("hobside-demo-{}.db", std::process::id()))
}

/// One message of the script.
#[derive(Debug, PartialEq)]
struct Said<'a> {
    day: u64,
    time: NaiveTime,
    who: &'a str,
    id: String,
    edited: bool,
    text: String,
}

/// Play the week that ended yesterday; what became of each message.
async fn play(
    service: &Service,
    zone: Tz,
    now: DateTime<Utc>,
    screen: &Screen,
) -> anyhow::Result<Vec<Handled>> {
    let today = now.with_timezone(&zone).date_naive();
    let mut handled = Vec::new();
    for said in script(WEEK)? {
        let day = today - Days::new(DAYS + 1 - said.day);
        let at = zone
            .from_local_datetime(&day.and_time(said.time))
            .earliest()
            .context("no such time on that day")?
            .with_timezone(&Utc);
        let heading = format!(
            "{} {} {}",
            day.format("%a"),
            said.time.format("%H:%M"),
            said.who
        );
        screen.quote(&heading, &said.text)?;
        let inbound = Inbound {
            channel: CHANNEL,
            chat: CHAT.to_owned(),
            chat_name: Some("kitchen".to_owned()),
            external_id: said.id,
            revision: Revision::Counted {
                edited: said.edited,
            },
            kind: Kind::Message,
            sender: Sender {
                id: said.who.to_lowercase(),
                name: said.who.to_owned(),
            },
            text: said.text,
            reply_to: None,
            topic: None,
            private: true,
            forwarded: false,
            household_chat: None,
            sent_at: at,
        };
        service.receive(&inbound, at).await?;
        while let Some(one) = service.handle_next(at).await? {
            handled.push(one);
        }
        for outgoing in service.pending(CHANNEL).await? {
            let id = outgoing.id.0.to_string();
            screen.answer(&outgoing, &id, 0)?;
            service.sent(&outgoing, Some(id), at);
        }
    }
    service.settle().await?;
    Ok(handled)
}

fn script(text: &str) -> anyhow::Result<Vec<Said<'_>>> {
    let mut week = Vec::new();
    for block in text.split("\n== ").skip(1) {
        let (heading, said) = block.split_once('\n').unwrap_or((block, ""));
        let words: Vec<&str> = heading.split_whitespace().collect();
        let (day, time, who, more) = match words.as_slice() {
            [day, time, who, more @ ..] => (day, time, who, more),
            _ => bail!("not a heading of the script: {heading:?}"),
        };
        let (id, edited) = match more {
            [] => (format!("demo-{}", week.len() + 1), false),
            ["as", name] => (format!("demo-{name}"), false),
            ["edits", name] => (format!("demo-{name}"), true),
            _ => bail!("not a heading of the script: {heading:?}"),
        };
        week.push(Said {
            day: day.parse().context("a day of the script")?,
            time: NaiveTime::parse_from_str(time, "%H:%M").context("a time of the script")?,
            who,
            id,
            edited,
            text: said.trim_end().to_owned(),
        });
    }
    Ok(week)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::service::Outcome;

    #[test]
    fn the_script_is_in_order_of_time() {
        let week = script(WEEK).expect("the script is well formed");
        assert!((20..=40).contains(&week.len()), "{}", week.len());
        let times: Vec<_> = week.iter().map(|said| (said.day, said.time)).collect();
        assert!(times.is_sorted());
        assert!(week.iter().all(|said| (1..=DAYS).contains(&said.day)));
        assert!(week.iter().any(|said| said.edited));
    }

    #[tokio::test]
    async fn the_week_is_understood() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let store = Store::open(&folder.path().join("week.db"))
            .await
            .expect("a fresh file opens");
        let zone = Tz::Europe__Dublin;
        let service = Service::new(store, Door::Open { zone });
        let now = "2026-10-19T09:00:00Z".parse().expect("a time");
        let handled = play(&service, zone, now, &Screen::silent())
            .await
            .expect("the week plays");
        let week = script(WEEK).expect("the script is well formed");
        assert_eq!(handled.len(), week.len());
        for (one, said) in handled.iter().zip(&week) {
            let understood = matches!(
                one.outcome,
                Some(Outcome::Recorded | Outcome::Answered | Outcome::Asked)
            );
            assert!(understood, "{:?}: {}", one.outcome, said.text);
        }
    }
}
