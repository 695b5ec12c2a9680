//! Whose data is to be deleted: "delete me", "delete Tom", "delete this household for good".

use super::{is_phrase, phrase, whole};
use crate::lang::lexer::folded_words;
use crate::lang::person::person;
use crate::lang::syntax::{Command, Deleted, Personal};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    if input.slice.iter().any(|token| token.is('?')) {
        return input.no();
    }
    whole(input, |body| {
        let (body, for_good) = for_good(body);
        let whom = match () {
            () if is_phrase("delete me", body) => Deleted::Me,
            () if is_phrase("delete household", body) => Deleted::Household,
            () if is_phrase("delete everything", body) => Deleted::Unsaid,
            () => somebody(phrase("delete", body)?)?,
        };
        Some(Personal::Delete { whom, for_good })
    })
}

/// Without "for good" at its end.
fn for_good(body: Tokens<'_>) -> (Tokens<'_>, bool) {
    let longest = body.len().saturating_sub(1).min(2);
    let found = (1..=longest)
        .rev()
        .find(|&length| is_phrase("for good", body.range(body.len() - length, body.len())));
    match found {
        Some(length) => (body.range(0, body.len() - length).trimmed(), true),
        None => (body, false),
    }
}

/// Somebody of the household and nothing else, or what is theirs: "Tom", "Tom's data".
fn somebody(input: Tokens<'_>) -> Option<Deleted> {
    let (length, who) = person(input)?;
    let rest = input.after(length).trimmed();
    let words = folded_words(&who.text);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let known = input.vocabulary.is(Sense::Person, &words);
    let whole = rest.is_empty() || is_phrase("their data", rest);
    (known && whole).then_some(Deleted::Person(who))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::means;
    use crate::lang::syntax::{Command, Personal};
    use crate::lang::{Sense, Vocabulary, parse};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Person, "Tom")
            .with(Sense::Person, "Mary Ann")
            .with(Sense::Batch, "dal")
    }

    #[test]
    fn deletions_in_many_spellings() {
        for (text, printed) in [
            ("delete me", "delete me"),
            ("Delete all my data, please", "delete me"),
            ("forget everything about me", "delete me"),
            ("delete me for good", "delete me for good"),
            ("delete Tom", "delete Tom"),
            ("delete Tom's data", "delete Tom"),
            ("delete everything about Mary Ann", "delete Mary Ann"),
            ("delete Tom for good", "delete Tom for good"),
            ("delete everything", "delete everything"),
            ("Wipe all data, please", "delete everything"),
            ("delete this household", "delete this household"),
            (
                "delete our household for good",
                "delete this household for good",
            ),
        ] {
            means(text, &kitchen(), printed);
        }
        for text in ["delete Tom", "forget me", "forget everything"] {
            let sure = parse(text, &kitchen()).best().sure;
            assert!(!sure, "{text}: only where the bot is spoken to");
        }
    }

    #[test]
    fn anything_else_deletes_nobody() {
        for text in [
            "delete dal",
            "delete the last one",
            "delete Tom's dal",
            "delete me from the list",
            "forget it",
            "forget Tom, I'm hungry",
            "should I delete Tom?",
            "delete Ana",
            "delete the 140",
        ] {
            let parsed = parse(text, &kitchen());
            let deletes =
                |command: &Command| matches!(command, Command::Personal(Personal::Delete { .. }));
            assert!(!parsed.best().commands.iter().any(deletes), "{text}");
        }
    }
}
