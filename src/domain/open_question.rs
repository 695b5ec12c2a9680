//! A question that waits for an answer, and one that had it.

use chrono::{DateTime, Utc};

use super::act::Act;
use super::ids::*;

/// The kind of question that a scale with something on it is kept as.
pub const SCALE: &str = "scale";

/// The kind that a recount is kept as while somebody walks through the kitchen.
pub const RECOUNT: &str = "recount";

/// The kind that the advice to check the scale is kept as, so that it is not repeated.
pub const LEAN: &str = "lean";

/// The kind that an offered plate is kept as: nothing waits for it, and one word books it.
pub const PLATE: &str = "plate";

/// The kind that the offer of a household is kept as.
pub const KEEPER: &str = "keeper";

/// The kind that a question of the set-up is kept as: what is not answered stays as it is.
pub const SET_UP: &str = "set_up";

/// What is longer is told by the words that were asked about.
const SAID_LENGTH_MAX: usize = 80;

/// One way to answer a question: a sentence of the bot's language that says it all.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// Empty: it is not offered, but keeps what was said, to be put right by a word.
    pub label: String,
    /// What the asker is taken to have written, if they choose this.
    pub says: String,
}

impl Choice {
    pub fn as_said(says: String) -> Self {
        let label = String::new();
        Self { label, says }
    }

    pub fn is_offered(&self) -> bool {
        !self.label.is_empty()
    }
}

#[derive(Debug, Clone, PartialEq)]
pub struct OpenQuestion {
    pub id: QuestionId,
    pub member: MemberId,
    /// The message that it is about.
    pub message: MessageId,
    pub about: String,
    /// What it is about, as typed.
    pub words: String,
    /// The message, if nothing of it is in the books until this is answered.
    pub said: Option<String>,
    pub options: Vec<Choice>,
    /// When the message that it is about was sent.
    pub said_at: DateTime<Utc>,
    pub expires_at: DateTime<Utc>,
    /// The message whose act the question is about, if it points at one.
    pub pointed: Option<MessageId>,
    /// That it waits unanswered has been said once.
    pub mentioned: bool,
}

impl OpenQuestion {
    /// Something waits to be booked on its answer. A confirmation of a change to what another message has
    /// in the books, and a scale that has something on it, hold nothing back.
    pub fn holds_back(&self) -> bool {
        let offers = [PLATE, KEEPER, SET_UP].contains(&self.about.as_str());
        !self.changes_another() && !self.keeps_in_mind() && !offers
    }

    /// Nothing is asked: it keeps what is going on.
    pub fn keeps_in_mind(&self) -> bool {
        [SCALE, RECOUNT, LEAN].contains(&self.about.as_str())
    }

    /// Somebody may be done with it by saying so.
    pub fn can_be_dropped(&self) -> bool {
        !self.keeps_in_mind() || self.about == RECOUNT
    }

    /// What there is to choose from.
    pub fn offered(&self) -> impl Iterator<Item = &Choice> {
        self.options.iter().filter(|option| option.is_offered())
    }

    /// The whole sentence that it is about, as it was said.
    pub fn as_said(&self) -> Option<&str> {
        let last = self.options.last().filter(|last| !last.is_offered())?;
        Some(&last.says)
    }

    /// What waits for its answer: all of it, if that is short.
    pub fn waits(&self) -> &str {
        let short = |said: &&str| said.len() <= SAID_LENGTH_MAX && !said.contains('\n');
        let said = self.said.as_deref().filter(short);
        self.as_said().or(said).unwrap_or(&self.words)
    }

    fn changes_another(&self) -> bool {
        self.pointed.is_some_and(|pointed| pointed != self.message)
    }

    /// It is about an edit: what the message said before is still in the books.
    pub fn is_about_an_edit(&self) -> bool {
        self.pointed == Some(self.message)
    }
}

/// A question that was answered, and what the answer wrote.
#[derive(Debug, Clone, PartialEq)]
pub struct Answered {
    pub question: OpenQuestion,
    /// `None`: nothing of it is in the books.
    pub wrote: Option<Act>,
}
