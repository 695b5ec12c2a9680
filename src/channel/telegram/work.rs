//! One answer of the outbox as the calls that say it, and what to do when one is refused. Pure.

use std::collections::VecDeque;

use teloxide::types::{ChatId, InlineKeyboardButton, InlineKeyboardMarkup, MessageId, ThreadId};

use super::api::{Act, Call};
use super::pace::is_group;
use super::text;
use crate::service::{Board, OutboxKind, Outgoing};

/// Bytes that a button carries (Bot API, InlineKeyboardButton).
const PRESS_BYTES_MAX: usize = 64;

/// An answer on its way.
#[derive(Debug)]
pub struct Work {
    pub outgoing: Outgoing,
    chat: ChatId,
    acts: VecDeque<Act>,
    /// The messages that show the answer so far; the last of all has the buttons.
    shown_by: Vec<MessageId>,
    /// It is a board that still has to be pinned.
    to_pin: bool,
    /// The chat does not let the bot pin.
    pub pin_refused: bool,
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
        let new = !acts.iter().any(|act| matches!(act, Act::Edit { .. }));
        (!acts.is_empty()).then_some(Self {
            to_pin: new && outgoing.board == Some(Board::Hangs),
            pin_refused: false,
            outgoing,
            chat,
            acts,
            shown_by: Vec::new(),
        })
    }

    /// The call to make now; `None` when all is said.
    pub fn call(&self) -> Option<Call> {
        let pin = || {
            let shown = self.shown_by.first().filter(|_| self.to_pin);
            shown.map(|message| Act::Pin { message: *message })
        };
        let act = self.acts.front().cloned().or_else(pin)?;
        let chat = self.chat;
        Some(Call { chat, act })
    }

    pub fn shown_by(&self) -> Vec<String> {
        self.shown_by.iter().map(ToString::to_string).collect()
    }

    /// The call was carried out.
    pub fn done(&mut self, id: Option<MessageId>) {
        // What comes after all that is said is pinning it.
        self.to_pin &= self.acts.pop_front().is_some();
        self.shown_by.extend(id);
    }

    /// The group has a new id, in which the ids of its old messages mean nothing.
    pub fn redirect(&mut self, chat: i64) {
        self.chat = ChatId(chat);
        if let Some(Act::Edit { .. } | Act::React { .. } | Act::Delete { .. }) = self.acts.front() {
            self.say_anew(None);
        }
        for act in &mut self.acts {
            if let Act::Say { under, .. } | Act::Show { under, .. } = act {
                *under = None;
            }
        }
    }

    fn say_anew(&mut self, under: Option<MessageId>) {
        self.shown_by.clear();
        self.acts = says(&self.outgoing, under);
        self.to_pin = self.outgoing.board == Some(Board::Hangs);
    }

    /// The server says no, and why.
    pub fn refused(&mut self, why: &str) -> Then {
        match self.acts.front_mut() {
            // It hangs there all the same.
            None => {
                self.to_pin = false;
                self.pin_refused = true;
            }
            Some(Act::Edit { message, .. }) if why.contains("message is not modified") => {
                let message = *message;
                self.done(Some(message));
            }
            // There is nothing to take down any more.
            Some(Act::Edit { .. } | Act::Unpin { .. })
                if self.outgoing.board == Some(Board::Away) =>
            {
                self.done(None);
            }
            // Whatever is wrong with the message: a new one can say it, or is refused in its turn.
            // Where pictures are not allowed, the words still are.
            Some(Act::Edit { .. } | Act::React { .. } | Act::Show { .. }) => {
                let old = match self.acts.front() {
                    Some(Act::Edit { message, .. }) => Some(*message),
                    _ => None,
                };
                self.say_anew(self.outgoing.under.as_deref().and_then(message_id));
                // Of two boards, one would be wrong.
                if let (Some(message), true) = (old, self.to_pin) {
                    self.acts.push_back(Act::Delete { message });
                }
            }
            // It is gone already, or too old to go.
            Some(Act::Delete { .. }) => self.done(None),
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
        OutboxKind::Edit => edits(outgoing).unwrap_or_else(|| says(outgoing, under)),
        // Alone with the bot, nobody needs to be told what is being answered.
        OutboxKind::Reply | OutboxKind::Notice => {
            says(outgoing, under.filter(|_| is_group(&outgoing.chat)))
        }
        OutboxKind::Picture => shows(outgoing, under.filter(|_| is_group(&outgoing.chat))),
    }
}

