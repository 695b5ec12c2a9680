//! The only place that asks what time it is.

use std::sync::{Arc, Mutex, PoisonError};

use chrono::{DateTime, Utc};
use chrono_tz::Tz;

/// The system's clock, or one that is set from outside and never goes back.
#[derive(Debug, Clone)]
pub enum Clock {
    System,
    Set(Arc<Mutex<DateTime<Utc>>>),
}

impl Clock {
    pub fn set_to(start: DateTime<Utc>) -> Self {
        Self::Set(Arc::new(Mutex::new(start)))
    }

    pub fn now(&self) -> DateTime<Utc> {
        match self {
            Self::System => Utc::now(),
            Self::Set(time) => *time.lock().unwrap_or_else(PoisonError::into_inner),
        }
    }

    /// Move a set clock forward; an earlier time leaves it as it is, and so does the system's clock.
    pub fn advance_to(&self, at: DateTime<Utc>) {
        if let Self::Set(time) = self {
            let mut time = time.lock().unwrap_or_else(PoisonError::into_inner);
            *time = at.max(*time);
        }
    }
}

/// This machine's time zone; UTC if it does not say.
pub fn local_zone() -> Tz {
    told_zone().unwrap_or(Tz::UTC)
}

/// This machine's time zone, if it says.
pub fn told_zone() -> Option<Tz> {
    iana_time_zone::get_timezone().ok()?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_clock_never_goes_back() {
        let start = DateTime::UNIX_EPOCH;
        let clock = Clock::set_to(start);
        clock.advance_to(start + chrono::Duration::hours(2));
        clock.advance_to(start + chrono::Duration::hours(1));
        assert_eq!(clock.now(), start + chrono::Duration::hours(2));
    }
}
