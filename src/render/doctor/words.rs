//! A sentence for each finding.

use chrono::{DateTime, SecondsFormat, TimeDelta, Utc};

use super::{Finding, Queue};

impl Finding {
    pub(super) fn words(&self, now: DateTime<Utc>) -> String {
        match self {
            Self::Token(None) => "none is named here; only Telegram needs one".to_owned(),
            Self::Token(Some(Ok(()))) => "there is one, and it looks like one".to_owned(),
            Self::Token(Some(Err(why))) => why.clone(),
            Self::NoFile(why) => why.clone(),
            Self::File {
                file,
                bytes,
                free_bytes,
            } => {
                let free = match free_bytes {
                    Some(free) => format!("{} free on its disk", size(*free)),
                    None => "how much is free on its disk is not known here".to_owned(),
                };
                format!("{file}, {}; {free}", size(*bytes))
            }
            Self::Running { by: None } => "no bot has the file open".to_owned(),
            Self::Running { by: Some(None) } => "a bot has the file open".to_owned(),
            Self::Running { by: Some(Some(id)) } => {
                format!("a bot has the file open, process {id}")
            }
            Self::Schema { found, known } if found == known => found.to_string(),
            Self::Schema { found, known } => {
                format!("{found}; the next start brings it to {known}, after a copy was made")
            }
            Self::Whole { entries } => format!("whole, {entries} entries, every balance adds up"),
            Self::Damaged(why) => {
                format!("damaged ({why}): `hobside restore` puts a copy in its place")
            }
            Self::Chats { households, chats } => chats_words(*households, chats),
            Self::Privacy { groups: 0, .. } => "no group in Telegram yet".to_owned(),
            Self::Privacy { groups, heard: 0 } => format!(
                "in {} only commands, mentions and replies were heard so far: privacy mode may be on. \
                 BotFather's /setprivacy turns it off, for groups that the bot is added to after that",
                count(*groups, "group")
            ),
            Self::Privacy { groups, heard } => {
                format!(
                    "free words are heard in {heard} of {}",
                    count(*groups, "group")
                )
            }
            Self::Clock {
                zone,
                households,
                newest,
                ..
            } => clock_words(now, zone.as_deref(), households, *newest),
            Self::Backups {
                folder,
                count,
                oldest,
                newest,
            } => backup_words(folder, *count, *oldest, *newest),
            Self::Messages(queue) => queue_words(queue, "booked", now),
            Self::Answers(queue) => queue_words(queue, "sent", now),
        }
    }
}

fn chats_words(households: u64, chats: &[(String, u64)]) -> String {
    if chats.is_empty() {
        return "nobody is let in yet".to_owned();
    }
    let chats = chats
        .iter()
        .map(|(channel, chats)| format!("{chats} in {channel}"));
    let chats: Vec<String> = chats.collect();
    let households = count(households, "household");
    format!("{households}; {}", chats.join(", "))
}

fn clock_words(
    now: DateTime<Utc>,
    zone: Option<&str>,
    households: &[String],
    newest: Option<DateTime<Utc>>,
) -> String {
    let zone = zone.unwrap_or("not told by this machine, so UTC is taken for new households");
    let mut words = format!("{}, zone {zone}", short(now));
    if !households.is_empty() {
        words.push_str(&format!("; households in {}", households.join(", ")));
    }
    if let Some(behind) = newest
        .map(|newest| newest - now)
        .filter(|by| *by > TimeDelta::minutes(5))
    {
        words.push_str(&format!(
            "; it is {} behind the newest message",
            span(behind)
        ));
    }
    words
}

fn backup_words(
    folder: &str,
    count: u64,
    oldest: Option<DateTime<Utc>>,
    newest: Option<DateTime<Utc>>,
) -> String {
    match (oldest, newest) {
        (Some(oldest), Some(newest)) if oldest == newest => {
            format!(
                "{count} in {folder}, the oldest and the newest of {}",
                short(newest)
            )
        }
        (Some(oldest), Some(newest)) => {
            let (oldest, newest) = (short(oldest), short(newest));
            format!("{count} in {folder}, the oldest of {oldest}, the newest of {newest}")
        }
        _ => format!("none in {folder}: `hobside backup` makes one"),
    }
}

fn queue_words(queue: &Queue, done: &str, now: DateTime<Utc>) -> String {
    let wait = match queue.waiting {
        0 => "none wait",
        1 => "1 waits",
        many => &format!("{many} wait"),
    };
    let mut words = format!("{wait} to be {done}");
    if let Some(oldest) = queue.oldest {
        words.push_str(&format!(", the oldest for {}", span(now - oldest)));
    }
    if queue.set_aside > 0 {
        words.push_str(&format!(
            "; {} given up on in the last 30 days",
            queue.set_aside
        ));
    }
    words
}

fn count(number: u64, what: &str) -> String {
    let s = if number == 1 { "" } else { "s" };
    format!("{number} {what}{s}")
}

fn span(span: TimeDelta) -> String {
    let minutes = span.num_minutes().max(0);
    if minutes < 120 {
        format!("{minutes} min")
    } else if minutes < 2880 {
        format!("{} h", minutes / 60)
    } else {
        format!("{} days", minutes / 1440)
    }
}

fn size(bytes: u64) -> String {
    match (bytes >> 30, bytes >> 20) {
        (0, 0) => format!("{} KiB", bytes.div_ceil(1024)),
        (0, mib) => format!("{mib} MiB"),
        (gib, _) => format!("{gib} GiB"),
    }
}

fn short(at: DateTime<Utc>) -> String {
    at.format("%a %-d %b %Y %H:%M UTC").to_string()
}

pub(super) fn moment(at: DateTime<Utc>) -> String {
    at.to_rfc3339_opts(SecondsFormat::Secs, true)
}
