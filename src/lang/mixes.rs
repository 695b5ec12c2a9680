//! What is said of dishes that are made of others.

use super::syntax::{Day, IngredientLine, Item, MealName, Weighing, Words};

/// What is left of a dish, with something stirred in.
#[derive(Debug, Clone, PartialEq)]
pub struct TopUp {
    pub batch: Words,
    /// Where it stands, if that was said.
    pub from: Option<Words>,
    /// What went in.
    pub lines: Vec<IngredientLine>,
    /// So much went in, and nobody said of what.
    pub by_grams: Option<f64>,
    /// What the whole weighs now.
    pub weighing: Option<Weighing>,
}

/// What was left of a meal.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LeftOver {
    pub weighing: Weighing,
    /// Only this of what was on the plates.
    pub dish: Option<Words>,
    pub day: Option<Day>,
    pub meal: Option<MealName>,
    /// From whose plate, if it was from one.
    pub who: Option<Words>,
    pub place: Option<Words>,
    /// What it is called from now on.
    pub name: Option<Words>,
    pub of: LeftOf,
}

/// What the remainder is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LeftOf {
    #[default]
    Unsaid,
    /// "off the plates", however much of them it is.
    Plates,
    /// "from that": of what was put on plates just now.
    That,
    /// Of something that nobody booked.
    Elsewhere,
}

/// Meals packed by the count.
#[derive(Debug, Clone, PartialEq)]
pub struct Boxes {
    pub count: u32,
    /// What one of them is called: "box".
    pub vessel: String,
    pub items: Vec<Item>,
    /// The items are what is in each of them, not in all.
    pub each: bool,
    pub kept: Vec<Kept>,
    pub anyway: bool,
}

/// Where boxes were put: so many of them, or the others.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept {
    pub count: Option<u32>,
    pub place: Words,
}
