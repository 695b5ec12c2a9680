//! What is understood and not there yet, so that it is not misread: freezing and thawing, targets,
//! planning, reminders, timers, reports, a recipe cooked again. `data/not_yet.txt` names them.

use crate::lang::command::only_marks;
use crate::lang::name;
use crate::lang::syntax::Command;
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::not_yet;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    let skip = usize::from(matches!(body.norm(0), "i" | "we" | "please" | "set"));
    if let Some((length, capability)) = not_yet()
        .longest(body.slice)
        .or_else(|| not_yet().longest(body.after(skip).slice))
    {
        let rest = body.after(length);
        let alone = only_marks(rest);
        // "reminder" and "move" begin many a sentence; only a known batch or nothing may follow.
        let opens = matches!(
            capability,
            "freezing and thawing" | "targets" | "reminders" | "timers" | "planning" | "recipes"
        );
        let names = (0..rest.len()).any(|at| names_batch(rest.after(at)));
        let digits = matches!(capability, "targets" | "timers") && rest.has_number();
        let spoken = matches!(capability, "reminders") && matches!(body.norm(1), "me" | "us");
        if (alone && long_enough(body, capability)) || (opens && (names || digits || spoken)) {
            return Ok((input.after(input.len()), Command::NotYet { capability }));
        }
        return input.no();
    }
    if body.last().is_some_and(|token| token.norm() == "again") {
        let name = name::bare(body.range(0, body.len() - 1));
        let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
        if input.vocabulary.is_batch(&words) {
            return Ok((
                input.after(input.len()),
                Command::NotYet {
                    capability: "recipes",
                },
            ));
        }
    }
    input.no()
}

/// A bare "week" or "move" is a word of talk.
fn long_enough(body: Tokens<'_>, capability: &str) -> bool {
    if body.words().text == capability {
        return true;
    }
    match capability {
        "weekly reports" => body.len() > 1,
        "freezing and thawing" | "recipes" | "charts" => false,
        _ => body.len() > 1 || matches!(body.norm(0), "targets" | "timer" | "timers" | "reminders"),
    }
}

fn names_batch(input: Tokens<'_>) -> bool {
    let norm = input.norm(0);
    !norm.is_empty() && input.vocabulary.is_batch(&[norm])
}
