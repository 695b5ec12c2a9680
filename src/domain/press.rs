//! Buttons under an answer, and what a press on one carries back.

use super::clock::press::ClockPress;
use super::ids::*;

/// A button under an answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Button {
    pub label: String,
    pub press: Press,
}

/// What a button carries: small, checked again when it comes back.
#[derive(Debug, Clone, PartialEq)]
pub enum Press {
    Choose { question: QuestionId, option: usize },
    Undo { message: MessageId },
    Redo { message: MessageId },
    Clock(ClockPress),
}

impl Press {
    pub fn encode(&self) -> String {
        match self {
            Press::Choose { question, option } => format!("choose {} {option}", question.0),
            Press::Undo { message } => format!("undo {}", message.0),
            Press::Redo { message } => format!("redo {}", message.0),
            Press::Clock(press) => press.encode(),
        }
    }

    pub fn decode(text: &str) -> Option<Self> {
        let words: Vec<&str> = text.split(' ').collect();
        match words.as_slice() {
            ["choose", question, option] => Some(Press::Choose {
                question: QuestionId(question.parse().ok()?),
                option: option.parse().ok()?,
            }),
            ["undo", message] => Some(Press::Undo {
                message: MessageId(message.parse().ok()?),
            }),
            ["redo", message] => Some(Press::Redo {
                message: MessageId(message.parse().ok()?),
            }),
            words => ClockPress::decode(words).map(Press::Clock),
        }
    }
}