/// Part by part in place: what is too long now goes on in new messages, and messages that are too many
/// go. `None`: what it replaces was never sent.
fn edits(outgoing: &Outgoing) -> Option<VecDeque<Act>> {
    let (_, shown) = outgoing.edits.as_ref()?;
    let shown: Vec<MessageId> = shown.iter().filter_map(|id| message_id(id)).collect();
    if shown.is_empty() {
        return None;
    }
    let first = shown.first().copied();
    let mut acts = says(outgoing, None);
    for (act, message) in acts.iter_mut().zip(&shown) {
        if let Act::Say { html, keyboard, .. } = act {
            *act = Act::Edit {
                message: *message,
                html: std::mem::take(html),
                keyboard: keyboard.take(),
            };
        }
    }
    let too_many = shown.into_iter().skip(acts.len());
    let too_many: Vec<Act> = too_many.map(|message| Act::Delete { message }).collect();
    acts.extend(too_many);
    if outgoing.board == Some(Board::Away)
        && let Some(message) = first
    {
        acts.push_front(Act::Unpin { message });
    }
    Some(acts)
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

/// The picture with its words below; words that are too long for that follow.
fn shows(outgoing: &Outgoing, under: Option<MessageId>) -> VecDeque<Act> {
    let mut acts = says(outgoing, under);
    let Some(picture) = &outgoing.picture else {
        return acts;
    };
    if let Some(Act::Say {
        topic,
        under,
        html,
        silent,
        ..
    }) = acts.pop_front()
    {
        acts.push_front(Act::Show {
            topic,
            under,
            html,
            picture: picture.clone(),
            silent,
        });
    }
    acts
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
            edits: Some((OutboxId(0), vec!["77".to_owned()])),
            answers: Some("8".to_owned()),
            under: Some("8".to_owned()),
            text: text.to_owned(),
            bold: Vec::new(),
            buttons: vec![vec![("Undo".to_owned(), "u8".to_owned())]],
            data: Value::Null,
            picture: None,
            board: None,
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
        assert_eq!(work.call(), None);
        assert_eq!(work.shown_by(), ["100", "101"]);
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
        assert_eq!(work.call(), None);
        assert_eq!(work.shown_by(), ["77"]);
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
    fn an_edit_of_what_was_never_sent_is_said_anew() {
        let mut unsent = outgoing(OutboxKind::Edit, "x");
        unsent.edits = Some((OutboxId(0), Vec::new()));
        said(&Work::new(unsent).unwrap());
    }

    /// The messages that are edited, with their buttons or without; 0 for a new one; deletions negative.
    fn in_place(shown: &[&str], text: &str) -> Vec<(i32, bool)> {
        let mut edit = outgoing(OutboxKind::Edit, text);
        let shown = shown.iter().map(|id| (*id).to_owned()).collect();
        edit.edits = Some((OutboxId(0), shown));
        let acts = Work::new(edit).unwrap().acts.into_iter();
        acts.map(|act| match act {
            Act::Edit {
                message, keyboard, ..
            } => (message.0, keyboard.is_some()),
            Act::Delete { message } => (-message.0, false),
            Act::Say { keyboard, .. } => (0, keyboard.is_some()),
            other => panic!("an edit is no {other:?}"),
        })
        .collect()
    }

    #[test]
    fn an_answer_in_parts_is_edited_part_by_part() {
        let (short, long) = ("x", "x\n".repeat(4000));
        assert_eq!(in_place(&["7", "8"], &long), [(7, false), (8, true)]);
        assert_eq!(in_place(&["7"], &long), [(7, false), (0, true)]);
        assert_eq!(in_place(&["7", "8"], short), [(7, true), (-8, false)]);
    }

    #[test]
    fn a_message_that_cannot_be_deleted_stays() {
        let mut edit = outgoing(OutboxKind::Edit, "x");
        edit.edits = Some((OutboxId(0), vec!["7".to_owned(), "8".to_owned()]));
        let mut work = Work::new(edit).unwrap();
        work.done(Some(MessageId(7)));
        let then = work.refused("Bad Request: message can't be deleted for everyone");
        assert_eq!((then, work.call()), (Then::GoOn, None));
        assert_eq!(work.shown_by(), ["7"]);
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
