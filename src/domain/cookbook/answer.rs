//! What is answered of dishes that were cooked before, as values.

use chrono::NaiveDate;

use super::cover::Cover;
use crate::domain::estimate::ComesTo;
use crate::domain::ids::MessageId;
use crate::domain::mass::Mass;
use crate::domain::nutrients::Sum;
use crate::domain::worth::Worth;

#[derive(Debug, Clone, PartialEq)]
pub enum CookbookAnswer {
    Recipe(RecipeAnswer),
    Compared(ComparedAnswer),
    Pace(PaceAnswer),
    Share(ShareAnswer),
    Cost(CostAnswer),
    Spent(SpentAnswer),
}

/// A dish by weight, as it was made, or is to be made.
#[derive(Debug, Clone, PartialEq)]
pub struct RecipeAnswer {
    pub name: String,
    /// The pot that it was made as.
    pub code: String,
    pub made_on: NaiveDate,
    pub today: NaiveDate,
    /// So many times what went into that pot.
    pub factor: f64,
    pub lines: Vec<RecipeRow>,
    /// What is left out this time.
    pub without: Vec<String>,
    pub comes_to: ComesTo,
    pub raw: bool,
    /// What is poured off, in proportion.
    pub poured: Mass,
    /// The pot that was opened by it: its code, and the message that takes it back.
    pub opened: Option<(String, MessageId)>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct RecipeRow {
    pub name: String,
    pub part: Option<String>,
    /// `None`: a pinch, or nobody knows.
    pub mass: Option<Mass>,
    pub estimated: bool,
    /// Of the main ingredient; 1 for itself.
    pub ratio: Option<f64>,
    pub changed: Changed,
}

/// How a line differs from the pot that it was made as, but for its scale.
#[derive(Debug, Clone, PartialEq)]
pub enum Changed {
    No,
    Amount,
    Added,
    /// In the place of this.
    Instead(String),
}

/// Pots of a dish beside each other, the newest first.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparedAnswer {
    pub name: String,
    pub today: NaiveDate,
    pub pots: Vec<PotCompared>,
    /// Pots among the newest that nobody has weighed: they are left out.
    pub unweighed: Vec<String>,
    /// The main ingredient.
    pub main: Option<String>,
    /// What goes in besides: per unit of the main one, pot by pot; `None`: not in that pot, or its weight is not known.
    pub ratios: Vec<(String, Vec<Option<f64>>)>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct PotCompared {
    pub code: String,
    pub made_on: NaiveDate,
    pub raw: Mass,
    /// The weight of the main ingredient.
    pub main: Option<Mass>,
    pub net: Mass,
    pub estimated: bool,
    pub energy: Sum,
    pub protein: Sum,
    pub worth: Worth,
    /// Days until the last of it went; `None`: some is left.
    pub lasted_days: Option<i64>,
    pub left: Mass,
    pub thrown_away: Mass,
}

/// How fast dishes go.
#[derive(Debug, Clone, PartialEq)]
pub struct PaceAnswer {
    pub today: NaiveDate,
    /// One dish was asked for.
    pub one: bool,
    /// When it runs out was asked for first.
    pub runs_out: bool,
    pub dishes: Vec<PaceLine>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct PaceLine {
    pub name: String,
    /// A day; `None`: the books do not tell yet.
    pub per_day: Option<Mass>,
    /// So many days of the books tell it.
    pub known_days: u32,
    pub left: Mass,
    pub estimated: bool,
    pub cover: Cover,
}

/// What the one who asks eats of a dish. Whose plates the rest are is not told: plates are private, stock is shared.
#[derive(Debug, Clone, PartialEq)]
pub struct ShareAnswer {
    pub name: String,
    pub today: NaiveDate,
    pub since: NaiveDate,
    pub own: Mass,
    /// Of each for whom the others speak: guests and children.
    pub guests: Vec<(String, Mass)>,
    pub all: Mass,
}

/// What a pot costs.
#[derive(Debug, Clone, PartialEq)]
pub struct CostAnswer {
    pub name: String,
    pub code: String,
    pub made_on: NaiveDate,
    pub today: NaiveDate,
    pub net: Mass,
    pub estimated: bool,
    pub worth: Worth,
    /// What has no price.
    pub unpriced: Vec<String>,
    /// The usual portion, and what it costs.
    pub portion: Option<(Mass, Worth)>,
    /// What is eaten of it in a week, and what that costs.
    pub week: Option<(Mass, Worth)>,
}

/// What was cooked and bought in a stretch of time, by what is known of prices.
#[derive(Debug, Clone, PartialEq)]
pub struct SpentAnswer {
    pub from: NaiveDate,
    pub until: NaiveDate,
    pub today: NaiveDate,
    pub worth: Worth,
    /// By dish, the dearest first.
    pub dishes: Vec<(String, Worth)>,
}

impl CookbookAnswer {
    /// The message that it is taken back with.
    pub fn taken_back_with(&self) -> Option<MessageId> {
        match self {
            Self::Recipe(answer) => answer.opened.as_ref().map(|(_, message)| *message),
            _ => None,
        }
    }
}
