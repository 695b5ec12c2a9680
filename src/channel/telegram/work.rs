//! One answer of the outbox as the calls that say it, and what to do when one is refused. Pure.

use std::collections::VecDeque;

use teloxide::types::{ChatId, InlineKeyboardButton, InlineKeyboardMarkup, MessageId, ThreadId};

use super::api::{Act, Call};
use super::pace::is_group;
use super::text;
use crate::service::{OutboxKind, Outgoing};

/// Bytes that a button carries (Bot API, InlineKeyboardButton).
const PRESS_BYTES_MAX: usize = 64;

/// An answer on its way.
#[derive(Debug)]
pub struct Work {
    pub outgoing: Outgoing,
    chat: ChatId,
    acts: VecDeque<Act>,
    /// The last message sent: the one with the buttons.
    sent_as: Option<MessageId>,
}

/// After a refusal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Then {
    /// Go on with the next call, if there is one: nothing was missed, or it is said in another way.
    GoOn,
    /// The answer cannot be delivered.
    SetAside,
}

impl Work {
    /// `None`: the chat is none that Telegram could have, or there is nothing to say.
    pub fn new(outgoing: Outgoing) -> Option<Self> {
        let chat = ChatId(outgoing.chat.parse().ok()?);
        let acts = acts(&outgoing);
        (!acts.is_empty()).then_some(Self {
            outgoing,
            chat,
            acts,
            sent_as: None,
        })
    }

    /// The call to make now; `None` when all is said.
    pub fn call(&self) -> Option<Call> {
        let act = self.acts.front()?.clone();
        let chat = self.chat;
        Some(Call { chat, act })
    }

    pub fn sent_as(&self) -> Option<MessageId> {
        self.sent_as
    }

    /// The call was carried out.
    pub fn done(&mut self, id: Option<MessageId>) {
        self.acts.pop_front();
        self.sent_as = id.or(self.sent_as);
    }

    /// The group has a new id, in which the ids of its old messages mean nothing.
    pub fn redirect(&mut self, chat: i64) {
        self.chat = ChatId(chat);
        if let Some(Act::Edit { .. } | Act::React { .. }) = self.acts.front() {
            self.acts = says(&self.outgoing, None);
        }
        for act in &mut self.acts {
            if let Act::Say { under, .. } = act {
                *under = None;
            }
        }
    }

    /// The server says no, and why.
    pub fn refused(&mut self, why: &str) -> Then {
        match self.acts.front_mut() {
            Some(Act::Edit { message, .. }) if why.contains("message is not modified") => {
                let message = *message;
                self.done(Some(message));
            }
            // Whatever is wrong with the message: a new one can say it, or is refused in its turn.
            Some(Act::Edit { .. } | Act::React { .. }) => {
                let under = self.outgoing.under.as_deref().and_then(message_id);
                self.acts = says(&self.outgoing, under);
            }
            // A topic that was deleted is no reason to keep silent; one that is closed is.
            Some(Act::Say { topic, .. })
                if topic.is_some() && why.contains("message thread not found") =>
            {
                for act in &mut self.acts {
                    if let Act::Say { topic, .. } = act {
                        *topic = None;
                    }
                }
            }
            _ => return Then::SetAside,
        }
        Then::GoOn
    }
}

fn acts(outgoing: &Outgoing) -> VecDeque<Act> {
    let under = outgoing.under.as_deref().and_then(message_id);
    match outgoing.kind {
        OutboxKind::Reaction => match under {
            Some(message) => VecDeque::from([Act::React {
                message,
                emoji: outgoing.text.clone(),
            }]),
            None => says(outgoing, None),
        },
        OutboxKind::Edit => match edit(outgoing) {
            Some(act) => VecDeque::from([act]),
            None => says(outgoing, under),
        },
        // Alone with the bot, nobody needs to be told what is being answered.
        OutboxKind::Reply | OutboxKind::Notice => {
            says(outgoing, under.filter(|_| is_group(&outgoing.chat)))
        }
    }
}

/// `None`: what it replaces was never sent, or the text needs more than one message.
fn edit(outgoing: &Outgoing) -> Option<Act> {
    let (_, sent_as) = outgoing.edits.as_ref()?;
    let message = message_id(sent_as.as_deref()?)?;
    let mut parts = text::parts(&outgoing.text, &outgoing.bold);
    match (parts.pop(), parts.is_empty()) {
        (Some(html), true) => Some(Act::Edit {
            message,
            html,
            keyboard: keyboard(outgoing),
        }),
        _ => None,
    }
}

/// A message for each part: the first stands under what it answers, the last has the buttons.
fn says(outgoing: &Outgoing, under: Option<MessageId>) -> VecDeque<Act> {
    let topic = outgoing.topic.as_deref().and_then(message_id).map(ThreadId);
    let parts = text::parts(&outgoing.text, &outgoing.bold);
    let last = parts.len().saturating_sub(1);
    parts
        .into_iter()
        .enumerate()
        .map(|(at, html)| Act::Say {
            topic,
            under: under.filter(|_| at == 0),
            html,
            keyboard: keyboard(outgoing).filter(|_| at == last),
            silent: outgoing.silent,
        })
        .collect()
}

fn keyboard(outgoing: &Outgoing) -> Option<InlineKeyboardMarkup> {
    let rows: Vec<Vec<InlineKeyboardButton>> = outgoing
        .buttons
        .iter()
        .map(|row| row.iter().filter_map(button).collect())
        .filter(|row: &Vec<_>| !row.is_empty())
        .collect();
    (!rows.is_empty()).then(|| InlineKeyboardMarkup::new(rows))
}

