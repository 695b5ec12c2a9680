//! What is said of time to come: timers and reminders.

use super::ahead::{At, Lasting};
use super::syntax::Words;

#[derive(Debug, Clone, PartialEq)]
pub enum Clock {
    /// "35 min dal", "in 2 h move the tray"; the words may be none.
    Timer { lasting: Lasting, words: Words },
    /// "remind me Sunday at 18:00: soak the beans"
    Remind { at: At, words: Words },
    /// "timers": what waits.
    Pending,
    /// "cancel timer dal"
    Cancel(WhichTimer),
    /// "5 min more for timer 2"
    More { lasting: Lasting, which: WhichTimer },
}

/// Which timers or reminders are meant.
#[derive(Debug, Clone, PartialEq)]
pub enum WhichTimer {
    All,
    /// The only one, or the one that rang last.
    Untold,
    Number(u32),
    Named(Words),
}
