//! Transcripts: conversations with the whole service, on a file of its own, with the clock of the text.
//! They are the manual too.
//!
//! ```text
//! # What it shows
//! private                                a chat with the bot alone; otherwise a group
//! with the clock                         what falls due is said, before each message and where time passes
//!
//! 2026-10-14 19:20 Robin                 who, when (Europe/Dublin); then the message
//! 140 dal
//!
//! 2026-10-14 19:20 Robin in private      the same in the own chat with the bot, about the kitchen of the group
//! 2026-10-14 19:20 Robin-2               another person of that name
//! 2026-10-14 19:21 Robin edits 1         changes the first message
//! 2026-10-14 19:22 Ana answers 1         replies to what the bot said to the first message
//! 2026-10-14 19:23 Ana presses Undo at 1 the button under it
//! 2026-10-14 19:24 restart               the bot stops and starts again
//! 2026-10-14 19:59 time passes           nobody writes
//! ```
//!
//! What the bot says follows with `<`, what stands on a label with `<* |`; buttons in brackets, then the outcome. `HOBSIDE_REWRITE=1` writes
//! what it says today.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use chrono::{DateTime, NaiveDateTime, TimeZone, Utc};
use chrono_tz::Tz;
use hobside::render::Picture;
use hobside::render::label::Label;
use hobside::service::{
    Door, Inbound, Kind, OutboxKind, Outcome, Outgoing, Received, Revision, Sender, Service,
};
use hobside::store::Store;

const ZONE: Tz = Tz::Europe__Dublin;
const CHANNEL: &str = "transcript";

/// One block of a transcript that the bot reacts to.
struct Step {
    head: String,
    at: DateTime<Utc>,
    who: String,
    act: Act,
    body: String,
}

enum Act {
    Says,
    Tells,
    Edits(usize),
    Answers(usize),
    Presses { label: String, at: usize },
    Restart,
    Passes,
}

struct Transcript {
    heading: String,
    private: bool,
    clock: bool,
    steps: Vec<Step>,
}

fn read(text: &str) -> Transcript {
    let mut blocks = text.split("\n\n").map(str::trim_matches_newlines);
    let heading = blocks.next().expect("a heading").to_owned();
    let told = |told: &str| heading.lines().any(|line| line.trim() == told);
    let (private, clock) = (told("private"), told("with the clock"));
    let steps = blocks.filter(|block| !block.is_empty()).map(step).collect();
    Transcript {
        heading,
        private,
        clock,
        steps,
    }
}

trait TrimNewlines {
    fn trim_matches_newlines(&self) -> &str;
}

impl TrimNewlines for str {
    fn trim_matches_newlines(&self) -> &str {
        self.trim_matches('\n')
    }
}

fn step(block: &str) -> Step {
    let mut lines = block.lines();
    let head = lines.next().expect("a block has a head").to_owned();
    let (moment, rest) = head
        .split_at_checked(16)
        .unwrap_or_else(|| panic!("{head}"));
    let naive = NaiveDateTime::parse_from_str(moment, "%Y-%m-%d %H:%M")
        .unwrap_or_else(|_| panic!("{head}"));
    let at = ZONE
        .from_local_datetime(&naive)
        .earliest()
        .expect("a time of the zone");
    let words: Vec<&str> = rest.split_whitespace().collect();
    let number = |word: &str| word.parse().unwrap_or_else(|_| panic!("{head}"));
    let (who, act) = match words.as_slice() {
        ["restart"] => ("", Act::Restart),
        ["time", "passes"] => ("", Act::Passes),
        [who] => (*who, Act::Says),
        [who, "in", "private"] => (*who, Act::Tells),
        [who, "edits", which] => (*who, Act::Edits(number(which))),
        [who, "answers", which] => (*who, Act::Answers(number(which))),
        [who, "presses", label @ .., "at", which] => {
            let label = label.join(" ");
            let at = number(which);
            (*who, Act::Presses { label, at })
        }
        _ => panic!("{head}"),
    };
    let said = |line: &&str| !line.starts_with('<') && !is_outcome(line);
    let body: Vec<&str> = lines.filter(said).collect();
    Step {
        who: who.to_owned(),
        head,
        at: at.with_timezone(&Utc),
        act,
        body: body.join("\n"),
    }
}

