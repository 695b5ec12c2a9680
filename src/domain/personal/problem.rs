//! What of a person's own is impossible, by name.

use super::target::Target;
use crate::lang::syntax::Aimed;

#[derive(Debug, Clone, PartialEq)]
pub enum PersonalProblem {
    /// No day can be like that.
    ImpossibleTarget(Target),
    /// A figure without what it is of.
    TargetOfWhat { figure: f64 },
    /// There is no such target to drop.
    NoTarget { of: Option<Aimed> },
}

impl PersonalProblem {
    pub fn code(&self) -> &'static str {
        match self {
            Self::ImpossibleTarget(_) => "impossible_target",
            Self::TargetOfWhat { .. } => "target_of_what",
            Self::NoTarget { .. } => "no_target",
        }
    }
}
