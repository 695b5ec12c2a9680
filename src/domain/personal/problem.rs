//! What of a person's own is impossible, by name.

use super::target::Target;
use crate::lang::syntax::Aimed;

#[derive(Debug, Clone, PartialEq)]
pub enum PersonalProblem {
    /// No day can be like that.
    ImpossibleTarget(Target),
    /// A figure without what it is of.
    TargetOfWhat { figure: f64 },
    /// It is theirs to choose, and to know.
    TargetOfAnother { name: String },
    /// There is no such target to drop.
    NoTarget { of: Option<Aimed> },
    /// It is asked about first.
    ForGood(ToDelete),
    /// Everything of whom?
    DeleteWhat,
    /// Whoever keeps the household has to hand that over before.
    KeeperStays,
}

/// Who or what somebody wants deleted.
#[derive(Debug, Clone, PartialEq)]
pub enum ToDelete {
    Asker,
    Member { name: String },
    Household,
}

impl PersonalProblem {
    pub fn code(&self) -> &'static str {
        match self {
            Self::ImpossibleTarget(_) => "impossible_target",
            Self::TargetOfWhat { .. } => "target_of_what",
            Self::TargetOfAnother { .. } => "target_of_another",
            Self::NoTarget { .. } => "no_target",
            Self::ForGood(_) => "for_good",
            Self::DeleteWhat => "delete_what",
            Self::KeeperStays => "keeper_stays",
        }
    }
}
