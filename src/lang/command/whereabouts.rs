//! Where a dish stands and when it was made: "where is the dal", "when was the stew made".
//!
//! ```text
//! whereabouts := "where is" batch ["?"] | "when was" batch ("made" | "cooked") ["?"]
//!              | "the date on" batch ["?"] | "how long does" batch "keep" ["?"] | "is" batch "still good" "?"
//! ```
//! The same is asked of keys and people: only a dish of the household is answered.

use crate::lang::command::key_phrase;
use crate::lang::name;
use crate::lang::syntax::Command;
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::dates_asked;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let asked = input.last().is_some_and(|token| token.is('?'));
    let body = input.range(0, input.len() - usize::from(asked)).trimmed();
    let command = place(body)
        .or_else(|| day(body))
        .or_else(|| due(body, asked));
    match command {
        Some(command) => Ok((input.after(input.len()), command)),
        None => input.no(),
    }
}

fn place(body: Tokens<'_>) -> Option<Command> {
    let (rest, ()) = key_phrase("where", body).ok()?;
    name::of_batch(rest.trimmed()).map(|name| Command::Whereabouts { name })
}

/// "whats the date on the soup", "how long will the soup keep", "is the frozen dal still ok?"
fn due(body: Tokens<'_>, asked: bool) -> Option<Command> {
    let dish =
        |said: Tokens<'_>| name::of_batch(said.trimmed()).map(|name| Command::Dates { name });
    let key = |key: &str, rest: Tokens<'_>| dates_asked().longest_of(rest.slice, key);
    if let Some(length) = key("of", body) {
        return dish(body.after(length));
    }
    // "is this rice ok or is it one for the dog" asks the same.
    let or = body.find(|token| token.norm() == "or");
    let body = body.range(0, or.unwrap_or(body.len())).trimmed_end();
    // "is the rice still ok" asks by the order of its words.
    let asks = asked || matches!(body.norm(0), "is" | "are" | "has" | "have");
    let around = [("keeps", "keep", true), ("state", "good", asks)];
    let mut around = around.into_iter().filter(|around| around.2);
    around.find_map(|(lead, tail, _)| {
        let rest = body.after(key(lead, body)?);
        let ends = |at: &usize| key(tail, rest.after(*at)) == Some(rest.len() - at);
        let at = (1..rest.len()).find(ends)?;
        // "how long does dal keep" asks of any.
        let ours =
            matches!(rest.norm(0), "the" | "our" | "my" | "that" | "this") || lead != "keeps";
        dish(rest.range(0, at)).filter(|_| ours)
    })
}

fn day(body: Tokens<'_>) -> Option<Command> {
    let (rest, ()) = key_phrase("when", body).ok()?;
    let told = matches!(rest.last().map(Token::norm), Some("made" | "cooked"));
    let rest = match told {
        true => rest.range(0, rest.len() - 1),
        // "when did we make the dal"
        false if body.norm(1) == "did" => rest,
        false => return None,
    };
    name::of_batch(rest.trimmed()).map(|name| Command::Dates { name })
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        let words = Vocabulary::new().with(Sense::Batch, "leek soup");
        words.with(Sense::Batch, "chicken stew")
    }

    #[test]
    fn many_ways_to_ask_until_when() {
        for text in [
            "whats the date on the soup",
            "What's the use by date of the soup??",
            "how long will the soup keep",
            "how long is the soup good for?",
            "when does the soup go off",
            "is the soup still ok?",
            "until when can we eat the soup",
            "until when is that soup ok",
            "has the soup gone off",
            "is this soup ok or is it one for the dog",
            "is the soup still fine or do we bin it?",
        ] {
            surely_means(text, &kitchen(), "date on soup");
        }
        let frozen = "is the frozen stew still good?";
        surely_means(frozen, &kitchen(), "date on frozen stew");
        surely_means("when was the stew made?", &kitchen(), "date on stew");
    }

    #[test]
    fn what_is_asked_of_any_food_or_of_something_else_is_talk() {
        let such = |it: &Command| matches!(it, Command::Dates { .. } | Command::Show { .. });
        for text in [
            "how long does soup keep",
            "when is the date",
            "is the soup still on the stove?",
            "how long does the train take",
            "is the wifi still ok?",
            "when was the car made?",
            "how long would the soup keep if we froze it?",
        ] {
            is_no(text, &kitchen(), such);
        }
    }
}
