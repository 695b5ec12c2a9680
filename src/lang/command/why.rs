//! "why?": where a caution comes from. What it is asked of, the domain knows; among people it is mostly theirs.

use crate::lang::command::whole_phrase;
use crate::lang::syntax::Command;
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = whole_phrase("why", input)?;
    Ok((rest, Command::Why))
}
