//! A reminder: "remind me Sunday at 6pm to soak the beans", "don't let us forget to thaw the dal tomorrow".
//!
//! ```text
//! remind := nudge [at] ["to"] words | nudge ["to"] words at | nudge "in" lasting ["to"] words | nudge ["to"] words "in" lasting
//!         | at ":" words
//! nudge  := phrase of data/clock.txt | "remind" person
//! ```
//! A span makes it a timer: it is counted from now, whatever the clock does.

use super::called;
use crate::lang::ahead::{At, at, lasting};
use crate::lang::person::person;
use crate::lang::syntax::{Clock, Command, Words};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{clock, kitchen_acts};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    // "remind us again at 6" is of what was told.
    if super::waiting::read_more(input).is_ok() {
        return input.no();
    }
    let told = match nudged(body) {
        Some((rest, name)) => reminder(rest.without_lead()).map(|told| of(told, name)),
        None => at_an_hour(body),
    };
    match told {
        Some(told) => Ok((input.after(input.len()), Command::Clock(told))),
        None => input.no(),
    }
}

/// What follows the nudge, and who of the household is nudged if it is told.
pub fn nudged(body: Tokens<'_>) -> Option<(Tokens<'_>, Option<Words>)> {
    if let Some(length) = clock().longest_of(body.slice, "remind") {
        return Some((body.after(length), None));
    }
    let polite = usize::from(matches!(body.norm(0), "please" | "pls"));
    let verb = matches!(body.norm(polite), "remind" | "nudge" | "ping");
    let rest = body.after(polite + 1);
    let (length, name) = person(rest).filter(|_| verb)?;
    Some((rest.after(length), Some(name)))
}

/// Whoever is to be reminded stands before what of.
fn of(told: Clock, name: Option<Words>) -> Clock {
    let for_them = |words: Words| match &name {
        Some(name) => Words::plain(format!("{}: {}", name.text, words.text)),
        None => words,
    };
    match told {
        Clock::Remind { at, words } => {
            let words = for_them(words);
            Clock::Remind { at, words }
        }
        Clock::Timer { lasting, words } => {
            let words = for_them(words);
            Clock::Timer { lasting, words }
        }
        other => other,
    }
}

/// "at 20:00: lock the door"
fn at_an_hour(body: Tokens<'_>) -> Option<Clock> {
    let (rest, at) = at(body).ok()?;
    let hour = at.hour.is_some() && rest.first()?.is(':');
    let words = called(rest.take_one()).filter(|_| hour && is_told(rest.take_one()))?;
    Some(Clock::Remind { at, words })
}

/// Something to be done: an act of the kitchen, or a word with its thing.
fn is_told(rest: Tokens<'_>) -> bool {
    let rest = rest.trimmed();
    let things = ["the", "a", "an", "my", "our", "some", "all"];
    let does = rest.first().is_some_and(|first| {
        !first.norm().is_empty()
            && !things.contains(&first.norm())
            && things.contains(&rest.norm(1))
    });
    !rest.has_number() && (does || kitchen_acts().longest(rest.slice).is_some())
}

/// What follows the nudge.
pub fn reminder(rest: Tokens<'_>) -> Option<Clock> {
    if let Some((after, time)) = time(rest) {
        return time.of(called(after).filter(|words| !words.text.is_empty())?);
    }
    for split in 1..rest.len() {
        if let Some((after, time)) = time(rest.after(split))
            && after.trimmed().is_empty()
        {
            return time.of(called(rest.range(0, split)).filter(|words| !words.text.is_empty())?);
        }
    }
    let words = called(rest).filter(|words| !words.text.is_empty())?;
    Time::At(At::default()).of(words)
}

enum Time {
    At(At),
    In(crate::lang::ahead::Lasting),
}

impl Time {
    fn of(self, words: Words) -> Option<Clock> {
        Some(match self {
            Self::At(at) => Clock::Remind { at, words },
            Self::In(lasting) => Clock::Timer { lasting, words },
        })
    }
}

fn time(input: Tokens<'_>) -> Option<(Tokens<'_>, Time)> {
    if input.norm(0) == "in"
        && let Ok((rest, lasting)) = lasting(input.take_one())
    {
        return Some((rest, Time::In(lasting)));
    }
    let (rest, at) = at(input).ok()?;
    Some((rest, Time::At(at)))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::{Command, Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Person, "Sam")
    }

    #[test]
    fn a_reminder_in_many_spellings() {
        for (text, printed) in [
            (
                "remind me Sunday at 6pm to soak the beans",
                "remind me Sunday at 18:00: soak the beans",
            ),
            (
                "remind me at 8 to soak the beans",
                "remind me at 8:00: soak the beans",
            ),
            (
                "remind us tomorrow at 8am: thaw the dal",
                "remind me tomorrow at 08:00am: thaw the dal",
            ),
            (
                "don't let me forget to thaw the dal tomorrow evening",
                "remind me tomorrow at 19:00: thaw the dal",
            ),
            (
                "remind me to stir the dal at half six",
                "remind me at 6:30: stir the dal",
            ),
            (
                "remind me at 23:30 to lock the door",
                "remind me at 23:30: lock the door",
            ),
            (
                "at 20:00: lock the door",
                "remind me at 20:00: lock the door",
            ),
            (
                "tomorrow at 7am: soak the beans",
                "remind me tomorrow at 07:00am: soak the beans",
            ),
            (
                "remind Sam at 21:00 to soak beans",
                "remind me at 21:00: Sam: soak beans",
            ),
            (
                "remind me at 1:30 tonight to turn the slow cooker off",
                "remind me at 01:30am: turn the slow cooker off",
            ),
            ("remind me in 20 min to stir", "timer 20 min stir"),
            (
                "remind me to stir the pot in 2 h",
                "timer 120 min stir the pot",
            ),
            ("remind me to thaw the dal", "remind me: thaw the dal"),
            (
                "remind me at 20:00 to call mum",
                "remind me at 20:00: call mum",
            ),
        ] {
            surely_means(text, &kitchen(), printed);
        }
    }

    #[test]
    fn what_is_bought_or_asked_is_nobody_elses_business() {
        for text in [
            "remind me to buy 2 kg rice",
            "remind me tomorrow to call mum",
            "can you remind me tomorrow what we had?",
            "remind me of the name of that dal place",
            "remind Sam to soak the beans",
            "at 20:00: kickoff",
            "at 20:00: the match",
            "dinner at 20:00: who's in?",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Clock(_))
            });
        }
        // To the bot it is said all the same.
        means(
            "remind me tomorrow at 9am to call mum",
            &kitchen(),
            "remind me tomorrow at 09:00am: call mum",
        );
    }
}
