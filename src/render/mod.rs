//! Values to words. Pure. Every sentence that the bot can say is in this layer.

use serde_json::Value;

use crate::domain::answer::{Answer, Button};
use crate::domain::kitchen::Settings;

/// One answer, ready to send on any channel. `text` may hold `*bold*` spans as plain markers:
/// `Bold` ranges are byte ranges of it, so that a channel can mark them in its own way.
#[derive(Debug, Clone, PartialEq)]
pub struct Message {
    pub text: String,
    pub bold: Vec<std::ops::Range<usize>>,
    pub buttons: Vec<Vec<Button>>,
    /// The same answer for machines, as the bridge's contract has it.
    pub data: Value,
    /// Answers to weighings make no sound.
    pub silent: bool,
    /// The message may be answered by a bare reaction instead, if the household likes that.
    pub reaction: Option<&'static str>,
}

/// Word the answers of one decision as one message. `text` is what was said, to point at words.
pub fn message(answers: &[Answer], settings: &Settings, text: &str) -> Message {
    let _ = (answers, settings, text);
    Message {
        text: String::new(),
        bold: Vec::new(),
        buttons: Vec::new(),
        data: Value::Null,
        silent: true,
        reaction: None,
    }
}
