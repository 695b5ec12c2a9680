//! What is said of time to come: timers and reminders.

use super::ahead::{Ahead, At, Lasting};
use super::hour::Hour;
use super::impossible::Impossible;
use super::syntax::Words;

#[derive(Debug, Clone, PartialEq)]
pub enum Clock {
    /// "35 min dal", "in 2 h move the tray"; the words may be none.
    Timer { lasting: Lasting, words: Words },
    /// "remind me Sunday at 18:00: soak the beans"
    Remind { at: At, words: Words },
    /// "timers": what waits; "reminders": and the notes that come by themselves.
    Pending { notes: bool },
    /// "cancel timer dal"
    Cancel(WhichTimer),
    /// "5 min more for timer 2"
    More { lasting: Lasting, which: WhichTimer },
    /// "snooze until 18:00"
    Later { until: At, which: WhichTimer },
    /// "away Thu to Sat"
    Away {
        who: Absent,
        from: Ahead,
        /// `None`: that day alone.
        until: Option<Ahead>,
    },
    /// "back today": what was said of the days from then on holds no more.
    Back { who: Absent, on: Ahead },
    /// "who is away"
    Absences,
    /// "remind me at 25:00": a day or hour that cannot be.
    Never(Words, Impossible),
}

/// Who does not eat here.
#[derive(Debug, Clone, PartialEq)]
pub enum Absent {
    All,
    Me,
    Named(Words),
}

/// Which timers or reminders are meant.
#[derive(Debug, Clone, PartialEq)]
pub enum WhichTimer {
    All,
    /// The only one, or the one that rang last.
    Untold,
    Number(u32),
    Named(Words),
    /// "the bread one": if there is one like that.
    One(Words),
}

/// The day on which a household cooks for the days to come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrepDayTold {
    /// 0 = Monday.
    pub weekday: u8,
    pub hour: Option<Hour>,
    /// Every other week, from the next such day on.
    pub every_other: bool,
}

/// What the household chooses of time.
#[derive(Debug, Clone, PartialEq)]
pub enum ClockSetting {
    /// `None`: no prep day.
    Prep(Option<PrepDayTold>),
    Note(NoteName, Told),
    /// All of them off, or as they were before.
    Notes(bool),
    /// From one hour to another.
    Quiet(Option<(Hour, Hour)>),
}

/// A note that the household is told of the bot's own accord.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoteName {
    /// On prep day, what is left, to cook and to buy.
    Prep,
    Morning,
    Evening,
    /// Hot food that stands out.
    PutAway,
}

/// Whether and when it is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    Off,
    /// At its usual hour.
    On,
    At(Hour),
}