fn is_outcome(line: &str) -> bool {
    [
        "(recorded)",
        "(asked)",
        "(refused)",
        "(answered)",
        "(ignored)",
        "(repeated)",
    ]
    .contains(&line)
}

struct Bot {
    file: PathBuf,
    service: Service,
    private: bool,
    clock: bool,
    /// What was sent in answer to each message, by its number.
    said: Vec<Vec<Outgoing>>,
    texts: u32,
}

async fn start(file: &Path) -> Service {
    let store = Store::open(file).await.expect("the file opens").doubting();
    Service::new(store, Door::Open { zone: ZONE })
}

impl Bot {
    async fn play(&mut self, step: &Step) -> String {
        if matches!(step.act, Act::Restart) {
            self.service = start(&self.file).await;
            return format!("{}\n", step.head);
        }
        let mut out = format!("{}\n", step.head);
        let due = self.due(step.at).await;
        if matches!(step.act, Act::Passes) {
            due.iter().for_each(|outgoing| tell(&mut out, outgoing));
            self.said.push(due);
            return out;
        }
        let inbound = self.inbound(step);
        let received = self
            .service
            .receive(&inbound, step.at)
            .await
            .expect("it is stored");
        let mut outcome = (received == Received::Repeated).then(|| "(repeated)".to_owned());
        while let Some(handled) = self
            .service
            .handle_next(step.at)
            .await
            .expect("it is handled")
        {
            outcome = Some(word(handled.outcome));
        }
        let pending = self.service.pending(CHANNEL).await.expect("readable");
        for outgoing in &pending {
            let id = external_id(outgoing);
            self.service.sent(outgoing, Some(id), step.at);
        }
        self.service.settle().await.expect("marked");
        due.iter().for_each(|outgoing| tell(&mut out, outgoing));
        if !step.body.is_empty() {
            writeln!(out, "{}", step.body).expect("a string takes it");
        }
        for outgoing in &pending {
            tell(&mut out, outgoing);
        }
        writeln!(out, "{}", outcome.unwrap_or_default()).expect("a string takes it");
        if !matches!(step.act, Act::Edits(_)) {
            self.said.push(pending);
        }
        out
    }

    /// What it is time for.
    async fn due(&mut self, at: DateTime<Utc>) -> Vec<Outgoing> {
        if !self.clock {
            return Vec::new();
        }
        let due = self.service.say_due(CHANNEL, at).await;
        let pending = match due.expect("it is said").said {
            true => self.service.pending(CHANNEL).await.expect("readable"),
            false => Vec::new(),
        };
        for outgoing in &pending {
            let id = external_id(outgoing);
            self.service.sent(outgoing, Some(id), at);
        }
        self.service.settle().await.expect("marked");
        pending
    }

    fn inbound(&mut self, step: &Step) -> Inbound {
        self.texts += 1;
        let number = self.said.len() + 1;
        let mut inbound = Inbound {
            channel: CHANNEL,
            chat: "kitchen".into(),
            chat_name: None,
            external_id: format!("m{number}"),
            revision: Revision::Counted { edited: false },
            kind: Kind::Message,
            sender: Sender {
                id: step.who.to_lowercase(),
                // "Sam-2" is another of that name.
                name: step.who.split('-').next().unwrap_or_default().to_owned(),
            },
            text: step.body.clone(),
            reply_to: None,
            topic: None,
            private: self.private,
            forwarded: false,
            household_chat: None,
            sent_at: step.at,
        };
        match &step.act {
            Act::Says | Act::Restart | Act::Passes => {}
            Act::Tells => {
                inbound.household_chat = Some(inbound.chat);
                inbound.chat = format!("with {}", inbound.sender.id);
                inbound.private = true;
            }
            Act::Edits(which) => {
                inbound.external_id = format!("m{which}");
                inbound.revision = Revision::Counted { edited: true };
            }
            Act::Answers(which) => inbound.reply_to = self.said[which - 1].first().map(external_id),
            Act::Presses { label, at } => {
                let (message, press) = self.button(label, *at);
                inbound.kind = Kind::Press;
                inbound.reply_to = Some(message);
                inbound.text = press;
            }
        }
        inbound
    }

