//! What is asked of a stretch of time: "drift", "drift of the dal", "what did we throw away in October".
//!
//! ```text
//! drift  := "drift" ["of" dish] | dish "drift"
//! wasted := "what did we throw away" [period] ["?"]
//! period := "this month" | "last month" | "this week" | "last week" | ["in"] month [year]
//! ```

use crate::lang::name;
use crate::lang::syntax::{Command, Period};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{calendar, reports};

const YEARS: std::ops::RangeInclusive<i32> = 2000..=2200;

pub fn read_drift(input: Tokens<'_>) -> Read<'_, Command> {
    let body = asked(input);
    let command = match reports().longest_of(body.slice, "drift") {
        Some(length) => of_dish(body.after(length)),
        None => behind_dish(body),
    };
    match command {
        Some(command) => Ok((input.after(input.len()), command)),
        None => input.no(),
    }
}

fn of_dish(rest: Tokens<'_>) -> Option<Command> {
    if rest.is_empty() {
        return Some(Command::Drift { dish: None });
    }
    let length = reports().longest_of(rest.slice, "of")?;
    let dish = name::of_batch(rest.after(length))?;
    Some(Command::Drift { dish: Some(dish) })
}

fn behind_dish(body: Tokens<'_>) -> Option<Command> {
    let at = body.len().checked_sub(1)?;
    let told = reports().longest_of(body.after(at).slice, "drift") == Some(1);
    let dish = name::of_batch(body.range(0, at)).filter(|_| told)?;
    Some(Command::Drift { dish: Some(dish) })
}

pub fn read_wasted(input: Tokens<'_>) -> Read<'_, Command> {
    let body = asked(input);
    let Some(length) = reports().longest_of(body.slice, "waste") else {
        return input.no();
    };
    match period(body.after(length).trimmed_front()) {
        Some(period) => Ok((input.after(input.len()), Command::Wasted { period })),
        None => input.no(),
    }
}

fn asked(input: Tokens<'_>) -> Tokens<'_> {
    let asked = input.last().is_some_and(|token| token.is('?'));
    let body = input.range(0, input.len() - usize::from(asked));
    body.trimmed().trimmed_end()
}

pub fn period(input: Tokens<'_>) -> Option<Period> {
    if input.is_empty() {
        return Some(Period::ThisMonth);
    }
    let keys = [
        ("this month", Period::ThisMonth),
        ("last month", Period::LastMonth),
        ("this week", Period::ThisWeek),
        ("last week", Period::LastWeek),
    ];
    let whole = |key| reports().longest_of(input.slice, key) == Some(input.len());
    keys.into_iter()
        .find(|(key, _)| whole(*key))
        .map(|(_, period)| period)
        .or_else(|| month(input))
}

/// "in October", "October 2026", "last October"
fn month(input: Tokens<'_>) -> Option<Period> {
    let led = matches!(
        input.norm(0),
        "in" | "for" | "of" | "during" | "last" | "this"
    );
    let rest = input.after(usize::from(led));
    let (length, key) = calendar().longest(rest.slice)?;
    let month = key.strip_prefix("month ")?.parse().ok()?;
    let rest = rest.after(length);
    let year = match rest.first().map(|token| &token.kind) {
        None => None,
        Some(Kind::Number(year)) if rest.len() == 1 => {
            Some(year.value as i32).filter(|year| YEARS.contains(year))
        }
        Some(_) => return None,
    };
    (rest.is_empty() || year.is_some()).then_some(Period::Month { month, year })
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::means;
    use crate::lang::{Command, Sense, Vocabulary, parse};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        words.add(Sense::Batch, "lentil dal");
        words
    }

    #[track_caller]
    fn asks(text: &str, printed: &str) {
        means(text, &kitchen(), printed);
    }

    #[test]
    fn many_ways_to_ask_for_a_report() {
        asks("drift", "drift");
        asks("how much drift?", "drift");
        asks("drift of the dal", "drift of dal");
        asks("dal drift", "drift of dal");
        asks("waste", "what did we throw away this month");
        asks(
            "what did we throw away in October",
            "what did we throw away in October",
        );
        asks(
            "What did we throw away in october?",
            "what did we throw away in October",
        );
        asks(
            "how much did we waste last month?",
            "what did we throw away last month",
        );
        asks("waste this week", "what did we throw away this week");
        asks(
            "what have we binned last week",
            "what did we throw away last week",
        );
        asks("waste oct 2026", "what did we throw away in October 2026");
    }

    #[test]
    fn talk_of_waste_asks_nothing() {
        for text in [
            "what a waste",
            "waste of time",
            "what did we throw away at the party",
            "the snow drift is huge",
            "drift off to sleep",
            "wasted a whole day",
        ] {
            let parsed = parse(text, &kitchen());
            let best = parsed.best();
            let asked = matches!(
                best.commands[..],
                [Command::Wasted { .. } | Command::Drift { .. }]
            );
            assert!(!(asked && best.sure), "{text}: {:?}", best.commands);
        }
    }
}
