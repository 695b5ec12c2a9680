//! "help", "help batch", "what can you do".

use crate::lang::command::{key_phrase, whole_phrase};
use crate::lang::syntax::{Command, Words};
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    if let Ok((rest, ())) = whole_phrase("help", input) {
        return Ok((rest, Command::Help { topic: None }));
    }
    // Books leave the box by its command line: that is what is told.
    if let Ok((rest, ())) = whole_phrase("export", input) {
        let topic = Some(Words::plain("export"));
        return Ok((rest, Command::Help { topic }));
    }
    let (rest, ()) = key_phrase("help", input)?;
    let topic = rest.trimmed();
    if !topic.is_wordy() || topic.len() > 3 {
        return input.no();
    }
    Ok((
        rest.after(rest.len()),
        Command::Help {
            topic: Some(topic.words()),
        },
    ))
}
