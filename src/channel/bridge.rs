//! The bridge: JSON Lines in, JSON Lines out, so that any chat system, script or test can be a channel.
//!
//! Whoever holds the pipe is trusted: each chat is a household of its own, set up at its first message.
//! `at` of a line sets the clock, which never goes back. Replies to a line come before its `done`, and
//! the output is flushed with every `done`. Out ids are the outbox's own, so they hold over restarts.

use std::io::{self, Write};
use std::ops::RangeInclusive;

use anyhow::Context;
use base64::prelude::{BASE64_STANDARD, Engine};
use chrono::{DateTime, Datelike, Utc};
use serde::{Deserialize, Deserializer};
use serde_json::{Value, json};

use super::lines::Line;
use super::{Lines, Shutdown, drawn};
use crate::clock::Clock;
use crate::domain::ids::MessageId;
use crate::service::{
    Inbound, Kind, OutboxKind, Outcome, Outgoing, PENDING_MAX, Received, Revision, Sender, Service,
};
use crate::store::Store;

pub const CHANNEL: &str = "bridge";

/// One line in.
#[derive(Debug, Deserialize)]
#[serde(tag = "type", rename_all = "snake_case")]
enum Input {
    Message(Message),
    Press(Press),
    Tick {
        #[serde(deserialize_with = "moment")]
        at: DateTime<Utc>,
    },
}

#[derive(Debug, Deserialize)]
struct Message {
    chat: String,
    id: String,
    from: From,
    text: String,
    #[serde(default, deserialize_with = "moment_or_now")]
    at: Option<DateTime<Utc>>,
    #[serde(default)]
    edited: bool,
    #[serde(default)]
    reply_to: Option<String>,
    #[serde(default)]
    topic: Option<String>,
    #[serde(default)]
    private: bool,
    #[serde(default)]
    forwarded: bool,
    #[serde(default)]
    household: Option<String>,
}

#[derive(Debug, Deserialize)]
struct Press {
    chat: String,
    id: String,
    from: From,
    on: String,
    press: String,
    #[serde(default, deserialize_with = "moment_or_now")]
    at: Option<DateTime<Utc>>,
    #[serde(default)]
    private: bool,
    #[serde(default)]
    household: Option<String>,
}

#[derive(Debug, Deserialize)]
struct From {
    id: String,
    #[serde(default)]
    name: Option<String>,
}

impl From {
    fn sender(self) -> Sender {
        let name = self.name.unwrap_or_else(|| self.id.clone());
        Sender { id: self.id, name }
    }
}

/// Years in which a kitchen's clock can stand: beyond them a time is a slip, and it would never go back.
const YEARS: RangeInclusive<i32> = 1900..=2999;

fn moment<'de, D: Deserializer<'de>>(from: D) -> Result<DateTime<Utc>, D::Error> {
    let text = String::deserialize(from)?;
    let told = DateTime::parse_from_rfc3339(&text).map_err(|_| {
        let like = "2026-10-14T19:20:00+01:00";
        serde::de::Error::custom(format!("\"at\" is {text:?}, and no time such as {like}"))
    })?;
    let at = told.to_utc();
    if !YEARS.contains(&at.year()) {
        let reason = format!("\"at\" is {text:?}: out of range");
        return Err(serde::de::Error::custom(reason));
    }
    Ok(at)
}

fn moment_or_now<'de, D: Deserializer<'de>>(from: D) -> Result<Option<DateTime<Utc>>, D::Error> {
    #[derive(Deserialize)]
    struct Moment(#[serde(deserialize_with = "moment")] DateTime<Utc>);
    Ok(Option::<Moment>::deserialize(from)?.map(|Moment(at)| at))
}

/// Run until the input ends or the end is asked for.
///
/// # Errors
/// If standard input or output fails.
pub async fn run(
    service: &Service,
    clock: &Clock,
    mut lines: Lines,
    mut shutdown: Shutdown,
) -> anyhow::Result<()> {
    let mut bridge = Bridge {
        service,
        clock,
        out: io::BufWriter::new(io::stdout()),
        line: 0,
    };
    bridge.catch_up().await?;
    loop {
        let line = tokio::select! {
            line = lines.next() => line.context("reading standard input")?,
            () = shutdown.asked() => None,
        };
        let Some(line) = line else { break };
        bridge.line += 1;
        bridge.take(line).await?;
    }
    service.close().await?;
    bridge.out.flush().context("writing standard output")
}

struct Bridge<'a> {
    service: &'a Service,
    clock: &'a Clock,
    out: io::BufWriter<io::Stdout>,
    /// The number of the line in hand, from 1.
    line: u64,
}

