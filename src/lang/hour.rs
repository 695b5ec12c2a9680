//! When on the day something was eaten: "at half six", "6.30pm", "around 18:30".
//!
//! ```text
//! hour := [lead] (h ":" m | number ("am" | "pm" | "oclock")) | "at" h "." m | "at" number, and nothing is named by it
//!       | [lead] ("half" | "quarter") ["past" | "to"] number
//! ```
//! One that stands behind what was eaten, or alone, or in front of it: "training at 6" tells of the training.

use std::fmt::{self, Display, Formatter};

use super::earlier;
use super::number::number;
use super::syntax::{Command, Reading};
use super::token::Kind;
use super::tokens::Tokens;
use super::words::{calendar, meals};

const HOURS: u32 = 12;
const MINUTES: u32 = 60;

/// An hour and its minutes, as far as they were told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hour {
    pub hour: u32,
    pub minute: u32,
    /// "at 6": of the morning or of the evening.
    pub either: bool,
}

impl Hour {
    fn plain(hour: u32, minute: u32) -> Self {
        let either = (1..HOURS).contains(&hour);
        Self {
            hour,
            minute,
            either,
        }
    }

    /// This hour of the day, and no other.
    pub const fn at(hour: u32, minute: u32) -> Self {
        Self {
            hour,
            minute,
            either: false,
        }
    }

    /// "am", "pm" behind it.
    fn of_half(self, half: &str) -> Self {
        let hour = match half {
            "am" => self.hour % HOURS,
            "pm" if self.hour < HOURS => self.hour + HOURS,
            "pm" => self.hour,
            _ => return self,
        };
        Self {
            hour,
            either: false,
            ..self
        }
    }

    /// "in the morning", "in the evening", "at night" behind it.
    fn of_part(self, rest: Tokens<'_>) -> (Tokens<'_>, Self) {
        let (length, half) = match (rest.norm(0), rest.norm(1), rest.norm(2)) {
            ("in", "the", "morning") => (3, "am"),
            ("in", "the", "evening" | "afternoon") => (3, "pm"),
            ("at", "night", _) if self.hour >= 5 => (2, "pm"),
            ("at", "night", _) => (2, "am"),
            _ => return (rest, self),
        };
        (rest.after(length), self.of_half(half))
    }
}

impl Display for Hour {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let Self { hour, minute, .. } = *self;
        match self.either {
            true => write!(f, "at {hour}:{minute:02}"),
            false => {
                let half = if hour < HOURS { "am" } else { "" };
                write!(f, "at {hour:02}:{minute:02}{half}")
            }
        }
    }
}

/// Every plate of these readings was had at the one hour that the message tells, or a while ago.
pub fn tell(readings: &mut [Reading], body: Tokens<'_>) {
    earlier::tell(readings, body);
    let Some(hour) = told(body) else { return };
    for command in readings
        .iter_mut()
        .flat_map(|reading| &mut reading.commands)
    {
        if let Command::Portion(portion) = command {
            portion.hour = Some(hour);
        }
    }
}

/// The hour of a message; of several, none.
fn told(body: Tokens<'_>) -> Option<Hour> {
    let mut found = None;
    let mut at = 0;
    while at < body.len() {
        match read(body, at) {
            Some((_, _)) if found.is_some() => return None,
            Some((length, hour)) => {
                found = Some((at, hour));
                at += length;
            }
            None => at += 1,
        }
    }
    let (at, hour) = found?;
    is_of_food(body, at).then_some(hour)
}

/// Right behind something that is eaten, or with nothing before it in its clause.
pub fn is_of_food(body: Tokens<'_>, at: usize) -> bool {
    let Some(before) = at.checked_sub(1).and_then(|at| body.get(at)) else {
        return true;
    };
    let norm = before.norm();
    let stands_for = matches!(
        norm,
        "it" | "that"
            | "this"
            | "them"
            | "each"
            | "me"
            | "some"
            | "and"
            | "had"
            | "ate"
            | "eaten"
            | "g"
    );
    let day = calendar().longest(&body.slice[at - 1..at]).is_some();
    let meal = meals().longest(&body.slice[at - 1..at]).is_some();
    matches!(before.kind, Kind::Symbol(_) | Kind::Newline)
        || before.is_numeric()
        || stands_for
        || day
        || meal
        || body.vocabulary.has_word(norm)
        || super::lexicon::is_food_word(norm)
}

/// An hour where one is expected: "at 8", "half six", "10am", "noon". `led`: a bare number is one as well.
pub fn expected(input: Tokens<'_>, led: bool) -> Option<(Tokens<'_>, Hour)> {
    let at = matches!(input.norm(0), "at" | "around" | "about" | "by" | "circa");
    let rest = input.after(usize::from(at));
    if matches!(rest.norm(0), "noon" | "midday") {
        return Some((rest.take_one(), Hour::at(HOURS, 0)));
    }
    if rest.norm(0) == "midnight" {
        return Some((rest.take_one(), Hour::at(0, 0)));
    }
    let (rest, hour) = past(rest, led || at, true).or_else(|| written(rest, led || at, true))?;
    let half = matches!(rest.norm(0), "am" | "pm" | "oclock");
    let hour = hour.of_half(rest.norm(0));
    let rest = rest.after(usize::from(half));
    Some(hour.of_part(rest))
}

