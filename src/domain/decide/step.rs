//! What a command comes to: what is answered, or why nothing is booked.

use super::super::answer::{About, Answer};
use super::super::ids::MessageId;
use super::super::kitchen::Choice;
use super::super::problem::{Problem, ProblemKind};

/// What one command came to.
#[derive(Default)]
pub struct Done {
    pub answers: Vec<Answer>,
    /// Unclear points of what was booked all the same.
    pub asks: Vec<Asking>,
}

impl Done {
    pub fn saying(answer: Answer) -> Self {
        Self {
            answers: vec![answer],
            asks: Vec::new(),
        }
    }
}

/// Why nothing is booked.
pub enum Stop {
    Problem(Problem),
    Ask(Box<Asking>),
}

/// A question to put to the sender.
pub struct Asking {
    pub about: About,
    pub words: String,
    pub problem: Option<ProblemKind>,
    pub options: Vec<Choice>,
    /// The act that the options are about, if it is not the one that the message points at.
    pub pointed: Option<MessageId>,
}

pub type Step = Result<Done, Stop>;

impl From<Problem> for Stop {
    fn from(problem: Problem) -> Self {
        Stop::Problem(problem)
    }
}

impl From<ProblemKind> for Stop {
    fn from(kind: ProblemKind) -> Self {
        Stop::Problem(kind.anywhere())
    }
}
