//! A day or an hour that cannot be, of a timer, a reminder or a time of the household: "remind me at 25:00 to stir",
//! "away 31 Feb to 3 March", "timer -5 min". It is said to be none, rather than read for something else.
//!
//! ```text
//! never := (nudge | "timer" | [who] "away" | "prep day" | "morning note" | "quiet hours") words
//! ```

use super::away::who;
use crate::lang::ahead::impossible;
use crate::lang::syntax::{Clock, Command};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::clock;

const KEYS: [&str; 6] = [
    "remind",
    "set",
    "away",
    "prep day",
    "morning note",
    "quiet hours",
];

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    let (absent, _) = who(body);
    let told = KEYS.iter().find_map(|key| {
        let of = if *key == "away" { absent } else { body };
        let length = clock().longest_of(of.slice, key)?;
        impossible(of.after(length))
    });
    match told {
        Some(told) => Ok((input.after(input.len()), Command::Clock(Clock::Never(told)))),
        None => input.no(),
    }
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
            ("remind me on 31 Feb to thaw the dal", "remind me 31 Feb"),
            ("timer -5 min", "remind me -5 min"),
            ("timer for dal: 12:75", "remind me 12:75"),
            ("away 31 Feb to 3 March", "remind me 31 Feb"),
            ("Ana is away 30 February", "remind me 30 February"),
            ("prep day Sunday 25:00", "remind me 25:00"),
            ("quiet hours 22:00 to 30:00", "remind me 30:00"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
        for text in [
            "remind me to buy a 30:70 mix",
            "away goals: 3-1",
            "the ratio is 60:40",
            "31 feb is no date",
        ] {
            is_no(text, &kitchen(), |it| matches!(it, Command::Clock(_)));
        }
    }
}
