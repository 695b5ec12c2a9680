//! What is answered ahead of cooking, as values.

use super::books::Limit;
use super::goods::{Good, GoodFact, Refuse};
use crate::domain::ids::MessageId;
use crate::domain::mass::Mass;

#[derive(Debug, Clone, PartialEq)]
pub enum PrepAnswer {
    Good(GoodAnswer),
    Par {
        dish: String,
        mass: Option<Mass>,
        message: MessageId,
    },
    PotHolds {
        dish: Option<String>,
        mass: Mass,
        message: MessageId,
    },
    Limit {
        what: Limit,
        count: Option<u32>,
        message: MessageId,
    },
}

/// What was told of something that is bought.
#[derive(Debug, Clone, PartialEq)]
pub struct GoodAnswer {
    pub good: Good,
    pub fact: GoodFact,
    /// What is trimmed off, by all that was told.
    pub refuse: Refuse,
    /// The same by the table; `None`: it is not in there.
    pub by_table: Option<f64>,
    pub message: MessageId,
}

impl PrepAnswer {
    /// The message that it is taken back with.
    pub fn taken_back_with(&self) -> Option<MessageId> {
        Some(match self {
            Self::Good(answer) => answer.message,
            Self::Par { message, .. }
            | Self::PotHolds { message, .. }
            | Self::Limit { message, .. } => *message,
        })
    }
}
