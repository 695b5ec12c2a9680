//! What the tests beside each reader ask of it: many spellings with one meaning, and none where it is talk.

use std::fmt::Display;

use super::lexer::lex;
use super::syntax::Command;
use super::tokens::{Read, Tokens};
use super::{Vocabulary, parse};

/// The text means what is printed, and that is read as the same; whether it is sure.
#[track_caller]
pub fn means(text: &str, words: &Vocabulary, printed: &str) -> bool {
    let parsed = parse(text, words);
    let best = parsed.best();
    let commands: Vec<String> = best.commands.iter().map(ToString::to_string).collect();
    assert_eq!(commands.join("\n"), printed, "{text}");
    let again = parse(printed, words);
    assert_eq!(again.best().commands, best.commands, "{printed}");
    best.sure
}

/// The same, and it may book unasked.
#[track_caller]
pub fn surely_means(text: &str, words: &Vocabulary, printed: &str) {
    let sure = means(text, words, printed);
    assert!(sure, "{text}: {:?}", parse(text, words).best().reasons);
}

/// The text is surely no such command.
#[track_caller]
pub fn is_no(text: &str, words: &Vocabulary, such: impl Fn(&Command) -> bool) {
    let parsed = parse(text, words);
    let best = parsed.best();
    let said = best.sure && best.commands.iter().any(such);
    assert!(!said, "{text}: {:?}", best.commands);
}

/// The whole of the text as one reader takes it, printed.
pub fn whole<T: Display>(
    text: &str,
    read: impl for<'a> Fn(Tokens<'a>) -> Read<'a, T>,
) -> Option<String> {
    let tokens = lex(text);
    let vocabulary = Vocabulary::new();
    let input = Tokens::unread(&tokens, text, &vocabulary);
    let (rest, read) = read(input).ok()?;
    rest.is_empty().then(|| read.to_string())
}
