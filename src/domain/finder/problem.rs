//! Why no plate can be looked for.

use crate::lang::syntax::Aimed;

#[derive(Debug, Clone, PartialEq)]
pub enum FinderProblem {
    /// More dishes were named than a plate is looked for with.
    TooManyDishes { most: usize },
    /// Nothing, less than nothing, or more than a plate ever holds.
    ImpossibleAim,
    /// The day has so much already, and more was not asked for; `None`: who asks is told no numbers.
    DayIsFull { of: Aimed, had: Option<f64> },
    /// Nothing stands ready that is not past its date.
    NothingReady,
    /// Of these the books know too little.
    NothingKnown { names: Vec<String> },
}

impl FinderProblem {
    pub fn code(&self) -> &'static str {
        match self {
            Self::TooManyDishes { .. } => "too_many_dishes",
            Self::ImpossibleAim => "impossible_aim",
            Self::DayIsFull { .. } => "day_is_full",
            Self::NothingReady => "nothing_ready",
            Self::NothingKnown { .. } => "nutrients_unknown",
        }
    }
}
