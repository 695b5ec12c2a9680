//! Put an answer into the outbox, in place of an earlier one where it follows from it.

use chrono::{DateTime, Utc};

use super::{Error, Work};
use crate::domain::answer::Button;
use crate::domain::decide::Replaced;
use crate::render::{Message, Shown};
use crate::store::{Kind, NewReply, OutboxKind, Waiting};

/// The rows of buttons, each as its label and what a press carries.
pub(super) fn pressed(message: &Message) -> Vec<Vec<(String, String)>> {
    let button = |button: &Button| (button.label.clone(), button.press.encode());
    let rows = message.buttons.iter();
    rows.map(|row| row.iter().map(button).collect()).collect()
}

impl Work<'_> {
    /// Answer a message. The answer to an edit replaces the first answer to the message, and `replaces`
    /// names another one that grows.
    pub(super) async fn say(
        &mut self,
        waiting: &Waiting,
        message: &Message,
        replaces: Option<Replaced>,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        if !message.text.is_empty() {
            self.say_words(waiting, message, replaces, now).await?;
        }
        for shown in &message.pictures {
            self.show(waiting, shown, now).await?;
        }
        Ok(())
    }

    async fn say_words(
        &mut self,
        waiting: &Waiting,
        message: &Message,
        replaces: Option<Replaced>,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        let (channel, chat) = (waiting.channel.as_str(), waiting.chat.as_str());
        let edits = match (replaces, waiting.kind, &waiting.reply_to) {
            (Some(Replaced::Pressed), _, Some(pressed)) => {
                self.transaction.sent_as(channel, chat, pressed).await?
            }
            (Some(Replaced::AnswerTo(target)), ..) => {
                self.transaction.first_reply(channel, chat, target).await?
            }
            (_, Kind::Message, _) => {
                let first = self.transaction.first_reply(channel, chat, waiting.id);
                first.await?
            }
            (_, Kind::Press, _) => None,
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
        let buttons = pressed(message);
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
            picture: None,
            silent: message.silent,
        };
        self.transaction.say(&reply, now).await?;
        Ok(())
    }

    /// A picture is a message of its own: none is edited into another.
    async fn show(
        &mut self,
        waiting: &Waiting,
        shown: &Shown,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        let mut picture = shown.picture.clone();
        picture.of_household(waiting.household.0);
        let reply = NewReply {
            message: Some(waiting.id),
            channel: &waiting.channel,
            chat: &waiting.chat,
            topic: waiting.topic.as_deref(),
            kind: OutboxKind::Picture,
            edits: None,
            answers: Some(&waiting.external_id),
            text: &shown.caption,
            bold: &[],
            buttons: &[],
            data: &shown.data,
            picture: Some(&picture),
            silent: false,
        };
        self.transaction.say(&reply, now).await?;
        Ok(())
    }
}
