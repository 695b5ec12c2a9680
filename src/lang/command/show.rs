//! "dal?", "show dal", "D7?": a batch, line by line. A bare "D7" is typed from a label.
//!
//! ```text
//! show  := verb name | name "?" | code
//! dates := asked name dated                                   "when was the dal made", "how old is the rice"
//! ```

use crate::lang::command::key_phrase;
use crate::lang::name;
use crate::lang::syntax::{Command, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;

/// What is asked of the days of a dish: the words before its name, and those behind it.
const DATED: [(&[&str], &[&str]); 4] = [
    (
        &[
            "when was",
            "when were",
            "when did we make",
            "when did i make",
        ],
        &["made", "cooked", ""],
    ),
    (
        &["when does", "when do", "when will"],
        &[
            "go off",
            "expire",
            "go bad",
            "need eating",
            "run out of date",
        ],
    ),
    (
        &["when is", "when are", "how old is", "how old are"],
        &["due", "out of date", "made", ""],
    ),
    (
        &[
            "how long is",
            "how long does",
            "how long will",
            "how long are",
        ],
        &["good for", "keep", "still good", "good"],
    ),
];

/// Whether it is asked of the days of a dish.
pub fn asks_when(input: Tokens<'_>) -> bool {
    let asked = input.last().is_some_and(|token| token.is('?'));
    dated(input.range(0, input.len() - usize::from(asked))).is_some()
}

/// "when was the dal made", "how long does the soup keep": of a pot that stands here. "How long does dal keep" is
/// asked of the world.
fn dated(body: Tokens<'_>) -> Option<Words> {
    let said: Vec<&str> = body.slice.iter().map(Token::norm).collect();
    let splits = |phrase: &'static str| phrase.split(' ').filter(|word| !word.is_empty());
    let starts = |phrase: &'static str| {
        let length = splits(phrase).count();
        splits(phrase)
            .eq(said.iter().copied().take(length))
            .then_some(length)
    };
    DATED.iter().find_map(|(before, behind)| {
        let from = before.iter().find_map(|phrase| starts(phrase))?;
        matches!(body.norm(from), "the" | "our" | "my" | "that" | "this").then_some(())?;
        behind.iter().find_map(|phrase| {
            let to = said.len().checked_sub(splits(phrase).count())?;
            let ends = from < to && splits(phrase).eq(said[to..].iter().copied());
            // "when is the rice" asks of no day that it has.
            let plain = phrase.is_empty() && said[0] == "when" && said[1] != "did";
            let name = name::bare(body.range(from, to.max(from)));
            let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
            (ends && !plain && name.vocabulary.is_batch(&words)).then(|| name.words())
        })
    })
}

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let asked = input.last().is_some_and(|token| token.is('?'));
    let end = input.len() - usize::from(asked);
    let body = input.range(0, end);
    if let Some(name) = dated(body) {
        return Ok((input.after(input.len()), Command::Dates { name }));
    }
    let (rest, spoken) = match key_phrase("show", body) {
        Ok((rest, ())) => (rest, true),
        Err(_) => (body, false),
    };
    let name = name::bare(rest.trimmed());
    let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
    let known = input.vocabulary.is_batch(&words);
    // "D7": as it stands on a label.
    let coded = || body.len() == 1 && input.vocabulary.is(Sense::Code, &words);
    let told = spoken || asked || coded();
    if !told || name.is_empty() || name.len() > 6 || !name.is_wordy() || !known {
        return input.no();
    }
    Ok((
        input.after(input.len()),
        Command::Show { name: name.words() },
    ))
}
