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
    Choose {
        question: QuestionId,
        option: usize,
    },
    Undo {
        message: MessageId,
    },
    Redo {
        message: MessageId,
    },
    Clock(ClockPress),
    /// Of a line of the shopping list: it is bought, or after all it is not.
    Tick {
        line: EntryId,
        bought: bool,
    },
    /// What the plan needs goes on the list.
    ListPlan,
    /// The few questions of the beginning.
    SetUp,
}

impl Press {
    pub fn encode(&self) -> String {
        match self {
            Press::Choose { question, option } => format!("choose {} {option}", question.0),
            Press::Undo { message } => format!("undo {}", message.0),
            Press::Redo { message } => format!("redo {}", message.0),
            Press::Clock(press) => press.encode(),
            Press::ListPlan => "list plan".to_owned(),
            Press::SetUp => "set up".to_owned(),
            Press::Tick { line, bought: true } => format!("tick {}", line.0),
            Press::Tick {
                line,
                bought: false,
            } => format!("untick {}", line.0),
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
            ["list", "plan"] => Some(Press::ListPlan),
            ["set", "up"] => Some(Press::SetUp),
            ["tick" | "untick", line] => Some(Press::Tick {
                line: EntryId(line.parse().ok()?),
                bought: words[0] == "tick",
            }),
            words => ClockPress::decode(words).map(Press::Clock),
        }
    }
}
