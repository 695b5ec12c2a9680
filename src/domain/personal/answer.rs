//! What is answered of a person's own days, targets and choices, as values.

use chrono::NaiveDate;

use super::super::avoid::Avoidance;
use super::super::ids::{MemberId, MessageId};
use super::super::mass::Mass;
use super::super::nutrients::{Sum, Totals};
use super::problem::ToDelete;
use super::target::Target;
use crate::lang::syntax::Aimed;

#[derive(Debug, Clone, PartialEq)]
pub enum PersonalAnswer {
    Targets(TargetsAnswer),
    Distance(DistanceAnswer),
    Week(Box<WeekAnswer>),
    Sources(Box<SourcesAnswer>),
    /// Whether numbers are told to this person from here on.
    Numbers {
        told: bool,
        message: MessageId,
    },
    /// Where totals are told from here on.
    Totals {
        private: bool,
        message: MessageId,
    },
    /// What somebody else eats is theirs to tell.
    TheirOwn {
        name: String,
    },
    /// What each eats is for each to ask.
    EachTheirOwn,
    /// The asker wants it told in their own chat alone.
    InPrivate,
    /// It is gone when this is read: no name stands in the answer.
    Deleted(ToDelete),
}

/// What somebody has chosen, all at once.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnSettings {
    pub name: String,
    pub numbers: bool,
    pub private: bool,
    /// `None`: they are not for this chat.
    pub targets: Option<Vec<Target>>,
    pub avoids: Vec<Avoidance>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TargetEvent {
    Set,
    Dropped,
    Shown,
}

#[derive(Debug, Clone, PartialEq)]
pub struct TargetsAnswer {
    pub event: TargetEvent,
    pub member: MemberId,
    /// Those that were set or dropped, or all that stand.
    pub targets: Vec<Target>,
    pub numbers: bool,
    pub message: MessageId,
}

/// How far today is from each target that was asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct DistanceAnswer {
    pub member: MemberId,
    pub day: NaiveDate,
    /// Each with what was eaten of it.
    pub lines: Vec<(Target, Sum)>,
    /// What was asked for and has no target: what was eaten of it.
    pub without: Vec<(Aimed, Sum)>,
    pub estimated: bool,
    pub numbers: bool,
}

/// What somebody ate over several days.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekAnswer {
    pub of: MemberId,
    pub member: String,
    pub from: NaiveDate,
    pub until: NaiveDate,
    /// Those with anything on a plate.
    pub days: Vec<DayTotals>,
    /// Over those.
    pub mean: Option<Totals>,
    pub targets: Vec<Target>,
    pub numbers: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub struct DayTotals {
    pub day: NaiveDate,
    pub dishes: Vec<DishEaten>,
    pub totals: Totals,
    /// Something of it is an estimate.
    pub estimated: bool,
}

/// What somebody had of a dish.
#[derive(Debug, Clone, PartialEq)]
pub struct DishEaten {
    pub name: String,
    pub mass: Mass,
    pub totals: Totals,
    pub estimated: bool,
}

/// From which dishes something came.
#[derive(Debug, Clone, PartialEq)]
pub struct SourcesAnswer {
    pub of: Aimed,
    pub whose: MemberId,
    pub member: String,
    pub from: NaiveDate,
    pub until: NaiveDate,
    /// Days with anything on a plate.
    pub days: usize,
    /// What gave most of it first; what nobody knows of last.
    pub dishes: Vec<DishEaten>,
    pub totals: Totals,
    pub numbers: bool,
}

impl PersonalAnswer {
    /// The message that it can be taken back with.
    pub fn taken_back_with(&self) -> Option<MessageId> {
        match self {
            Self::Targets(answer) if answer.event != TargetEvent::Shown => Some(answer.message),
            Self::Numbers { message, .. } | Self::Totals { message, .. } => Some(*message),
            _ => None,
        }
    }
}
