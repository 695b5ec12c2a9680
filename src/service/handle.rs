//! Decide about the oldest waiting message, book it, answer it: all of it or nothing.

use std::panic::{AssertUnwindSafe, catch_unwind};

use chrono::{DateTime, Duration, Utc};

use super::address::{Addressed, address};
use super::case::{
    Case, Decided, asks_for_a_report, dishes, is_ahead, leaves_out, looks_back, may_speak, named,
    plans, puts_off,
};
use super::{Error, Service, Work};
use crate::domain::act::Act;
use crate::domain::answer::Press;
use crate::domain::ids::MessageId;
use crate::render::{self, Message};
use crate::store::{Kind, View, Waiting};

pub use crate::domain::decide::Outcome;

/// What was told so long ago may be put off.
const NOTES_STAY: Duration = Duration::hours(24);

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
                    Ok(()) => {
                        self.forget_due();
                        return Ok(Some(handled(waiting, Some(outcome))));
                    }
                    Err(error) => Failure::Store(error),
                },
                Err(failure) => {
                    drop(work);
                    failure
                }
            };
            tracing::error!(message_id = waiting.id.0, %failure, "a message could not be handled");
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
                pictures: Vec::new(),
                reaction: None,
            };
            work.say(waiting, &apology, None, now).await?;
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

/// The pure part may have a fault; one bad message must not stop the rest.
fn pure<T>(part: impl FnOnce() -> T) -> Result<T, Failure> {
    catch_unwind(AssertUnwindSafe(part)).map_err(|_| Failure::Fault)
}

/// What a message points at, and whether that is one of the bot's own messages.
#[derive(Default)]
pub(super) struct Pointed {
    pub act: Option<Act>,
    pub at_bot: bool,
    /// The message that the bot's own message, which it replies to, had answered.
    pub replies_to: Option<MessageId>,
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
        let answered = match before {
            Some(_) => self.transaction.answered(waiting).await?,
            None => None,
        };
        let named = named(&addressed.text);
        let mut case = Case {
            waiting,
            addressed,
            before,
            pointed,
            answered,
            press,
            cautioned: None,
            spoken: Vec::new(),
            names,
        };
        let mut view = View {
            household: waiting.household,
            sender: waiting.member,
            pointed: case.pointed.act.as_ref(),
            answered: case.answered.as_ref(),
            named: &named,
            looks_back: false,
            report: false,
            dishes: &[],
            ahead: false,
            plans: false,
            now,
        };
        let mut kitchen = self.transaction.kitchen(view, None).await?;
        let saying = pure(|| case.read(&kitchen))?;
        view.looks_back = saying.as_ref().is_some_and(looks_back);
        view.report = saying.as_ref().is_some_and(asks_for_a_report);
        let leaves_out = |saying| leaves_out(saying, &case.addressed.text);
        if saying.as_ref().is_some_and(leaves_out) {
            case.spoken = self.transaction.spoken_of(waiting).await?;
        }
        let dishes = saying
            .as_ref()
            .map(|saying| dishes(saying, &kitchen, &case.spoken));
        let dishes = dishes.unwrap_or_default();
        view.dishes = &dishes;
        view.ahead = saying.as_ref().is_some_and(is_ahead);
        view.plans = saying.as_ref().is_some_and(plans);
        let more = view.looks_back || view.report || view.ahead || view.plans;
        if more || !dishes.is_empty() {
            kitchen = self.transaction.kitchen(view, Some(kitchen)).await?;
        }
        if saying.as_ref().is_some_and(puts_off) {
            let chat = (waiting.channel.as_str(), waiting.chat.as_str());
            let (reply_to, since) = (waiting.reply_to.as_deref(), now - NOTES_STAY);
            let told = self.transaction.last_notes(chat, reply_to, since);
            kitchen.clock.told = told.await?;
        }
        if saying.as_ref().is_some_and(may_speak) {
            case.cautioned = self.transaction.cautioned(waiting).await?;
        }
        let own = case.known_as();
        let Decided {
            decision,
            message,
            other_times,
            look_by,
            list,
            kitchen,
        } = pure(|| case.decide(kitchen, saying, now))?;
        if other_times {
            self.settle_notes(waiting.household, now).await?;
        }
        let (household, changes) = (waiting.household, &decision.changes);
        let left = case.left(&decision, kitchen);
        self.transaction
            .append(household, decision.credit, changes, left, now)
            .await?;
        if other_times {
            self.transaction.restart_schedule(household, now).await?;
        }
        if let Some(by) = look_by {
            self.transaction.look_by(waiting.household, by).await?;
        }
        match decision.deletes {
            Some(deletes) => self.delete(waiting, deletes, &message, now).await?,
            None => self.say(waiting, &message, decision.replaces, now).await?,
        }
        if let Some(list) = list {
            self.rehang(waiting.household, &list, now).await?;
        }
        self.transaction
            .set_outcome(waiting.id, decision.outcome)
            .await?;
        if decision.credit != own && decision.outcome == Outcome::Recorded {
            let (from, to) = match decision.leaves_asked() {
                false => (Outcome::Asked, Outcome::Recorded),
                true => (Outcome::Recorded, Outcome::Asked),
            };
            self.transaction.turn(decision.credit, from, to).await?;
        }
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
            return Ok(Pointed {
                act,
                at_bot: true,
                replies_to: None,
            });
        }
        let mut pointed = Pointed::default();
        let mut message = None;
        if let Some(reply_to) = &waiting.reply_to {
            let (channel, chat) = (&waiting.channel, &waiting.chat);
            let answered = self.transaction.answered_by(channel, chat, reply_to);
            match answered.await? {
                Some(answered) => {
                    pointed.at_bot = true;
                    if let Some(answered) = answered {
                        let first = self.transaction.first_revision(answered).await?;
                        pointed.replies_to = Some(first);
                    }
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
}
