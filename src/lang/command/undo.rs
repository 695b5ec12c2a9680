//! "undo": the sender's latest entry is reversed; "cancel": the open question is dropped.

use crate::lang::command::fix::without_excuse;
use crate::lang::command::whole_phrase;
use crate::lang::syntax::Command;
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) =
        whole_phrase("undo", input).or_else(|_| whole_phrase("undo", without_excuse(input)))?;
    Ok((rest, Command::Undo))
}

/// "forget that", "ignore the last one": taken back right after it was booked, and talk at any other time.
pub fn read_lately(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = whole_phrase("undo lately", without_excuse(input))?;
    Ok((rest, Command::Undo))
}

/// "redo": the last undo is undone.
pub fn read_redo(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) =
        whole_phrase("redo", input).or_else(|_| whole_phrase("redo", without_excuse(input)))?;
    Ok((rest, Command::Redo))
}

pub fn read_drop(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = whole_phrase("drop", input)?;
    Ok((rest, Command::Drop))
}
