//! Why nothing comes of what is said ahead of cooking.

use crate::domain::mass::Mass;

#[derive(Debug, Clone, PartialEq)]
pub enum PrepProblem {
    /// More was left than there was.
    TrimmedHeavier { bought: Mass, trimmed: Mass },
}

impl PrepProblem {
    /// The stable word in the bridge's data.
    pub fn code(&self) -> &'static str {
        match self {
            Self::TrimmedHeavier { .. } => "trimmed_heavier",
        }
    }
}
