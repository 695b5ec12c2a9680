//! What a decision comes to.

use super::super::answer::Answer;
use super::super::change::Change;
use super::super::ids::{MemberId, MessageId};

/// What became of a message; the first that applies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    Recorded,
    Asked,
    Refused,
    Answered,
    Ignored,
}

impl Outcome {
    pub fn of(recorded: bool, answers: &[Answer]) -> Self {
        let asks = |answer: &Answer| matches!(answer, Answer::Ask(_));
        let refuses = |answer: &Answer| matches!(answer, Answer::Problem(_));
        match answers {
            _ if recorded => Self::Recorded,
            // What is only kept in mind is not talked about.
            [] => Self::Ignored,
            answers if answers.iter().any(asks) => Self::Asked,
            answers if answers.iter().any(refuses) => Self::Refused,
            _ => Self::Answered,
        }
    }
}

/// What an answer takes the place of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Replaced {
    /// The answer to a message: a bowl grows under one answer.
    AnswerTo(MessageId),
    /// The message whose button was pressed: a list is ticked off where it stands.
    Pressed,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Decision {
    pub outcome: Outcome,
    /// The message that the entries belong to: the one handled, or the one that a question was about.
    pub credit: MessageId,
    /// What the answer stands in the place of, if it is no message of its own.
    pub replaces: Option<Replaced>,
    /// In the order in which they must be written.
    pub changes: Vec<Change>,
    /// What to say, in order; empty for silence.
    pub answers: Vec<Answer>,
    /// Who or what is deleted, once all of that is written. Nothing brings it back.
    pub deletes: Option<Deletes>,
}

/// What is deleted for good.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Deletes {
    Member(MemberId),
    Household,
}

impl Decision {
    /// The question of the message that it is credited to is open again: what that said waits once more.
    pub fn leaves_asked(&self) -> bool {
        let closed = |id| self.changes.contains(&Change::CloseQuestion(id));
        self.changes.iter().any(|change| match change {
            Change::Reopen(question) => !closed(question.id),
            _ => false,
        })
    }
}
