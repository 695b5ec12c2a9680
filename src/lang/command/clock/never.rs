//! A day or an hour that cannot be, of a timer, a reminder or a time of the household: "remind me at 25:00 to stir",
//! "away 31 Feb to 3 March", "timer -5 min", "prep day Funday 9am", "remind me yesterday at 10: soak beans". It is said to
//! be none, rather than read for something else.
//!
//! ```text
//! never := (nudge | "timer" | [who] "away" | "prep day" | "morning note" | "quiet hours" | "prep sheet") words | "in" span words
//! ```

use super::away::who;
use super::remind::nudged;
use crate::lang::ahead::ahead;
use crate::lang::command::only_marks;
use crate::lang::hour::expected;
use crate::lang::impossible::{Impossible, gone, impossible};
use crate::lang::syntax::{Clock, Command, Words};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{clock, kitchen_acts, prep};

const KEYS: [&str; 5] = [
    "set",
    "prep day",
    "morning note",
    "evening note",
    "quiet hours",
];

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    match told(body) {
        Some((told, what)) => Ok((
            input.after(input.len()),
            Command::Clock(Clock::Never(told, what)),
        )),
        None => input.no(),
    }
}

fn told(body: Tokens<'_>) -> Option<(Words, Impossible)> {
    if let Some((rest, _)) = nudged(body) {
        // "remind me what we had yesterday" is asked of what was.
        let gone = || Some((gone(rest.without_lead())?, Impossible::Gone));
        return impossible(rest).or_else(gone);
    }
    let (absent, _) = who(body);
    if let Some(length) = clock().longest_of(absent.slice, "away") {
        let rest = absent.after(length);
        return impossible(rest).or_else(|| over(rest));
    }
    if let Some(length) = prep().longest_of(body.slice, "sheet") {
        return impossible(body.after(length));
    }
    for key in KEYS {
        if let Some(length) = clock().longest_of(body.slice, key) {
            let rest = body.after(length);
            let strange = (key == "prep day").then(|| no_weekday(rest)).flatten();
            return impossible(rest).or_else(|| Some((strange?, Impossible::Day)));
        }
    }
    let rest = body.after(usize::from(body.norm(0) == "in"));
    let minus = rest.first()?.is('-');
    let does = || (1..rest.len()).any(|at| kitchen_acts().longest(rest.after(at).slice).is_some());
    impossible(rest).filter(|(_, what)| minus && *what == Impossible::Span && does())
}

/// A day that has gone by, wherever it stands.
fn over(rest: Tokens<'_>) -> Option<(Words, Impossible)> {
    let told = (0..rest.len()).find_map(|at| gone(rest.after(at)))?;
    Some((told, Impossible::Gone))
}

/// "funday 9am": a word where a day should be, and an hour.
fn no_weekday(rest: Tokens<'_>) -> Option<Words> {
    let rest = rest.without_lead();
    let rest = rest.after(usize::from(matches!(rest.norm(0), "is" | "on" | "to")));
    let day = rest.range(0, rest.len().min(1));
    let (behind, _) = expected(rest.after(1), true)?;
    let no_day = day.is_wordy() && ahead(rest).is_err() && only_marks(behind);
    no_day.then(|| day.words())
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Command, Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Person, "Ana")
            .with(Sense::Batch, "lentil dal")
    }

    #[test]
    fn what_cannot_be_is_read_as_such() {
        for (text, printed) in [
            ("remind me at 25:00 to stir the dal", "remind me 25:00"),
            (
                "remind me on 31 Feb to thaw the dal",
                "prep day 31 Feb at 9:00",
            ),
            (
                "remind me on 30 Feb at 10: soak beans",
                "prep day 30 Feb at 9:00",
            ),
            (
                "remind me yesterday at 10: soak beans",
                "remind me yesterday",
            ),
            ("timer -5 min", "remind me -5 min"),
            ("in -5 min check the oven", "remind me -5 min"),
            ("timer for dal: 12:75", "remind me 12:75"),
            ("away 31 Feb to 3 March", "prep day 31 Feb at 9:00"),
            ("Ana is away 30 February", "prep day 30 February at 9:00"),
            ("away sat to thurs last week", "remind me last week"),
            ("prep day Sunday 25:00", "remind me 25:00"),
            ("prep day funday 9am", "prep day funday at 9:00"),
            ("prep sheet for 25:30", "remind me 25:30"),
            ("quiet hours 22:00 to 30:00", "remind me 30:00"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
        for text in [
            "remind me to buy a 30:70 mix",
            "remind me what we had yesterday",
            "away goals: 3-1",
            "Ana was away last week",
            "the ratio is 60:40",
            "31 feb is no date",
            "in -5 degrees the dal freezes",
        ] {
            is_no(text, &kitchen(), |it| matches!(it, Command::Clock(_)));
        }
    }
}
