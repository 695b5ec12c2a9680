//! What people choose for themselves and ask of what they ate: targets, days and weeks, whether numbers are told, and where.

use super::syntax::{Day, Words};

#[derive(Debug, Clone, PartialEq)]
pub enum Personal {
    /// "target 2200 kcal, 130 protein".
    Target(Vec<Aim>),
    /// "no protein target"; none named: all of them.
    NoTarget(Vec<Aimed>),
    /// "my targets?"
    Targets,
    /// "Ana's target", "set Ana's target to 1500 kcal"
    TargetsOf(Words),
    /// "how much protein is left for me today"; none named: whatever has a target.
    Left(Vec<Aimed>),
    /// "last week": what was eaten over several days.
    Week { days: Week, who: Option<Words> },
    /// "where did my protein come from this week".
    Sources { of: Aimed, over: Stretch },
    /// "no numbers for me", "numbers on".
    Numbers(bool),
    /// "my totals in private", "my totals here".
    Totals { private: bool },
    /// "delete me", "delete Tom", "delete this household"; `for_good` is how it is confirmed.
    Delete { whom: Deleted, for_good: bool },
}

/// Whose data is to be deleted.
#[derive(Debug, Clone, PartialEq)]
pub enum Deleted {
    Me,
    Person(Words),
    Household,
    /// "delete everything": of whom is asked.
    Unsaid,
}

/// What a target may be of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Aimed {
    Energy,
    Protein,
    Fat,
    Carbohydrate,
    Fibre,
    Salt,
}

impl Aimed {
    pub const ALL: [Self; 6] = [
        Self::Energy,
        Self::Protein,
        Self::Fat,
        Self::Carbohydrate,
        Self::Fibre,
        Self::Salt,
    ];

    /// As a sentence names it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Energy => "energy",
            Self::Protein => "protein",
            Self::Fat => "fat",
            Self::Carbohydrate => "carbs",
            Self::Fibre => "fibre",
            Self::Salt => "salt",
        }
    }
}

/// One target, in kcal or grams. The two are equal where one figure was told.
#[derive(Debug, Clone, PartialEq)]
pub struct Aim {
    /// `None`: a figure alone, "target 2200".
    pub of: Option<Aimed>,
    pub least: Option<f64>,
    pub most: Option<f64>,
}

/// Several days.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Week {
    /// The last seven, today among them.
    Seven,
    /// Since Monday.
    This,
    /// Monday to Sunday before.
    Last,
}

/// A day, or several.
#[derive(Debug, Clone, PartialEq)]
pub enum Stretch {
    Day(Day),
    Days(Week),
}