impl Bridge<'_> {
    /// Finish what an earlier run had stored and not answered, then say what it is time for: what waits in the inbox
    /// may cancel it.
    async fn catch_up(&mut self) -> anyhow::Result<()> {
        while self.service.handle_next(self.clock.now()).await?.is_some() {}
        self.deliver().await?;
        self.say_due().await?;
        self.flush()
    }

    /// What has fallen due by now, marked at once: a notice that is said again after a crash would be a nuisance.
    async fn say_due(&mut self) -> anyhow::Result<()> {
        if self.service.say_due(CHANNEL, self.clock.now()).await?.said {
            self.deliver().await?;
            self.flush()?;
            self.service.settle().await?;
        }
        Ok(())
    }

    async fn take(&mut self, line: Line) -> anyhow::Result<()> {
        let text = match line {
            Line::Text(text) if text.trim().is_empty() => return Ok(()),
            Line::Text(text) => text,
            Line::Unreadable => return self.error("not a line of UTF-8 under a mebibyte"),
        };
        match serde_json::from_str::<Value>(&text) {
            Ok(Value::Object(_)) => {}
            _ => return self.error("not a JSON object"),
        }
        match serde_json::from_str(&text) {
            Ok(input) => self.input(input).await,
            Err(error) => self.error(&error.to_string()),
        }
    }

    async fn input(&mut self, input: Input) -> anyhow::Result<()> {
        match input {
            Input::Tick { at } => {
                self.clock.advance_to(at);
                self.catch_up().await?;
                self.done(None, None, "answered")
            }
            Input::Message(message) => {
                let sent_at = self.set_clock(message.at);
                let inbound = Inbound {
                    channel: CHANNEL,
                    chat: message.chat,
                    chat_name: None,
                    external_id: message.id,
                    revision: Revision::Counted {
                        edited: message.edited,
                    },
                    kind: Kind::Message,
                    sender: message.from.sender(),
                    text: message.text,
                    reply_to: message.reply_to,
                    topic: message.topic,
                    private: message.private,
                    forwarded: message.forwarded,
                    household_chat: message.household,
                    sent_at,
                };
                self.book(inbound).await
            }
            Input::Press(press) => {
                let sent_at = self.set_clock(press.at);
                let inbound = Inbound {
                    channel: CHANNEL,
                    chat: press.chat,
                    chat_name: None,
                    external_id: press.id,
                    revision: Revision::Counted { edited: false },
                    kind: Kind::Press,
                    sender: press.from.sender(),
                    text: press.press,
                    reply_to: Some(press.on),
                    topic: None,
                    private: press.private,
                    forwarded: false,
                    household_chat: press.household,
                    sent_at,
                };
                self.book(inbound).await
            }
        }
    }

    /// Book time goes on to `at`; the kitchen's time of the message is `at` itself.
    fn set_clock(&self, at: Option<DateTime<Utc>>) -> DateTime<Utc> {
        let at = at.unwrap_or_else(|| Clock::System.now());
        self.clock.advance_to(at);
        at
    }

    async fn book(&mut self, inbound: Inbound) -> anyhow::Result<()> {
        if let Err(error) = self.say_due().await {
            return self.error(&format!("not stored: {error:#}"));
        }
        let (chat, id) = (inbound.chat.as_str(), inbound.external_id.as_str());
        let received = match self.service.receive(&inbound, self.clock.now()).await {
            Ok(received) => received,
            Err(error) => return self.error(&format!("not stored: {error}")),
        };
        match received {
            Received::Stored(message) => match self.handle(message).await {
                Ok(outcome) => match self.deliver().await {
                    Ok(()) => self.done(Some(chat), Some(id), outcome),
                    Err(error) => self.error(&format!("booked, and not answered yet: {error:#}")),
                },
                Err(error) => self.error(&format!("stored, and not handled yet: {error}")),
            },
            Received::Repeated => self.done(Some(chat), Some(id), "repeated"),
            Received::Conflict => self.error(&format!(
                "id {id:?} of chat {chat:?} is known with another text; an edit says \"edited\": true"
            )),
            Received::Superseded | Received::TurnedAway | Received::LetIn => {
                self.deliver().await?;
                self.done(Some(chat), Some(id), "ignored")
            }
        }
    }

    /// Handle what waits, up to this message.
    async fn handle(&mut self, message: MessageId) -> anyhow::Result<&'static str> {
        while let Some(handled) = self.service.handle_next(self.clock.now()).await? {
            if handled.message == message {
                return Ok(outcome_word(handled.outcome));
            }
        }
        Ok("ignored")
    }

    /// Say what waits in the outbox.
    async fn deliver(&mut self) -> anyhow::Result<()> {
        loop {
            let pending = self.service.pending(CHANNEL).await?;
            let more = pending.len() >= PENDING_MAX;
            for outgoing in pending {
                let id = out_id(outgoing.id.0);
                let mut line = out_line(&id, &outgoing);
                if let Some(picture) = &outgoing.picture {
                    let png = drawn(picture.clone(), None).await?;
                    line["mime"] = "image/png".into();
                    line["base64"] = BASE64_STANDARD.encode(png).into();
                }
                self.write(&line)?;
                self.service.sent(&outgoing, Some(id), self.clock.now());
            }
            if !more {
                return Ok(());
            }
        }
    }

    fn done(&mut self, chat: Option<&str>, id: Option<&str>, outcome: &str) -> anyhow::Result<()> {
        self.write(&json!({"type": "done", "id": id, "chat": chat, "outcome": outcome}))?;
        self.flush()
    }

    fn error(&mut self, text: &str) -> anyhow::Result<()> {
        self.write(&json!({"type": "error", "line": self.line, "text": text}))?;
        self.flush()
    }

    fn write(&mut self, line: &Value) -> anyhow::Result<()> {
        writeln!(self.out, "{line}").context("writing standard output")
    }

    fn flush(&mut self) -> anyhow::Result<()> {
        self.out.flush().context("writing standard output")
    }
}

