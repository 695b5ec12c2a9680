//! What of time to come is impossible, by name.

use crate::lang::syntax::Impossible;

#[derive(Debug, Clone, PartialEq)]
pub enum ClockProblem {
    /// No such day, hour or span, or too far ahead.
    ImpossibleTime {
        told: String,
        what: Impossible,
    },
    /// It has gone by.
    TimeGone {
        told: String,
    },
    /// A reminder rings once.
    RingsOnce {
        told: String,
    },
    /// Days that end before they begin.
    WrongOrder {
        from: String,
        until: String,
    },
    /// Quiet hours that begin when they end.
    NoQuiet,
    /// A reminder without its time.
    NoTime,
    /// No timer or reminder like that waits.
    NoSuchTimer {
        told: Option<String>,
    },
    TooManyTimers {
        most: usize,
    },
    /// Nobody of those is away from that day on.
    NotAway,
}

impl ClockProblem {
    pub fn impossible(told: String, what: Impossible) -> Self {
        match what {
            Impossible::Gone => Self::TimeGone { told },
            Impossible::Often => Self::RingsOnce { told },
            what => Self::ImpossibleTime { told, what },
        }
    }

    pub fn code(&self) -> &'static str {
        match self {
            Self::ImpossibleTime { .. } => "impossible_time",
            Self::TimeGone { .. } => "time_gone",
            Self::RingsOnce { .. } => "rings_once",
            Self::WrongOrder { .. } => "wrong_order",
            Self::NoQuiet => "no_quiet",
            Self::NoTime => "no_time",
            Self::NoSuchTimer { .. } => "no_such_timer",
            Self::TooManyTimers { .. } => "too_many_timers",
            Self::NotAway => "not_away",
        }
    }
}