    fn button(&self, label: &str, at: usize) -> (String, String) {
        let messages = self.said[at - 1].iter();
        let mut buttons = messages.flat_map(|message| {
            // An edit shows in the message that it is of.
            let id = match &message.edits {
                Some((first, _)) => format!("o{}", first.0),
                None => external_id(message),
            };
            message
                .buttons
                .iter()
                .flatten()
                .map(move |button| (id.clone(), button))
        });
        let found = buttons.find(|(_, button)| button.0 == label);
        let (id, button) = found.unwrap_or_else(|| panic!("no button {label} at {at}"));
        (id, button.1.clone())
    }
}

fn external_id(outgoing: &Outgoing) -> String {
    format!("o{}", outgoing.id.0)
}

fn word(outcome: Option<Outcome>) -> String {
    match outcome {
        Some(Outcome::Recorded) => "(recorded)",
        Some(Outcome::Asked) => "(asked)",
        Some(Outcome::Refused) => "(refused)",
        Some(Outcome::Answered) => "(answered)",
        Some(Outcome::Ignored) => "(ignored)",
        None => "(failed)",
    }
    .to_owned()
}

fn tell(out: &mut String, outgoing: &Outgoing) {
    let mark = match outgoing.kind {
        OutboxKind::Edit => "<~",
        OutboxKind::Reaction => "<!",
        OutboxKind::Picture => "<*",
        OutboxKind::Reply | OutboxKind::Notice => "<",
    };
    for line in outgoing.text.lines() {
        writeln!(out, "{}", format!("{mark} {line}").trim_end()).expect("a string takes it");
    }
    let labels = outgoing.picture.iter().filter_map(|picture| match picture {
        Picture::Labels(labels) => Some(&labels.labels),
        Picture::Chart(_) => None,
    });
    for label in labels.flatten() {
        for line in on_label(label) {
            writeln!(out, "{mark} | {line}").expect("a string takes it");
        }
    }
    for row in &outgoing.buttons {
        let labels: Vec<String> = row.iter().map(|(label, _)| format!("[{label}]")).collect();
        writeln!(out, "{mark} {}", labels.join(" ")).expect("a string takes it");
    }
}

/// What stands on a label, line by line.
fn on_label(label: &Label) -> Vec<String> {
    let date = label.with_made.as_ref().unwrap_or(&label.date);
    let lines = [
        Some(&label.name),
        label.use_by.as_ref(),
        Some(&label.net),
        Some(date),
        Some(&label.energy),
        label.avoided.as_ref(),
        Some(&label.allergens),
        label.not_known.as_ref(),
        Some(&label.code),
    ];
    let lines = lines.into_iter().flatten();
    lines.map(|line| line.replace('\u{a0}', " ")).collect()
}

async fn told(transcript: &Transcript) -> String {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let file = folder.path().join("books.db");
    let mut bot = Bot {
        service: start(&file).await,
        file,
        private: transcript.private,
        clock: transcript.clock,
        said: Vec::new(),
        texts: 0,
    };
    let mut out = format!("{}\n", transcript.heading);
    for step in &transcript.steps {
        out.push('\n');
        out.push_str(&bot.play(step).await);
    }
    out
}

#[tokio::test]
async fn every_transcript_goes_as_it_is_written() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/conversations");
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .expect("the transcripts are there")
        .map(|file| file.expect("readable").path())
        .collect();
    files.sort();
    assert!(files.len() >= 12, "{} transcripts", files.len());
    let mut different = Vec::new();
    for path in files {
        let written = fs::read_to_string(&path).expect("text");
        let today = told(&read(&written)).await;
        if today != written {
            if std::env::var_os("HOBSIDE_REWRITE").is_some() {
                fs::write(&path, &today).expect("writable");
            }
            different.push(format!(
                "{}\n{}",
                path.display(),
                first_difference(&written, &today)
            ));
        }
    }
    if std::env::var_os("HOBSIDE_REWRITE").is_none() {
        assert!(different.is_empty(), "{}", different.join("\n\n"));
    }
}

fn first_difference(written: &str, today: &str) -> String {
    let pairs = written.lines().zip(today.lines()).enumerate();
    let found = pairs.into_iter().find(|(_, (one, other))| one != other);
    match found {
        Some((number, (one, other))) => format!("line {}:\n- {one}\n+ {other}", number + 1),
        None => "one is longer".into(),
    }
}
