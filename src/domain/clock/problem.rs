//! What of time to come is impossible, by name.

#[derive(Debug, Clone, PartialEq)]
pub enum ClockProblem {
    /// No such day or hour, or too far ahead.
    ImpossibleTime {
        told: String,
    },
    /// It has gone by.
    TimeGone {
        told: String,
    },
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
    pub fn code(&self) -> &'static str {
        match self {
            Self::ImpossibleTime { .. } => "impossible_time",
            Self::TimeGone { .. } => "time_gone",
            Self::NoTime => "no_time",
            Self::NoSuchTimer { .. } => "no_such_timer",
            Self::TooManyTimers { .. } => "too_many_timers",
            Self::NotAway => "not_away",
        }
    }
}
