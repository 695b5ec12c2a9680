//! A reminder: "remind me Sunday at 6pm to soak the beans", "don't let us forget to thaw the dal tomorrow".
//!
//! ```text
//! remind := nudge [at] ["to"] words | nudge ["to"] words at | nudge "in" lasting ["to"] words | nudge ["to"] words "in" lasting
//! ```
//! A span makes it a timer: it is counted from now, whatever the clock does.

use super::called;
use crate::lang::ahead::{At, at, lasting};
use crate::lang::syntax::{Clock, Command, Words};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::clock;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    let told = clock()
        .longest_of(body.slice, "remind")
        .and_then(|length| reminder(body.after(length).without_lead()));
    match told {
        Some(told) => Ok((input.after(input.len()), Command::Clock(told))),
        None => input.no(),
    }
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
        Vocabulary::new().with(Sense::Batch, "lentil dal")
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
            ("remind me in 20 min to stir", "timer 20 min stir"),
            (
                "remind me to stir the pot in 2 h",
                "timer 120 min stir the pot",
            ),
            ("remind me to thaw the dal", "remind me: thaw the dal"),
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
