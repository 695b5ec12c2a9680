//! What became of a dish: "what happened to the rice", "rice history", "where did all the rice go".
//!
//! ```text
//! history := ("what happened to" | "history of" | ...) dish ["?"] | dish "history" ["?"]
//!          | ("where did" | "where has" | ...) dish ("go" | "gone") ["?"]
//!          | "when did we freeze" dish ["?"] | "when was" dish ("frozen" | "thawed" | ...) ["?"]
//! ```
//! The same is asked of cars and scissors: only a dish of the household is answered.

use crate::lang::command::key_phrase;
use crate::lang::name;
use crate::lang::syntax::{Command, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let asked = input.last().is_some_and(|token| token.is('?'));
    let body = input.range(0, input.len() - usize::from(asked)).trimmed();
    let name = told(body)
        .or_else(|| gone(body))
        .or_else(|| behind(body))
        .or_else(|| moved(body));
    match name {
        Some(name) => Ok((input.after(input.len()), Command::History { name })),
        None => input.no(),
    }
}

fn told(body: Tokens<'_>) -> Option<Words> {
    let (rest, ()) = key_phrase("history", body).ok()?;
    name::of_batch(rest.trimmed())
}

/// "where did all the rice go"
fn gone(body: Tokens<'_>) -> Option<Words> {
    let (rest, ()) = key_phrase("gone", body).ok()?;
    before(rest, &["go", "gone", "got to", "to"])
}

/// "when did we freeze the chilli", "when was the soup frozen"
fn moved(body: Tokens<'_>) -> Option<Words> {
    if let Ok((rest, ())) = key_phrase("when moved", body) {
        return name::of_batch(rest.trimmed());
    }
    let (rest, ()) = key_phrase("when were", body).ok()?;
    before(
        rest,
        &[
            "frozen",
            "thawed",
            "moved",
            "opened",
            "defrosted",
            "binned",
            "weighed",
        ],
    )
}

fn behind(body: Tokens<'_>) -> Option<Words> {
    before(body, &["history"])
}

/// A dish, and one of these words behind it.
fn before(body: Tokens<'_>, last: &[&str]) -> Option<Words> {
    let said = body.last().map(Token::norm)?;
    let rest = body.range(0, body.len() - 1);
    name::of_batch(rest.trimmed()).filter(|_| last.contains(&said))
}

#[cfg(test)]
mod tests {
    use crate::lang::vocabulary::Sense;
    use crate::lang::{Vocabulary, parse};

    fn read(text: &str) -> Option<String> {
        let words = Vocabulary::new().with(Sense::Batch, "brown rice");
        let parsed = parse(text, &words);
        let best = parsed.best();
        let command = best.commands.first().map(ToString::to_string);
        command.filter(|said| best.sure && said.starts_with("history"))
    }

    #[test]
    fn many_ways_to_ask_what_became_of_a_dish() {
        for text in [
            "what happened to the rice",
            "What happened to the brown rice?",
            "what became of the rice",
            "rice history",
            "history of the rice",
            "show me the history of the rice please",
            "where did all the rice go?",
            "where has the rice gone",
            "when did we freeze the rice?",
            "when was the rice frozen",
        ] {
            let name = if text.contains("brown") {
                "brown rice"
            } else {
                "rice"
            };
            assert_eq!(read(text), Some(format!("history of {name}")), "{text}");
        }
    }

    #[test]
    fn the_same_of_anything_else_is_talk() {
        for text in [
            "what happened to the car",
            "whatever happened to that rice cooker",
            "history homework",
            "where did all the time go",
            "what happened to the rice, it's everywhere",
        ] {
            assert_eq!(read(text), None, "{text}");
        }
    }
}
