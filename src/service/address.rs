//! Whether the words of a message are meant for the bot.

use std::borrow::Cow;

/// A message without the mention that it began with.
#[derive(Debug, PartialEq)]
pub struct Addressed<'a> {
    /// It began with the bot's name or is a command.
    pub spoken_to: bool,
    /// It is a command to another bot.
    pub elsewhere: bool,
    pub text: Cow<'a, str>,
}

/// `names` are in lower case, without the `@`.
pub fn address<'a>(text: &'a str, names: &[String]) -> Addressed<'a> {
    let trimmed = text.trim_start();
    if let Some(rest) = trimmed.strip_prefix('@') {
        let (name, rest) = split_name(rest);
        if is_ours(name, names) {
            let text = rest.trim_start_matches([' ', '\t', '\n', '\r', ',', ':', ';']);
            return spoken(Cow::Borrowed(text));
        }
    }
    if let Some(rest) = trimmed.strip_prefix('/') {
        let (command, rest) = split_name(rest);
        if command.starts_with(|first: char| first.is_ascii_alphabetic()) {
            return to_command(trimmed, command, rest, names);
        }
    }
    Addressed {
        spoken_to: false,
        elsewhere: false,
        text: Cow::Borrowed(text),
    }
}

fn to_command<'a>(whole: &'a str, command: &str, rest: &str, names: &[String]) -> Addressed<'a> {
    let Some(mention) = rest.strip_prefix('@') else {
        return spoken(Cow::Borrowed(whole));
    };
    let (name, rest) = split_name(mention);
    if is_ours(name, names) {
        return spoken(Cow::Owned(format!("/{command}{rest}")));
    }
    Addressed {
        spoken_to: false,
        elsewhere: true,
        text: Cow::Borrowed(whole),
    }
}

fn spoken(text: Cow<'_, str>) -> Addressed<'_> {
    Addressed {
        spoken_to: true,
        elsewhere: false,
        text,
    }
}

fn split_name(text: &str) -> (&str, &str) {
    let end = text
        .find(|character: char| !character.is_ascii_alphanumeric() && character != '_')
        .unwrap_or(text.len());
    text.split_at(end)
}

fn is_ours(name: &str, names: &[String]) -> bool {
    names.iter().any(|ours| ours.eq_ignore_ascii_case(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, spoken_to: bool, elsewhere: bool, rest: &str) {
        let names = ["hobside".to_owned(), "kitchen_bot".to_owned()];
        let addressed = address(text, &names);
        let expected = Addressed {
            spoken_to,
            elsewhere,
            text: Cow::Borrowed(rest),
        };
        assert_eq!(addressed, expected, "{text:?}");
    }

    #[test]
    fn a_leading_mention_or_a_command_speaks_to_it() {
        check("@hobside 140 dal", true, false, "140 dal");
        check(" @Hobside, 140 dal", true, false, "140 dal");
        check("@kitchen_bot:undo", true, false, "undo");
        check("@hobside", true, false, "");
        check("/help", true, false, "/help");
        check("/start@kitchen_bot abc", true, false, "/start abc");
    }

    #[test]
    fn anything_else_does_not() {
        check("140 dal", false, false, "140 dal");
        check("ask @hobside", false, false, "ask @hobside");
        check("@hobsides 140 dal", false, false, "@hobsides 140 dal");
        check("@ana 140 dal", false, false, "@ana 140 dal");
        check("/ 2 cups", false, false, "/ 2 cups");
        check("/2 cups", false, false, "/2 cups");
        check("/start@other_bot", false, true, "/start@other_bot");
    }
}
