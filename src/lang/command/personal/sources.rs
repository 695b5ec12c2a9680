//! Which dishes something came from: "where did my protein come from this week", "my protein by dish".

use super::{field, is_phrase, phrase, whole};
use crate::lang::date::day;
use crate::lang::syntax::{Aimed, Command, Day, Personal, Stretch, Week};
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |body| {
        let (rest, of) = asked(body, "where my", "come from")
            .or_else(|| asked(body, "dishes gave", "sources"))
            .or_else(|| asked(body, "my", "by dish"))
            .or_else(|| alone(body, "dishes gave"))
            .or_else(|| alone(body, "chart of my"))
            .or_else(|| of_a_week(body))?;
        let over = stretch(rest)?;
        Some(Personal::Sources { of, over })
    })
}

/// A field between two phrases.
fn asked<'a>(body: Tokens<'a>, before: &str, behind: &str) -> Option<(Tokens<'a>, Aimed)> {
    let (rest, of) = alone(body, before)?;
    Some((phrase(behind, rest)?, of))
}

/// A field behind a phrase.
fn alone<'a>(body: Tokens<'a>, before: &str) -> Option<(Tokens<'a>, Aimed)> {
    let (rest, of, _) = field(phrase(before, body)?)?;
    Some((rest, of))
}

/// "how much protein did I have this week", "my protein this week": of a day it is asked otherwise.
fn of_a_week(body: Tokens<'_>) -> Option<(Tokens<'_>, Aimed)> {
    let (rest, of) = asked(body, "how much", "did i have").or_else(|| alone(body, "my"))?;
    is_phrase("what week", rest).then_some((rest, of))
}

/// The last seven days, where nothing else is said.
fn stretch(rest: Tokens<'_>) -> Option<Stretch> {
    let rest = rest.trimmed();
    if rest.is_empty() {
        return Some(Stretch::Days(Week::Seven));
    }
    if is_phrase("what week", rest) {
        return Some(Stretch::Days(
            match (rest.norm(0), rest.norm(1), rest.len()) {
                ("this", "week", 2) => Week::This,
                ("last", "week", 2) => Week::Last,
                _ => Week::Seven,
            },
        ));
    }
    let (rest, day) = day(rest).ok()?;
    (rest.trimmed().is_empty() && !matches!(day, Day::Ahead)).then_some(Stretch::Day(day))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Personal;
    use crate::lang::{Command, Vocabulary};

    #[test]
    fn where_something_came_from_in_many_spellings() {
        let kitchen = Vocabulary::new();
        for (text, printed) in [
            (
                "where did my protein come from?",
                "where did my protein come from",
            ),
            (
                "where does my protein come from",
                "where did my protein come from",
            ),
            (
                "where is my salt coming from?",
                "where did my salt come from",
            ),
            ("my protein by dish", "where did my protein come from"),
            ("chart of my calories", "where did my energy come from"),
            (
                "which dishes gave me protein",
                "where did my protein come from",
            ),
            (
                "where did my protein come from this week?",
                "where did my protein come from this week",
            ),
            (
                "where did all my fat come from last week",
                "where did my fat come from last week",
            ),
            (
                "how much protein did I have this week?",
                "where did my protein come from this week",
            ),
            (
                "my protein last week",
                "where did my protein come from last week",
            ),
            (
                "where did my carbs come from yesterday",
                "where did my carbs come from yesterday",
            ),
            (
                "my fibre by dish on Tuesday",
                "where did my fibre come from Tuesday",
            ),
        ] {
            surely_means(text, &kitchen, printed);
        }
    }

    #[test]
    fn talk_of_where_things_come_from_asks_nothing() {
        for text in [
            "where did my keys go",
            "where did my protein shaker go",
            "where does my fat cat come from",
            "where did the salt come from",
            "where do you get your protein from",
            "my protein by post",
        ] {
            is_no(text, &Vocabulary::new(), |command| {
                matches!(command, Command::Personal(Personal::Sources { .. }))
            });
        }
    }
}
