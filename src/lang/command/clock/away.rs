//! Who is not here when: "away Thu to Sat", "Ana is away until Sunday", "we're away for 3 days", "I'm back today".
//!
//! ```text
//! away := [who] "away" ["from"] days | "we" "off" ["from"] day "to" day
//! back := [who] "back" [ahead]
//! who  := "we" | "everybody" | "I" | person
//! ```
//! Who is away is asked in whole phrases of data/clock.txt.
//! "away with the fairies" has no day.

use crate::lang::ahead::{Ahead, ahead, run};
use crate::lang::command::only_marks;
use crate::lang::person::person;
use crate::lang::syntax::{Absent, Clock, Command};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::clock;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    match away(body).or_else(|| back(body)) {
        Some(told) => Ok((input.after(input.len()), Command::Clock(told))),
        None => input.no(),
    }
}

fn away(body: Tokens<'_>) -> Option<Clock> {
    let (rest, who) = who(body);
    let away = clock().longest_of(rest.slice, "away");
    // "I'm off on Friday" is off work, and "off to the shops" no day.
    let off = || {
        let off = clock().longest_of(rest.slice, "away off");
        off.filter(|_| who == Some(Absent::All))
    };
    let length = away.or_else(off)?;
    let (rest, (from, until)) = run(rest.after(length).trimmed_front()).ok()?;
    let told = away.is_some() || until.is_some();
    let who = who.unwrap_or(Absent::All);
    (told && only_marks(rest)).then_some(Clock::Away { who, from, until })
}

fn back(body: Tokens<'_>) -> Option<Clock> {
    // "not away after all"
    let off = clock().longest_of(body.slice, "not away");
    if off.is_some_and(|length| only_marks(body.after(length))) {
        let (who, on) = (Absent::All, Ahead::Today);
        return Some(Clock::Back { who, on });
    }
    let (rest, who) = who(body);
    let length = clock().longest_of(rest.slice, "back")?;
    let rest = rest.after(length).trimmed_front();
    if only_marks(rest) {
        // "back" alone is said of anything.
        let on = Ahead::Today;
        return who.map(|who| Clock::Back { who, on });
    }
    let (rest, on) = ahead(rest).ok()?;
    let who = who.unwrap_or(Absent::All);
    only_marks(rest).then_some(Clock::Back { who, on })
}

/// "who's away this week?"
pub fn read_absences(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    let asked = body.last().is_some_and(|token| token.is('?'));
    let body = body.range(0, body.len() - usize::from(asked));
    match clock().longest_of(body.slice, "absent") {
        Some(length) if length == body.len() => {
            Ok((input.after(input.len()), Command::Clock(Clock::Absences)))
        }
        _ => input.no(),
    }
}

pub fn who(body: Tokens<'_>) -> (Tokens<'_>, Option<Absent>) {
    for (key, who) in [("everybody", Absent::All), ("myself", Absent::Me)] {
        if let Some(length) = clock().longest_of(body.slice, key) {
            return (without_is(body.after(length)), Some(who));
        }
    }
    match person(body) {
        Some((length, name)) => (without_is(body.after(length)), Some(Absent::Named(name))),
        None => (body, None),
    }
}

fn without_is(rest: Tokens<'_>) -> Tokens<'_> {
    let mut rest = rest;
    while matches!(
        rest.norm(0),
        "is" | "are" | "am" | "will" | "be" | "ll" | "both" | "all" | "s"
    ) {
        rest = rest.take_one();
    }
    rest
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
    fn an_absence_in_many_spellings() {
        for (text, printed) in [
            ("away Thu to Sat", "away Thursday to Saturday"),
            ("Away Thursday-Saturday", "away Thursday to Saturday"),
            (
                "we're away from Thursday until Saturday",
                "away Thursday to Saturday",
            ),
            ("we are away until Sunday", "away today to Sunday"),
            ("we are away for 3 days", "away today to in 2 days"),
            ("away tomorrow", "away tomorrow"),
            ("away 15 to 17 Oct", "away 15 October to 17 October"),
            (
                "away 15 October to 17 October",
                "away 15 October to 17 October",
            ),
            ("Ana away Thu to Sat", "Ana away Thursday to Saturday"),
            ("Ana is away on Friday", "Ana away Friday"),
            ("I'm away Thu to Sat", "I am away Thursday to Saturday"),
            ("I'm away this weekend", "I am away Saturday to Sunday"),
            (
                "we're both away Sunday to next Sunday",
                "away Sunday to Sunday",
            ),
            ("we're off thurs till sat", "away Thursday to Saturday"),
            (
                "I'm away from Tues to Thurs next week",
                "I am away Tuesday next week to Thursday next week",
            ),
            (
                "away next week",
                "away Monday next week to Sunday next week",
            ),
            ("we're gone Fri to Mon", "away Friday to Monday"),
            ("we're back today", "everybody back today"),
            ("Ana is back on Friday", "Ana back Friday"),
            ("I'm back", "I am back today"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
    }

    #[test]
    fn talk_of_being_away_is_none() {
        for text in [
            "away with the fairies",
            "we're off to the shops",
            "we're off on Friday",
            "I'm off Thursday to Saturday",
            "is Ana away on Friday?",
            "put the dal away",
            "back in 20 min",
            "were you away until Sunday?",
            "if we're away Thu to Sat we freeze it",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Clock(_))
            });
        }
    }
}