/// The words of the contract: a message that was set aside was refused.
fn outcome_word(outcome: Option<Outcome>) -> &'static str {
    match outcome {
        Some(Outcome::Recorded) => "recorded",
        Some(Outcome::Asked) => "asked",
        Some(Outcome::Refused) | None => "refused",
        Some(Outcome::Answered) => "answered",
        Some(Outcome::Ignored) => "ignored",
    }
}

fn out_id(outbox_id: i64) -> String {
    format!("o{outbox_id}")
}

/// A bare reaction goes out as a reply that is just the emoji.
fn out_line(id: &str, outgoing: &Outgoing) -> Value {
    let mut line = json!({
        "type": match outgoing.kind {
            OutboxKind::Reply | OutboxKind::Reaction => "reply",
            OutboxKind::Notice => "notice",
            OutboxKind::Edit => "edit",
            OutboxKind::Picture => "picture",
        },
        "id": id,
    });
    if let Some((edited, _)) = outgoing.edits {
        line["edits"] = out_id(edited.0).into();
    }
    line["chat"] = outgoing.chat.as_str().into();
    line["to"] = outgoing.answers.as_deref().into();
    line["text"] = outgoing.text.as_str().into();
    if !outgoing.buttons.is_empty() {
        let button = |(label, press): &(String, String)| json!({"label": label, "press": press});
        let rows = outgoing.buttons.iter();
        line["buttons"] = rows
            .map(|row| row.iter().map(button).collect::<Value>())
            .collect();
    }
    line["data"] = outgoing.data.clone();
    line
}

/// A clock that is set by the lines, and goes on from the newest message that is stored.
///
/// # Errors
/// If the books cannot be read.
pub async fn clock(store: &Store) -> anyhow::Result<Clock> {
    let last = store.look().await?.last_received_at().await?;
    Ok(Clock::set_to(last.unwrap_or(DateTime::UNIX_EPOCH)))
}
