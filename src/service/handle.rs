//! Decide about the oldest waiting message, book it, answer it: all of it or nothing.

use std::panic::{AssertUnwindSafe, catch_unwind};

use chrono::{DateTime, Utc};

use super::address::{Addressed, address};
use super::{Error, Service, Work};
use crate::domain::answer::{Answer, Press};
use crate::domain::decide::{Decision, Input, Saying, decide};
use crate::domain::ids::MessageId;
use crate::domain::kitchen::{Act, Kitchen};
use crate::domain::problem::ProblemKind;
use crate::lang;
use crate::render::{self, Message};
use crate::store::{Kind, NewReply, OutboxKind, Said, Waiting};

pub use crate::domain::decide::Outcome;

/// What became of a message.
#[derive(Debug, Clone, PartialEq)]
pub struct Handled {
    pub message: MessageId,
    pub channel: String,
    pub chat: String,
    pub external_id: String,
    /// `None`: it failed too often and was set aside, with an apology in the chat.
    pub outcome: Option<Outcome>,
}

/// Why handling failed: the file, or a fault in this program.
#[derive(Debug, thiserror::Error)]
enum Failure {
    #[error(transparent)]
    Store(#[from] Error),
    #[error("a decision broke off")]
    Fault,
}

impl Service {
    /// Handle the oldest message without an outcome; `None` when nothing waits. A message that fails
    /// is tried again by the next call, and set aside after the last attempt.
    ///
    /// # Errors
    /// Only if the failure itself could not be written down: then nothing has changed, and waiting a
    /// while before the next call is wise.
    pub async fn handle_next(&self, now: DateTime<Utc>) -> Result<Option<Handled>, Error> {
        loop {
            let mut work = self.begin().await?;
            let Some(waiting) = work.transaction.oldest_waiting().await? else {
                work.commit().await?;
                return Ok(None);
            };
            let failure = match work.handle(&waiting, now).await {
                Ok(outcome) => match work.commit().await {
                    Ok(()) => return Ok(Some(handled(waiting, Some(outcome)))),
                    Err(error) => Failure::Store(error),
                },
                Err(failure) => {
                    drop(work);
                    failure
                }
            };
            tracing::error!(message = waiting.id.0, %failure, "a message could not be handled");
            if self.count_failure(&waiting, now).await? {
                return Ok(Some(handled(waiting, None)));
            }
        }
    }

    /// True: that was the last attempt, and the chat is told.
    async fn count_failure(&self, waiting: &Waiting, now: DateTime<Utc>) -> Result<bool, Error> {
        let mut work = self.begin().await?;
        let set_aside = work.transaction.count_failure(waiting.id).await?;
        if set_aside {
            let apology = Message {
                text: render::failed(&waiting.body),
                bold: Vec::new(),
                buttons: Vec::new(),
                data: serde_json::json!({ "kind": "failed" }),
                silent: false,
                reaction: None,
            };
            work.say(waiting, &apology, now).await?;
        }
        work.commit().await?;
        Ok(set_aside)
    }
}

fn handled(waiting: Waiting, outcome: Option<Outcome>) -> Handled {
    Handled {
        message: waiting.id,
        channel: waiting.channel,
        chat: waiting.chat,
        external_id: waiting.external_id,
        outcome,
    }
}

/// What a message points at, and whether that is one of the bot's own messages.
#[derive(Default)]
struct Pointed {
    act: Option<Act>,
    at_bot: bool,
}

impl Work<'_> {
    async fn handle(&mut self, waiting: &Waiting, now: DateTime<Utc>) -> Result<Outcome, Failure> {
        let names = self.service.names();
        let addressed = match waiting.kind {
            Kind::Message => address(&waiting.body, &names),
            Kind::Press => Addressed {
                spoken_to: true,
                elsewhere: false,
                text: waiting.body.as_str().into(),
            },
        };
        if addressed.elsewhere {
            let ignored = Outcome::Ignored;
            self.transaction.set_outcome(waiting.id, ignored).await?;
            return Ok(ignored);
        }
        let before = self.transaction.said_before(waiting).await?;
        let pointed = self.pointed(waiting, before.is_some()).await?;
        let press = self.press(waiting).await?;
        let mut kitchen = self
            .transaction
            .kitchen(waiting.household, waiting.member, pointed.act.as_ref(), now)
            .await?;
        let question = Question {
            waiting,
            addressed,
            before,
            pointed,
            press,
            names,
        };
        // The pure part may have a fault; one bad message must not stop the rest.
        let decided = catch_unwind(AssertUnwindSafe(|| question.decide(&mut kitchen, now)));
        let (decision, message) = decided.map_err(|_| Failure::Fault)?;
        self.transaction
            .append(waiting.household, decision.credit, &decision.changes, now)
            .await?;
        if !message.text.is_empty() {
            self.say(waiting, &message, now).await?;
        }
        self.transaction
            .set_outcome(waiting.id, decision.outcome)
            .await?;
        Ok(decision.outcome)
    }

