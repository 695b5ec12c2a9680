//! Whether what is told of people is told to the bot. Among people it is talked of them all day: only what says that it is
//! for the household's list counts there, and a new name only where it is written as one.

use crate::lang::syntax::{People, Words};
use crate::lang::tokens::Tokens;
use crate::lang::words::people;

pub fn is_meant(said: &People, input: Tokens<'_>) -> bool {
    let body = input.trimmed();
    let asked = body.last().is_some_and(|token| token.is('?'));
    let body = body.range(0, body.len() - usize::from(asked)).trimmed();
    let loose = |part: &str| {
        let starts = |at: usize| people().longest_of(body.after(at).slice, part);
        (0..body.len()).any(|at| starts(at).is_some_and(|length| at + length >= body.len()))
    };
    match said {
        People::Who => !loose("who loosely"),
        People::WhoKeeps | People::Keep { .. } => true,
        // "I'm Rob" is how people introduce themselves to each other.
        People::Introduced { .. } => false,
        People::Name { name, .. } | People::Nickname { name, .. } => is_capital(name, input),
        // Both are words for people here; whether for one the books tell.
        People::NoNickname { .. } => true,
        People::Add { names } => {
            let told = ["add guest", "as guest", "not chat", "is back"];
            let anywhere = |part: &&str| people().stand_in(body.slice, part);
            let back = people().longest_of(body.slice, "add").is_some() && loose("back");
            let guest = body.norm(0) == "guest";
            names.iter().all(|name| is_capital(name, input))
                && (back || guest || told.iter().any(anywhere))
        }
        People::Leave { who: None } => !loose("left me loosely"),
        People::Leave { who: Some(who) } => {
            // "remove Mia", and no more
            let removes = matches!(body.norm(0), "remove" | "kick") && is_capital(who, input);
            let alone = body
                .last()
                .is_some_and(|last| last.span.end == who.span.end);
            let guest =
                body.norm(0) == "remove" && body.slice.iter().any(|it| it.norm() == "guest");
            guest || removes && alone || people().stand_in(body.slice, "from") || loose("has left")
        }
        People::Return => !loose("return loosely"),
    }
}

/// It is written as a name.
fn is_capital(name: &Words, input: Tokens<'_>) -> bool {
    let typed = input.text.get(name.span.clone()).unwrap_or_default();
    typed.chars().next().is_some_and(char::is_uppercase)
}
