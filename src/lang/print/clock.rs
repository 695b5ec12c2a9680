//! Timers and reminders as text.

use std::fmt::{self, Display, Formatter};

use crate::lang::syntax::*;

impl Display for Clock {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Timer { lasting, words } if words.text.is_empty() => write!(f, "timer {lasting}"),
            Self::Timer { lasting, words } => write!(f, "timer {lasting} {words}"),
            Self::Remind { at, words } if *at == At::default() => write!(f, "remind me: {words}"),
            Self::Remind { at, words } => write!(f, "remind me {at}: {words}"),
            Self::Pending => f.write_str("timers"),
            Self::Cancel(WhichTimer::All) => f.write_str("cancel all timers"),
            Self::Cancel(which) => write!(f, "cancel{which}"),
            Self::More { lasting, which } => {
                write!(f, "{lasting} more")?;
                match which {
                    WhichTimer::Untold => Ok(()),
                    which => write!(f, " for{which}"),
                }
            }
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
        }
    }
}
