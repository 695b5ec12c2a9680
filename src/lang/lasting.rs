//! Spans of time: "35 min", "1h30", "an hour and a half", "90 sec".
//!
//! ```text
//! lasting := number unit [["and"] number unit] | number "h" number | ("half" | "an") ["an"] hour ["and a half"]
//! ```

use std::fmt::{self, Display, Formatter};

use super::number::{and_a_half, number};
use super::tokens::{Read, Tokens};
use super::words::{clock, units};

/// How long something takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lasting {
    pub minutes: u32,
    /// So many seconds less than the minutes: 90 seconds are two minutes less 30.
    pub less_seconds: u32,
}

impl Lasting {
    pub const fn minutes(minutes: u32) -> Self {
        Self {
            minutes,
            less_seconds: 0,
        }
    }

    pub fn seconds(self) -> i64 {
        i64::from(self.minutes) * 60 - i64::from(self.less_seconds)
    }
}

impl Display for Lasting {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self.less_seconds {
            0 => write!(f, "{} min", self.minutes),
            _ => write!(f, "{} sec", self.seconds()),
        }
    }
}

/// "35 min", "2 h", "1h30", "1 hour and 20 min", "an hour and a half", "90 seconds".
pub fn lasting(input: Tokens<'_>) -> Read<'_, Lasting> {
    // "hour and a half"
    if input.norm(0) == "hour"
        && let Ok((rest, half)) = and_a_half(input.take_one())
    {
        return Ok((rest, so_long(HOUR * (1.0 + half))));
    }
    let (rest, (seconds, unit)) = span(input)?;
    let and = usize::from(rest.norm(0) == "and" || rest.first().is_some_and(|token| token.is('&')));
    if let Ok((after, half)) = and_a_half(rest) {
        return Ok((after, so_long(seconds + half * unit)));
    }
    if let Ok((after, (more, smaller))) = span(rest.after(and))
        && smaller < unit
    {
        return Ok((after, so_long(seconds + more)));
    }
    // "1h30", "1 h 30 m"
    if unit == HOUR
        && let Ok((after, minutes)) = number(rest)
        && minutes.value.fract() == 0.0
        && (1.0..60.0).contains(&minutes.value)
    {
        let short = clock().longest_of(after.slice, "short minute");
        let joined = rest.first().is_some_and(|token| !token.spaced);
        // "1 h 30 dough": so many minutes, and no so much of something.
        let two = rest.first().is_some_and(|token| token.span.len() == 2);
        let counts = two && !units().has(after.norm(0));
        if joined || short.is_some() || counts {
            let after = after.after(short.unwrap_or(0));
            return Ok((after, so_long(seconds + minutes.value * MINUTE)));
        }
    }
    Ok((rest, so_long(seconds)))
}

const MINUTE: f64 = 60.0;
const HOUR: f64 = 3600.0;
/// Longer than any that is taken: it is said to be too long, whatever was typed.
const MINUTES_MAX: f64 = 1e6;

fn so_long(seconds: f64) -> Lasting {
    let minutes = (seconds / MINUTE).ceil().clamp(0.0, MINUTES_MAX) as u32;
    let told = seconds.clamp(0.0, MINUTES_MAX * MINUTE).ceil() as u32;
    Lasting {
        minutes,
        less_seconds: minutes * MINUTE as u32 - told,
    }
}

/// A number with its unit: its seconds, and those of the unit.
fn span(input: Tokens<'_>) -> Read<'_, (f64, f64)> {
    let (rest, count) = number(input)?;
    // "half an hour", "three quarters of an hour"
    let part = count.value < 1.0;
    let rest = match part {
        true => rest.after(usize::from(rest.norm(0) == "of")),
        false => rest,
    };
    let rest = match part && matches!(rest.norm(0), "a" | "an") {
        true => rest.take_one(),
        false => rest,
    };
    for (key, seconds) in [("second", 1.0), ("minute", MINUTE), ("hour", HOUR)] {
        if let Some(length) = clock().longest_of(rest.slice, key) {
            return Ok((rest.after(length), (count.value * seconds, seconds)));
        }
    }
    input.no()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::spelled::whole;

    #[test]
    fn spans_in_many_spellings() {
        for (text, minutes) in [
            ("35 min", 35),
            ("35min", 35),
            ("35 minutes", 35),
            ("thirty five mins", 35),
            ("2 h", 120),
            ("2 hours", 120),
            ("1h30", 90),
            ("1h 30m", 90),
            ("1 h 30 min", 90),
            ("1 hour and 20 minutes", 80),
            ("an hour", 60),
            ("an hour and a half", 90),
            ("hour and a half", 90),
            ("half an hour", 30),
            ("half hour", 30),
            ("1.5 h", 90),
            ("1 1/2 hours", 90),
            ("two and a half hours", 150),
            ("a quarter of an hour", 15),
            ("three quarters of an hour", 45),
            ("120 seconds", 2),
            ("a minute", 1),
            ("0 min", 0),
        ] {
            let expected = Lasting::minutes(minutes).to_string();
            assert_eq!(whole(text, lasting), Some(expected), "{text}");
        }
        for (text, expected) in [("90 seconds", "90 sec"), ("45 sec", "45 sec")] {
            assert_eq!(whole(text, lasting).as_deref(), Some(expected), "{text}");
        }
        assert_eq!(whole("1 h 30", lasting).as_deref(), Some("90 min"));
        for text in ["35", "35 g", "min", "2 h 30 g", "35 m"] {
            assert_eq!(whole(text, lasting), None, "{text}");
        }
    }
}
