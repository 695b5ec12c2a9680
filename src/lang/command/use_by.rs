//! The date that is printed on food that stands here: "tofu use by 3 Dec", "the peas are good until Friday", "use by of
//! the tofu is 3 Dec".
//!
//! ```text
//! use-by := dish-in ["is" | ":"] "use by" day | "use by" ["date"] ["of" | "on" | "for"] dish-in ["is" | ":"] day
//! ```

use crate::lang::date::{day, printed_day, use_by};
use crate::lang::place;
use crate::lang::syntax::{Command, Day, Error, Words};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::dates;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match dated(input.trimmed()) {
        Some((name, place, on)) => {
            Ok((input.after(input.len()), Command::UseBy { name, place, on }))
        }
        None => no_such(input).map_or_else(|| input.no(), |error| Err(nom::Err::Failure(error))),
    }
}

/// "dal use by 31 Feb": a date of a dish that no calendar has.
fn no_such(input: Tokens<'_>) -> Option<Error> {
    (1..input.len()).find_map(|at| {
        let length = dates().longest_of(input.after(at).slice, "use by")?;
        place::dish(input.range(0, at).trimmed_end())?;
        match day(input.after(at + length).without_lead()) {
            Err(nom::Err::Failure(error)) => Some(error),
            _ => None,
        }
    })
}

fn dated(input: Tokens<'_>) -> Option<(Words, Option<Words>, Day)> {
    dish_first(input).or_else(|| date_first(input))
}

fn dish_first(input: Tokens<'_>) -> Option<(Words, Option<Words>, Day)> {
    (1..input.len()).find_map(|at| {
        let (rest, day) = use_by(input.after(at))?;
        if !rest.trimmed().is_empty() {
            return None;
        }
        let said = input.range(0, at).trimmed_end();
        let linked = said
            .last()
            .is_some_and(|last| matches!(last.norm(), "is" | "are" | "says" | "has"));
        let said = said.range(0, said.len() - usize::from(linked));
        let (name, place) = place::dish(said.trimmed_end())?;
        Some((name, place, day))
    })
}

fn date_first(input: Tokens<'_>) -> Option<(Words, Option<Words>, Day)> {
    let the = usize::from(input.norm(0) == "the");
    let length = dates().longest_of(input.after(the).slice, "use by")?;
    let rest = input.after(the + length);
    let rest = rest.after(usize::from(rest.norm(0) == "date"));
    let linked = matches!(rest.norm(0), "of" | "on" | "for" | "for the");
    let rest = rest.after(usize::from(linked)).without_lead();
    (1..rest.len()).find_map(|at| {
        let said = rest.range(0, at).trimmed_end();
        let behind = rest.after(at).without_lead();
        let skip = usize::from(matches!(behind.norm(0), "is" | "says"));
        let (after, day) = printed_day(behind.after(skip))?;
        let (name, place) = place::dish(said)?;
        after.trimmed().is_empty().then_some((name, place, day))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::{Sense, Vocabulary, parse};

    #[test]
    fn many_ways_to_tell_a_printed_date() {
        let kitchen = Vocabulary::new()
            .with(Sense::Batch, "smoked tofu")
            .with(Sense::Batch, "frozen peas");
        let tofu = "tofu use by 3 December";
        for text in [
            "tofu use by 3 Dec",
            "the tofu is use by 3/12",
            "tofu best before 3 Dec",
            "tofu: use by 3rd December",
            "the tofu is good until 3 Dec",
            "use by date of the tofu is 3 Dec",
            "tofu expires 3 dec",
            "tofu exp 3 Dec",
        ] {
            let parsed = parse(text, &kitchen);
            let best = parsed.best();
            let commands: Vec<String> = best.commands.iter().map(ToString::to_string).collect();
            assert_eq!(commands.join("\n"), tofu, "{text}");
            assert!(best.sure, "{text}: {:?}", best.reasons);
        }
        for text in [
            "tofu use by in 3 days",
            "tofu good for 3 more days",
            "the tofu is good for another 3 days",
            "use by of the tofu is in 3 days",
        ] {
            assert_eq!(
                parse(text, &kitchen).best().commands[0].to_string(),
                "tofu use by in 3 days",
                "{text}"
            );
        }
        assert_eq!(
            parse("peas in the freezer best before March 2027", &kitchen)
                .best()
                .commands[0]
                .to_string(),
            "peas in the freezer use by 31 March 2027"
        );
        for text in [
            "best before 16/10",
            "is the tofu use by 3 Dec?",
            "use by the 17th",
        ] {
            let parsed = parse(text, &kitchen);
            let sure = parsed.best().sure
                && matches!(parsed.best().commands[..], [Command::UseBy { .. }, ..]);
            assert!(!sure, "{text}");
        }
    }
}