    /// For an edit, what the message itself has booked; for a press, what its button names; else what
    /// the message replied to was about.
    async fn pointed(&mut self, waiting: &Waiting, edited: bool) -> Result<Pointed, Error> {
        let household = waiting.household;
        if waiting.kind == Kind::Press {
            let act = match Press::decode(&waiting.body) {
                Some(Press::Undo { message } | Press::Redo { message }) => {
                    self.transaction.act(household, message).await?
                }
                _ => None,
            };
            return Ok(Pointed { act, at_bot: true });
        }
        let mut pointed = Pointed::default();
        let mut message = None;
        if let Some(reply_to) = &waiting.reply_to {
            let (channel, chat) = (&waiting.channel, &waiting.chat);
            let answered = self.transaction.answered_by(channel, chat, reply_to);
            match answered.await? {
                Some(answered) => {
                    pointed.at_bot = true;
                    message = answered;
                }
                None => {
                    let said = self
                        .transaction
                        .message_by_external_id(channel, chat, reply_to);
                    message = said.await?;
                }
            }
        }
        if edited {
            message = Some(waiting.id);
        }
        if let Some(message) = message {
            pointed.act = self.transaction.act(household, message).await?;
        }
        Ok(pointed)
    }

    /// What a press means, if it comes from a button that stands in this chat.
    async fn press(&mut self, waiting: &Waiting) -> Result<Option<Press>, Error> {
        let (Kind::Press, Some(on)) = (waiting.kind, &waiting.reply_to) else {
            return Ok(None);
        };
        let offered = self
            .transaction
            .offers(&waiting.channel, &waiting.chat, on, &waiting.body)
            .await?;
        Ok(Press::decode(&waiting.body).filter(|_| offered))
    }

    /// Answer a message; an answer to an edit replaces the earlier one.
    async fn say(
        &mut self,
        waiting: &Waiting,
        message: &Message,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        let (channel, chat) = (waiting.channel.as_str(), waiting.chat.as_str());
        let edits = match waiting.kind {
            Kind::Message => {
                self.transaction
                    .earlier_reply(channel, chat, &waiting.external_id)
                    .await?
            }
            Kind::Press => None,
        };
        let (kind, text) = match (edits, message.reaction, waiting.kind) {
            (Some(_), ..) => (OutboxKind::Edit, message.text.as_str()),
            (None, Some(reaction), Kind::Message) => (OutboxKind::Reaction, reaction),
            (None, ..) => (OutboxKind::Reply, message.text.as_str()),
        };
        let bold: Vec<[usize; 2]> = match kind {
            OutboxKind::Reaction => Vec::new(),
            _ => message
                .bold
                .iter()
                .map(|range| [range.start, range.end])
                .collect(),
        };
        let buttons: Vec<Vec<(String, String)>> = message
            .buttons
            .iter()
            .map(|row| {
                let button = |button: &crate::domain::answer::Button| {
                    (button.label.clone(), button.press.encode())
                };
                row.iter().map(button).collect()
            })
            .collect();
        let reply = NewReply {
            message: Some(waiting.id),
            channel,
            chat,
            topic: waiting.topic.as_deref(),
            kind,
            edits,
            answers: Some(&waiting.external_id),
            text,
            bold: &bold,
            buttons: &buttons,
            data: &message.data,
            silent: message.silent,
        };
        self.transaction.say(&reply, now).await?;
        Ok(())
    }
}

/// Everything that a decision is about, but the kitchen.
struct Question<'a> {
    waiting: &'a Waiting,
    addressed: Addressed<'a>,
    before: Option<Said>,
    pointed: Pointed,
    press: Option<Press>,
    names: Vec<String>,
}

impl Question<'_> {
    fn decide(self, kitchen: &mut Kitchen, now: DateTime<Utc>) -> (Decision, Message) {
        let text = self.addressed.text.into_owned();
        let mut spoken_to = self.waiting.private || self.addressed.spoken_to || self.pointed.at_bot;
        let said_at = match &self.before {
            Some(before) => before.first_sent_at,
            None => self.waiting.sent_at,
        };
        let saying = match (self.waiting.kind, self.press, &self.before) {
            (Kind::Press, Some(press), _) => Some(Saying::Press(press)),
            (Kind::Press, None, _) => None,
            (Kind::Message, _, before) => {
                let words = kitchen.vocabulary();
                let after = lang::parse(&text, &words);
                spoken_to |= after.addressed;
                Some(match before {
                    Some(before) => Saying::Edit {
                        before: lang::parse(&address(&before.body, &self.names).text, &words),
                        after,
                    },
                    None => Saying::Message(after),
                })
            }
        };
        let decision = match saying {
            Some(saying) => {
                let input = Input {
                    message: self.waiting.id,
                    sender: self.waiting.member,
                    now,
                    said_at,
                    addressed: spoken_to,
                    forwarded: self.waiting.forwarded,
                    text: text.clone(),
                    saying,
                    pointed: self.pointed.act,
                };
                decide(kitchen, &input)
            }
            None => guessed_press(self.waiting.id),
        };
        for change in &decision.changes {
            kitchen.apply(change);
        }
        let message = render::message(&decision.answers, &kitchen.settings(), &text);
        (decision, message)
    }
}

/// A press that no button of this chat carries.
fn guessed_press(message: MessageId) -> Decision {
    Decision {
        outcome: Outcome::Refused,
        credit: message,
        changes: Vec::new(),
        answers: vec![Answer::Problem(ProblemKind::NoQuestion.anywhere())],
    }
}