/// How many tokens an hour takes here, and which it is.
fn read(body: Tokens<'_>, at: usize) -> Option<(usize, Hour)> {
    read_as(body, at, false)
}

/// The same of what stands in front of a plate: "at 4 another 60".
pub fn in_front(body: Tokens<'_>, at: usize) -> Option<(usize, Hour)> {
    read_as(body, at, body.norm(at) == "at")
}

/// `open`: whatever follows, it is an hour.
fn read_as(body: Tokens<'_>, at: usize, open: bool) -> Option<(usize, Hour)> {
    let input = body.after(at);
    let led = matches!(input.norm(0), "at" | "around" | "about" | "by" | "circa");
    let rest = input.after(usize::from(led));
    if led && matches!(rest.norm(0), "noon" | "midday") {
        return Some((2, Hour::at(HOURS, 0)));
    }
    let sure = input.norm(0) == "at";
    let (rest, hour) = past(rest, led, open).or_else(|| written(rest, sure, open))?;
    let half = matches!(rest.norm(0), "am" | "pm" | "oclock");
    let hour = hour.of_half(rest.norm(0));
    let rest = rest.after(usize::from(half));
    Some((input.len() - rest.len(), hour))
}

/// "half six", "quarter to 7". `open`: whatever follows, it is an hour.
fn past(input: Tokens<'_>, led: bool, open: bool) -> Option<(Tokens<'_>, Hour)> {
    let minute = match input.norm(0) {
        "half" => 30,
        "quarter" => 15,
        _ => return None,
    };
    let to = matches!(input.norm(1), "to" | "til" | "till");
    let joined = to || matches!(input.norm(1), "past" | "after");
    if !(joined || led && minute == 30) {
        return None;
    }
    let (rest, hour) = number(input.after(1 + usize::from(joined))).ok()?;
    let hour = on_the_dial(hour.value)?;
    let ends = joined || open || ends_here(rest);
    let plain = match to {
        true if hour == 1 => Hour::plain(HOURS, MINUTES - minute),
        true => Hour::plain(hour - 1, MINUTES - minute),
        false => Hour::plain(hour, minute),
    };
    ends.then_some((rest, plain))
}

/// "18:30", "6.30pm", "at 6"
fn written(input: Tokens<'_>, led: bool, open: bool) -> Option<(Tokens<'_>, Hour)> {
    let first = input.first()?;
    let text = &input.text[first.span.clone()];
    let rest = input.take_one();
    if first.kind == Kind::Clock {
        let (hour, minute) = text.split_once(':')?;
        let plain = Hour::plain(hour.parse().ok()?, minute.parse().ok()?);
        let either = plain.either && !hour.starts_with('0');
        return Some((rest, Hour { either, ..plain }));
    }
    let named = matches!(rest.norm(0), "am" | "pm" | "oclock");
    if let Some((hour, minute)) = text.split_once('.')
        && minute.len() == 2
    {
        let (hour, minute) = (hour.parse().ok()?, minute.parse().ok()?);
        let fits = hour < 2 * HOURS && minute < MINUTES;
        return (fits && (named || led && (open || ends_here(rest))))
            .then_some((rest, Hour::plain(hour, minute)));
    }
    let (rest, hour) = number(input).ok()?;
    let named = matches!(rest.norm(0), "am" | "pm" | "oclock");
    let hour = match on_the_dial(hour.value) {
        None if open && !named && hour.value.fract() == 0.0 => {
            let late = f64::from(HOURS)..f64::from(2 * HOURS);
            late.contains(&hour.value).then_some(hour.value as u32)?
        }
        hour => hour?,
    };
    (named || led && (open || ends_here(rest))).then_some((rest, Hour::plain(hour, 0)))
}

fn on_the_dial(hour: f64) -> Option<u32> {
    (hour.fract() == 0.0 && (1.0..=f64::from(HOURS)).contains(&hour)).then_some(hour as u32)
}

/// Nothing is counted by the number.
fn ends_here(rest: Tokens<'_>) -> bool {
    rest.first().is_none_or(|token| {
        matches!(
            token.kind,
            Kind::Symbol(',' | '.' | '!' | ';' | ')') | Kind::Newline
        )
    }) || matches!(
        rest.norm(0),
        "am" | "pm"
            | "oclock"
            | "and"
            | "for"
            | "with"
            | "anyway"
            | "i"
            | "btw"
            | "before"
            | "after"
            | "but"
            | "tho"
            | "though"
            | "sorry"
    ) || calendar().longest(rest.slice).is_some()
}
