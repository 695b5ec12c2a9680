//! "dal?", "show dal", "D7?": a batch, line by line. A bare "D7" is typed from a label.
//!
//! ```text
//! show := verb name | name "?" | code
//! ```

use crate::lang::command::key_phrase;
use crate::lang::name;
use crate::lang::syntax::Command;
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let asked = input.last().is_some_and(|token| token.is('?'));
    let end = input.len() - usize::from(asked);
    let body = input.range(0, end);
    let (rest, spoken) = match key_phrase("show", body) {
        Ok((rest, ())) => (rest, true),
        Err(_) => (body, false),
    };
    let name = name::bare(rest.trimmed());
    let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
    let known = input.vocabulary.is_batch(&words);
    // "D7": as it stands on a label.
    let coded = || body.len() == 1 && input.vocabulary.is(Sense::Code, &words);
    // "what is D1?"
    let (rest, spoken) = match (rest.norm(0), rest.norm(1)) {
        _ if spoken => (rest, true),
        ("whats", _) => (rest.after(1), false),
        ("what", "is") => (rest.after(2), false),
        _ => (rest, false),
    };
    let code = rest.trimmed();
    if rest.len() < body.len() && code.len() == 1 && !spoken {
        let words = [code.norm(0)];
        let name = code.words();
        return match input.vocabulary.is(Sense::Code, &words) {
            true => Ok((input.after(input.len()), Command::Show { name })),
            false => input.no(),
        };
    }
    let told = spoken || asked || coded();
    if !told || name.is_empty() || name.len() > 6 || !name.is_wordy() || !known {
        return input.no();
    }
    Ok((
        input.after(input.len()),
        Command::Show { name: name.words() },
    ))
}
