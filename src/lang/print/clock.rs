//! Timers, reminders and the household's times as text.

use std::fmt::{self, Display, Formatter};

use super::WEEKDAYS;
use crate::lang::syntax::*;

impl Display for Clock {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Timer { lasting, words } if words.text.is_empty() => write!(f, "timer {lasting}"),
            Self::Timer { lasting, words } => write!(f, "timer {lasting} {words}"),
            Self::Remind { at, words } if *at == At::default() => write!(f, "remind me: {words}"),
            Self::Remind { at, words } => write!(f, "remind me {at}: {words}"),
            Self::Away { who, from, until } => {
                write!(f, "{}away {from}", Subject(who))?;
                until
                    .as_ref()
                    .map_or(Ok(()), |until| write!(f, " to {until}"))
            }
            Self::Back {
                who: Absent::All,
                on,
            } => write!(f, "everybody back {on}"),
            Self::Back { who, on } => write!(f, "{}back {on}", Subject(who)),
            Self::Absences => f.write_str("who is away"),
            Self::Never(told, Impossible::Day) => write!(f, "prep day {told} at 9:00"),
            Self::Never(told, Impossible::Span) => write!(f, "timer {told}"),
            Self::Never(told, _) => write!(f, "remind me {told}"),
            Self::Pending { notes: false } => f.write_str("timers"),
            Self::Pending { notes: true } => f.write_str("reminders"),
            Self::Cancel(WhichTimer::All) => f.write_str("cancel all timers"),
            Self::Cancel(which) => write!(f, "cancel{which}"),
            Self::More { lasting, which } => write!(f, "{lasting} more{}", For(which)),
            Self::Later { until, which } => {
                let until = until.to_string();
                let until = until.strip_prefix("at ").unwrap_or(&until);
                write!(f, "snooze until {until}{}", For(which))
            }
        }
    }
}

/// " for timer 2", or nothing where none is told.
struct For<'a>(&'a WhichTimer);

impl Display for For<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self.0 {
            WhichTimer::Untold => Ok(()),
            which => write!(f, " for{which}"),
        }
    }
}

/// "Ana ", "I am ", or nothing where all are meant.
struct Subject<'a>(&'a Absent);

impl Display for Subject<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self.0 {
            Absent::All => Ok(()),
            Absent::Me => f.write_str("I am "),
            Absent::Named(name) => write!(f, "{name} "),
        }
    }
}

impl Display for WhichTimer {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::All => f.write_str(" all timers"),
            Self::Untold => f.write_str(" timer"),
            Self::Number(number) => write!(f, " timer {number}"),
            Self::Named(words) => write!(f, " timer {words}"),
            Self::One(words) => write!(f, " the {words} one"),
        }
    }
}

/// An hour without its "at".
struct Bare(Hour);

impl Display for Bare {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str(self.0.to_string().trim_start_matches("at "))
    }
}

impl Display for ClockSetting {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Prep(None) => f.write_str("no prep day"),
            Self::Prep(Some(told)) => {
                let every = if told.every_other { "every other " } else { "" };
                let weekday = WEEKDAYS[usize::from(told.weekday) % 7];
                write!(f, "prep day {every}{weekday}")?;
                told.hour.map_or(Ok(()), |hour| write!(f, " {hour}"))
            }
            Self::Note(NoteName::Evening, Told::Off) => f.write_str("no evening notes"),
            Self::Note(NoteName::Evening, Told::On) => f.write_str("evening notes on"),
            Self::Note(NoteName::Evening, Told::At(hour)) => write!(f, "evening notes {hour}"),
            Self::Note(NoteName::Morning, Told::Off) => f.write_str("no morning notes"),
            Self::Note(NoteName::Morning, Told::On) => f.write_str("morning notes on"),
            Self::Note(NoteName::Morning, Told::At(hour)) => write!(f, "morning notes {hour}"),
            Self::Notes(false) => f.write_str("notes off"),
            Self::Notes(true) => f.write_str("notes on"),
            Self::Note(NoteName::Prep, Told::Off) => f.write_str("no prep message"),
            Self::Note(NoteName::Prep, _) => f.write_str("prep message on"),
            Self::Note(NoteName::PutAway, Told::Off) => f.write_str("no put-away notes"),
            Self::Note(NoteName::PutAway, _) => f.write_str("put-away notes on"),
            Self::Quiet(None) => f.write_str("no quiet hours"),
            Self::Quiet(Some((from, to))) => {
                write!(f, "quiet hours {} to {}", Bare(*from), Bare(*to))
            }
        }
    }
}
