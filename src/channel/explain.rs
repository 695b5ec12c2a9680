//! How a message is read: its tokens, every candidate reading, and the reasons for each.

use std::fmt::Write;

use crate::lang::syntax::Reading;
use crate::lang::{self, Vocabulary};
use crate::store::Store;

/// The names that a chat's household knows.
///
/// # Errors
/// If there is no such chat, or the books cannot be read.
pub async fn vocabulary(store: &Store, chat: &str) -> anyhow::Result<Vocabulary> {
    let mut transaction = store.look().await?;
    let Some(household) = transaction.household_of_chat(chat).await? else {
        anyhow::bail!("no household has a chat {chat:?}");
    };
    let kitchen = transaction.whole_kitchen(household.id).await?;
    Ok(kitchen.vocabulary())
}

/// How `text` is read with these names.
///
/// # Errors
/// None but those of formatting.
pub fn explain(text: &str, vocabulary: &Vocabulary) -> Result<String, std::fmt::Error> {
    let parsed = lang::parse(text, vocabulary);
    let mut told = String::from("tokens\n");
    for token in &parsed.tokens {
        writeln!(told, "  {:?} {:?}", &text[token.span.clone()], token.kind)?;
    }
    for (place, reading) in parsed.readings.iter().enumerate() {
        let verdict = match (place, reading.sure, reading.weighing_like) {
            (0, true, _) => "taken: it may book unasked",
            (0, false, true) => "taken when spoken to; else worth a question",
            (0, false, false) => "taken when spoken to; else silence",
            _ => "not taken: ranks lower",
        };
        writeln!(told, "reading {} ({}): {verdict}", place + 1, reading.rank)?;
        tell(&mut told, reading)?;
    }
    Ok(told)
}

fn tell(told: &mut String, reading: &Reading) -> std::fmt::Result {
    for command in &reading.commands {
        writeln!(told, "  {}", command.to_string().replace('\n', "\n  "))?;
    }
    for error in &reading.errors {
        writeln!(told, "  error: {:?} at {:?}", error.kind, error.span)?;
    }
    for reason in &reading.reasons {
        writeln!(told, "  because: {reason:?}")?;
    }
    Ok(())
}
