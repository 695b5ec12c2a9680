//! What vessels weigh empty: "how much does the blue pot weigh?", "tare of the glass jar", "tares".
//!
//! ```text
//! tares := ["the" | "our" | "all the"] "tares" | "what do" vessels "weigh" ["empty"] ["?"]
//!        | ("how much does" | "what does" | "what did") vessel "weigh" ["empty"] ["?"] | "how heavy is" vessel ["empty"] ["?"]
//!        | ["what is"] (weight "of" vessel | vessel weight) ["?"]
//! ```
//! Its phrases are in `data/tares.txt`. Only a vessel that the household has told of is meant: cats are heavy, too.

use crate::lang::name;
use crate::lang::syntax::{Command, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;
use crate::lang::words::{containers, pots, tares};

/// "the big green enamel pot".
const NAME_WORDS_MAX: usize = 4;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let asked = input.last().is_some_and(|token| token.is('?'));
    let body = input.range(0, input.len() - usize::from(asked)).trimmed();
    let body = without_lead(body);
    let read = match key("all", body) == Some(body.len()) {
        true => Some(None),
        false => one(body, asked).map(Some),
    };
    match read {
        Some(name) => Ok((input.after(input.len()), Command::Tares { name })),
        None => input.no(),
    }
}

fn key(key: &'static str, input: Tokens<'_>) -> Option<usize> {
    tares().longest_of(input.slice, key)
}

/// Without "remind me", "what is" at the front.
fn without_lead(body: Tokens<'_>) -> Tokens<'_> {
    match key("lead", body) {
        Some(length) => without_lead(body.after(length)),
        None => body,
    }
}

fn one(body: Tokens<'_>, asked: bool) -> Option<Words> {
    if let Some(length) = key("of", body) {
        return vessel(without_last(body.after(length), "empty"));
    }
    for (lead, tail) in [("does", "weigh"), ("heavy", "empty")] {
        if let Some(length) = key(lead, body) {
            let rest = without_last(body.after(length), tail);
            let told = rest.len() < body.len() - length || lead == "heavy";
            return vessel(rest).filter(|_| told);
        }
    }
    let rest = without_last(body, "weight");
    let told = rest.len() < body.len() && (asked || rest.len() + 1 == body.len());
    vessel(rest).filter(|_| told)
}

fn without_last<'a>(input: Tokens<'a>, kind: &'static str) -> Tokens<'a> {
    let begins = |at: &usize| key(kind, input.after(*at)) == Some(input.len() - at);
    let at = (1..input.len()).find(begins);
    input.range(0, at.unwrap_or(input.len()))
}

/// A vessel by its name, or by a noun that tells that it is one.
fn vessel(said: Tokens<'_>) -> Option<Words> {
    let name = name::bare(said);
    let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
    let noun = words.last()?;
    let known = name.vocabulary.is(Sense::Container, &words);
    let like = || containers().has(noun) || pots().has(noun);
    let told = name.is_wordy() && words.len() <= NAME_WORDS_MAX && (known || like());
    // "the blue pot's tare"
    let said = name.words();
    let stem = name::without_is(name).map(|stem| Words::new(stem, said.span.clone()));
    told.then(|| stem.unwrap_or(said.clone()))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Command, Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        let words = Vocabulary::new().with(Sense::Container, "blue pot");
        words
            .with(Sense::Container, "glass jar")
            .with(Sense::Batch, "lentil dal")
    }

    #[test]
    fn many_ways_to_ask_what_a_vessel_weighs() {
        for text in [
            "how much does the blue pot weigh?",
            "how much does the blue pot weigh",
            "what does the blue pot weigh empty?",
            "whats the tare of the blue pot",
            "what's the blue pot's tare?",
            "tare of the blue pot?",
            "blue pot tare?",
            "how heavy is the blue pot",
            "remind me what the blue pot weighs",
            "what is the weight of the blue pot",
            "weight of the empty blue pot?",
        ] {
            surely_means(text, &kitchen(), "tare of blue pot");
        }
        for text in [
            "tares",
            "what are the tares?",
            "what do the pots weigh",
            "list the tares",
        ] {
            surely_means(text, &kitchen(), "tares");
        }
    }

    #[test]
    fn what_else_weighs_something_is_talk() {
        for text in [
            "how much does the cat weigh?",
            "how heavy is the telly",
            "how much does the dal weigh?",
            "what does the parcel weigh",
            "the blue pot is heavy",
            "weight of the world",
        ] {
            is_no(text, &kitchen(), |it| matches!(it, Command::Tares { .. }));
        }
    }
}
