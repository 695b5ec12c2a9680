//! What the bot spoke of last in a chat: a plan, a dish. A message that leaves it out means that: "why so much rice?", "same
//! but ghee for oil".

use chrono::{DateTime, Duration, NaiveDate, Utc};

/// What an answer was about.
#[derive(Debug, Clone, PartialEq)]
pub struct Spoken {
    pub of: SpokenOf,
    pub at: DateTime<Utc>,
    /// The message replies to it.
    pub meant: bool,
    /// It told what things cost, or for want of a price could not.
    pub prices: bool,
    /// It was about the shopping list.
    pub list: bool,
    /// It told how much is left.
    pub left: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub enum SpokenOf {
    /// A dish, and the code of the pot that was spoken of.
    Dish {
        name: String,
        code: Option<String>,
    },
    Plan(SpokenPlan),
    Other,
}

/// What a plan was for.
#[derive(Debug, Clone, PartialEq)]
pub struct SpokenPlan {
    pub from: NaiveDate,
    pub until: NaiveDate,
    /// The last day was told.
    pub told: bool,
    pub people: Option<u32>,
    /// Only these dishes were asked for; none: all.
    pub only: Vec<String>,
    /// The dishes that are in it.
    pub dishes: Vec<String>,
}

/// After so many minutes a message that leaves it out means something else.
const HOLDS_MINUTES: i64 = 30;

impl Spoken {
    /// It was said lately, or the message replies to it.
    pub fn holds(&self, now: DateTime<Utc>) -> bool {
        self.meant || now - self.at <= Duration::minutes(HOLDS_MINUTES)
    }

    pub fn plan(&self) -> Option<&SpokenPlan> {
        match &self.of {
            SpokenOf::Plan(plan) => Some(plan),
            SpokenOf::Dish { .. } | SpokenOf::Other => None,
        }
    }

    pub fn dish(&self) -> Option<(&str, Option<&str>)> {
        match &self.of {
            SpokenOf::Dish { name, code } => Some((name, code.as_deref())),
            SpokenOf::Plan(_) | SpokenOf::Other => None,
        }
    }
}