/// One button that Telegram would not take must not cost the whole answer.
fn button((label, press): &(String, String)) -> Option<InlineKeyboardButton> {
    if label.trim().is_empty() || press.is_empty() || press.len() > PRESS_BYTES_MAX {
        tracing::error!(
            bytes = press.len(),
            "a button that Telegram cannot carry is left out"
        );
        return None;
    }
    Some(InlineKeyboardButton::callback(label, press))
}

fn message_id(id: &str) -> Option<MessageId> {
    id.parse().ok().map(MessageId)
}

#[cfg(test)]
mod tests {
    use chrono::DateTime;
    use serde_json::Value;

    use super::*;
    use crate::store::OutboxId;

    fn outgoing(kind: OutboxKind, text: &str) -> Outgoing {
        Outgoing {
            id: OutboxId(1),
            chat: "-5".to_owned(),
            topic: Some("30".to_owned()),
            kind,
            edits: Some((OutboxId(0), Some("77".to_owned()))),
            answers: Some("8".to_owned()),
            under: Some("8".to_owned()),
            text: text.to_owned(),
            bold: Vec::new(),
            buttons: vec![vec![("Undo".to_owned(), "u8".to_owned())]],
            data: Value::Null,
            silent: true,
            attempts: 0,
            created_at: DateTime::UNIX_EPOCH,
        }
    }

    fn work(kind: OutboxKind, text: &str) -> Work {
        Work::new(outgoing(kind, text)).unwrap()
    }

    #[track_caller]
    fn said(work: &Work) -> (Option<i32>, Option<i32>, bool) {
        match work.call().unwrap().act {
            Act::Say {
                topic,
                under,
                keyboard,
                ..
            } => (
                topic.map(|topic| topic.0.0),
                under.map(|under| under.0),
                keyboard.is_some(),
            ),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_long_reply_has_its_buttons_at_the_end() {
        let mut work = work(OutboxKind::Reply, &"x\n".repeat(4000));
        assert_eq!(said(&work), (Some(30), Some(8), false));
        work.done(Some(MessageId(100)));
        assert_eq!(said(&work), (Some(30), None, true));
        work.done(Some(MessageId(101)));
        assert_eq!((work.call(), work.sent_as()), (None, Some(MessageId(101))));
    }

    #[test]
    fn a_private_reply_quotes_nothing() {
        let mut private = outgoing(OutboxKind::Reply, "x");
        private.chat = "5".to_owned();
        assert_eq!(said(&Work::new(private).unwrap()).1, None);
    }

    #[test]
    fn an_edit_that_changes_nothing_is_done() {
        let mut work = work(OutboxKind::Edit, "x");
        assert!(matches!(
            work.call().unwrap().act,
            Act::Edit {
                keyboard: Some(_),
                ..
            }
        ));
        let then = work.refused("Bad Request: message is not modified: specified new ...");
        assert_eq!(then, Then::GoOn);
        assert_eq!((work.call(), work.sent_as()), (None, Some(MessageId(77))));
    }

    #[test]
    fn an_edit_of_a_message_that_is_gone_is_said_anew() {
        let mut work = work(OutboxKind::Edit, "x");
        assert_eq!(
            work.refused("Bad Request: message to edit not found"),
            Then::GoOn
        );
        assert_eq!(said(&work), (Some(30), Some(8), true));
        assert_eq!(work.refused("Forbidden: bot was kicked"), Then::SetAside);
    }

    #[test]
    fn an_edit_of_what_was_never_sent_or_that_is_too_long_is_said_anew() {
        let mut unsent = outgoing(OutboxKind::Edit, "x");
        unsent.edits = Some((OutboxId(0), None));
        said(&Work::new(unsent).unwrap());
        said(&work(OutboxKind::Edit, &"x\n".repeat(4000)));
    }

    #[test]
    fn a_reaction_that_is_refused_becomes_a_message() {
        let mut work = work(OutboxKind::Reaction, "👌");
        assert!(matches!(work.call().unwrap().act, Act::React { .. }));
        assert_eq!(work.refused("Bad Request: REACTION_INVALID"), Then::GoOn);
        assert_eq!(said(&work), (Some(30), Some(8), true));
    }

    #[test]
    fn a_deleted_topic_is_left_and_a_closed_one_is_respected() {
        let mut work = work(OutboxKind::Reply, "x");
        assert_eq!(
            work.refused("Bad Request: message thread not found"),
            Then::GoOn
        );
        assert_eq!(said(&work).0, None);
        assert_eq!(work.refused("Bad Request: TOPIC_CLOSED"), Then::SetAside);
    }

    #[test]
    fn a_moved_group_gets_no_old_ids() {
        for kind in [OutboxKind::Edit, OutboxKind::Reaction, OutboxKind::Reply] {
            let mut work = work(kind, "x");
            work.redirect(-1001);
            assert_eq!(work.call().unwrap().chat, ChatId(-1001));
            assert_eq!(said(&work).1, None, "{kind:?}");
        }
    }

    #[test]
    fn a_button_that_is_too_long_is_left_out() {
        let mut long = outgoing(OutboxKind::Reply, "x");
        long.buttons[0][0].1 = "x".repeat(65);
        assert!(!said(&Work::new(long).unwrap()).2);
    }

    #[test]
    fn nothing_to_say_is_no_work() {
        assert!(Work::new(outgoing(OutboxKind::Reply, " \n")).is_none());
    }
}
