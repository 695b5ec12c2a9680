//! A day or an hour that cannot be, of a timer, a reminder or a time of the household: "remind me at 25:00 to stir",
//! "away 31 Feb to 3 March", "timer -5 min", "prep day Funday 9am", "remind me yesterday at 10: soak beans". It is said to
//! be none, rather than read for something else.
//!
//! ```text
//! never := (nudge | "timer" | [who] "away" | "prep day" | "morning note" | "quiet hours" | "prep sheet") words | "in" span words
//! ```

use super::away::who;
use super::remind::nudged;
use super::{called, is_known};
use crate::lang::ahead::ahead;
use crate::lang::command::only_marks;
use crate::lang::hour::expected;
use crate::lang::impossible::{Impossible, gone, impossible, often};
use crate::lang::lasting::lasting;
use crate::lang::number::digits;
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
    match told(body).or_else(|| less_than_none(input)) {
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
        // "remind me why we do this every Sunday"
        let asks = matches!(
            rest.norm(0),
            "why" | "what" | "who" | "how" | "when" | "which" | "of"
        );
        let often = || Some((often(rest).filter(|_| !asks)?, Impossible::Often));
        return impossible(rest).or_else(gone).or_else(often);
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
            let strange = strange.map(|day| (day, Impossible::Day));
            let none = (key == "set").then(|| no_time(rest)).flatten();
            return impossible(rest).or(strange).or(none);
        }
    }
    // "in -5 min check the oven", "at 25:00 take out the bread"
    let led = matches!(body.norm(0), "in" | "at");
    let rest = body.after(usize::from(led));
    let does = || (1..rest.len()).any(|at| kitchen_acts().longest(rest.after(at).slice).is_some());
    let (words, what) = impossible(rest)?;
    let first = words.span.start == rest.slice.first()?.span.start;
    let fits = match what {
        Impossible::Span => rest.first()?.is('-'),
        Impossible::Hour => body.norm(0) == "at",
        Impossible::Day | Impossible::Gone | Impossible::Often => false,
    };
    (first && fits && does()).then_some((words, what))
}

/// "timer 0", "timer for 0 minutes"
fn no_time(rest: Tokens<'_>) -> Option<(Words, Impossible)> {
    let rest = rest.without_lead();
    let rest = rest.after(usize::from(rest.norm(0) == "for"));
    let (behind, told) = digits(rest).ok()?;
    let unit = usize::from(!only_marks(behind));
    let zero = told.value == 0.0 && only_marks(behind.after(unit));
    zero.then(|| (rest.trimmed_end().words(), Impossible::Span))
}

/// "-5 min rice": the minus before a span of something that is cooked.
fn less_than_none(input: Tokens<'_>) -> Option<(Words, Impossible)> {
    let at = input
        .find(|token| token.is_numeric())
        .filter(|at| *at > 0)?;
    let alone = input.range(0, at - 1).trimmed().is_empty();
    let said = input.after(at - 1);
    let (words, what) = impossible(said).filter(|_| alone)?;
    let (rest, _) = lasting(said.after(1)).ok()?;
    let dish = called(rest).filter(|dish| is_known(dish, rest));
    (what == Impossible::Span && dish.is_some()).then_some((words, what))
}

/// A day that has gone by, wherever it stands.
fn over(rest: Tokens<'_>) -> Option<(Words, Impossible)> {
    let told = (0..rest.len()).find_map(|at| gone(rest.after(at)))?;
    Some((told, Impossible::Gone))
}

/// "funday 9am", "Blursday": a word where a day should be, and an hour or none.
fn no_weekday(rest: Tokens<'_>) -> Option<Words> {
    let rest = rest.without_lead();
    let rest = rest.after(usize::from(matches!(rest.norm(0), "is" | "on" | "to")));
    let day = rest.range(0, rest.len().min(1));
    let alone = rest.len() == 1 && rest.norm(0).ends_with("day");
    let timed = expected(rest.after(1), true).is_some_and(|(behind, _)| only_marks(behind));
    let no_day = day.is_wordy() && ahead(rest).is_err() && (timed || alone);
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
            ("timer -5 min", "timer -5 min"),
            ("in -5 min check the oven", "timer -5 min"),
            ("timer for dal: 12:75", "remind me 12:75"),
            (
                "remind me every Sunday at 9 to soak beans",
                "remind me every Sunday",
            ),
            ("timer 0", "timer 0"),
            ("timer for 0 minutes", "timer 0 minutes"),
            ("set a timer for minus 5 minutes", "timer minus 5 minutes"),
            ("-5 min dal", "timer -5 min"),
            ("at 25:00 take out the bread", "remind me 25:00"),
            ("prep day Blursday", "prep day Blursday at 9:00"),
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
            "timer 0 is the first of them",
            "at 25:00 on their clock we land",
            "prep day was fun",
        ] {
            is_no(text, &kitchen(), |it| matches!(it, Command::Clock(_)));
        }
    }
}
