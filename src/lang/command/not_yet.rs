//! What is understood and not there yet, so that it is not misread: allergies, charts. `data/not_yet.txt` names them.
//!
//! ```text
//! not-yet := opener [rest] | who "allergic to" words
//! ```

use crate::lang::command::only_marks;
use crate::lang::person::person;
use crate::lang::syntax::Command;
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::not_yet;

/// "could you please": so many words may lead up to it.
const LEAD_TOKENS_MAX: usize = 5;
const ALLERGY_WORDS_MAX: usize = 7;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    let capability = opened(body).or_else(|| is_allergic(body).then_some("allergies"));
    match capability {
        Some(capability) => Ok((input.after(input.len()), Command::NotYet { capability })),
        None => input.no(),
    }
}

/// The capability whose opener begins the message.
fn opened(body: Tokens<'_>) -> Option<&'static str> {
    let led = |token: &&Token| {
        let norm = token.norm();
        [
            "i", "we", "please", "set", "my", "our", "ive", "weve", "could", "can", "you",
        ]
        .contains(&norm)
    };
    let skip = body
        .slice
        .iter()
        .take(LEAD_TOKENS_MAX)
        .take_while(led)
        .count();
    let (length, capability) = not_yet()
        .longest(body.slice)
        .or_else(|| not_yet().longest(body.after(skip).slice))?;
    let rest = body.after(length);
    (only_marks(rest) && long_enough(body, capability)).then_some(capability)
}

/// A bare "week" or "move" is a word of talk.
fn long_enough(body: Tokens<'_>, capability: &str) -> bool {
    if body.words().text == capability {
        return true;
    }
    capability != "charts" && body.len() > 1
}

/// "Ana is allergic to nuts", and nothing else.
fn is_allergic(body: Tokens<'_>) -> bool {
    let Some(at) = body.find(|token| token.norm() == "allergic") else {
        return false;
    };
    let who = body.range(0, at);
    let told = match who.norm(0) {
        "im" => who.len() == 1,
        "i" => who.norm(1) == "am" && who.len() == 2,
        _ => person(who).is_some_and(|(length, _)| {
            who.len() == length && who.norm(length - 1).ends_with('s')
                || who.len() == length + 1 && who.norm(length) == "is"
        }),
    };
    told && body.norm(at + 1) == "to" && body.len() <= ALLERGY_WORDS_MAX && body.is_wordy()
}

/// Whether a capability that is not there yet is asked for, and not just mentioned in talk.
pub fn is_asked_for(capability: &str, input: Tokens<'_>) -> bool {
    let body = input.trimmed();
    let quiet = !body
        .slice
        .iter()
        .any(|token| token.is('?') || matches!(token.norm(), "please" | "pls" | "you"));
    quiet && capability == "allergies"
}
