//! "/start CODE": letting a chat in. Only with the slash, which the reader of the address has seen.

use crate::lang::command::key_phrase;
use crate::lang::syntax::Command;
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = key_phrase("start", input)?;
    let code = rest.trimmed();
    if code.is_empty() {
        return Ok((rest.after(rest.len()), Command::Start { code: None }));
    }
    let said = input.text[code.span()]
        .split_whitespace()
        .next()
        .map(str::to_owned);
    Ok((rest.after(rest.len()), Command::Start { code: said }))
}
