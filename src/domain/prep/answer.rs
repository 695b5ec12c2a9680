//! What is answered ahead of cooking, as values.

use chrono::NaiveDate;

use super::books::Limit;
use super::goods::{Good, GoodFact, Refuse};
use super::horizon::Horizon;
use super::planned::{DishPlan, Planned};
use super::sheet::{DishStep, WorkSheet};
use super::shop::ShoppingView;
use super::wish::WishView;
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
    Shopping(ShoppingAnswer),
    Wishes(WishesAnswer),
    Plan(Box<Planned>),
    Why(Box<WhyAnswer>),
    Steps {
        dish: String,
        steps: Vec<DishStep>,
        message: MessageId,
    },
    Sheet(WorkSheet),
}

/// How the plan comes to so much of something.
#[derive(Debug, Clone, PartialEq)]
pub struct WhyAnswer {
    pub horizon: Horizon,
    /// How many eat on each day.
    pub eaters: Vec<usize>,
    pub pots_a_day: Option<u32>,
    /// As much as was asked about.
    pub asked: Option<Mass>,
    pub of: WhyOf,
    pub today: NaiveDate,
}

#[derive(Debug, Clone, PartialEq)]
pub enum WhyOf {
    Dish(Box<DishPlan>),
    /// It goes into so much of a dish, as into the pot of this code.
    GoesIn {
        name: String,
        mass: Option<Mass>,
        dish: String,
        cooked: Mass,
        code: String,
    },
}

/// What is wished for.
#[derive(Debug, Clone, PartialEq)]
pub struct WishesAnswer {
    pub event: WishEvent,
    pub wishes: Vec<WishView>,
    /// Days of theirs on which everybody is away: nothing is planned for these.
    pub all_away: Vec<NaiveDate>,
    pub today: NaiveDate,
    /// What it is taken back with, if something was written.
    pub message: Option<MessageId>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WishEvent {
    Listed,
    Wished,
    /// These are wished for no more.
    Dropped,
}

/// What became of the shopping list.
#[derive(Debug, Clone, PartialEq)]
pub struct ShoppingAnswer {
    pub event: ShoppingEvent,
    /// `None`: there is none, or nothing is to be bought.
    pub list: Option<ShoppingView>,
    pub today: NaiveDate,
    /// What it is taken back with, if something was written.
    pub message: Option<MessageId>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum ShoppingEvent {
    Shown,
    /// What a plan needs, on no list yet.
    Needed,
    /// What was left on the one before.
    Begun {
        left: Vec<String>,
    },
    Put(Vec<String>),
    Off(Vec<String>),
    Got(Vec<String>),
    /// So many things were bought; what is left stays.
    Done {
        bought: usize,
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
        match self {
            Self::Good(answer) => Some(answer.message),
            Self::Par { message, .. }
            | Self::PotHolds { message, .. }
            | Self::Limit { message, .. } => Some(*message),
            Self::Shopping(answer) => answer.message,
            Self::Wishes(answer) => answer.message,
            Self::Steps { message, .. } => Some(*message),
            Self::Plan(_) | Self::Why(_) | Self::Sheet(_) => None,
        }
    }
}
