//! What a plan comes to, in dates and names.

use chrono::NaiveDate;

use super::horizon::Horizon;
use super::list::Wanted;
use crate::domain::cookbook::Recipe;
use crate::domain::ids::ComponentId;
use crate::domain::mass::Mass;
use crate::domain::pace::Pace;
use crate::domain::worth::Worth;

/// What to do for the days of a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Planned {
    /// The day on which it was reckoned.
    pub today: NaiveDate,
    pub horizon: Horizon,
    /// So many were told to eat.
    pub people: Option<u32>,
    /// Only these dishes were asked for; none: all.
    pub only: Vec<String>,
    /// How many eat on each day.
    pub eaters: Vec<usize>,
    pub dishes: Vec<DishPlan>,
    /// What stands here of dishes of which nothing is known: how much of it is eaten, nobody can tell.
    pub unknown: Vec<(String, Mass)>,
    pub pots_a_day: Option<u32>,
}

/// What to do about one dish.
#[derive(Debug, Clone, PartialEq)]
pub struct DishPlan {
    pub dish: ComponentId,
    pub name: String,
    /// On a day on which as many eat as usual; `None`: only by wishes.
    pub pace: Option<Pace>,
    /// Asked for on each day.
    pub demand: Vec<Mass>,
    /// Whether that was wished for.
    pub wished: Vec<bool>,
    /// What other dishes of the plan take of it.
    pub taken: Mass,
    /// To be there afterwards.
    pub par: Mass,
    /// Good when the plan begins.
    pub there: Mass,
    /// Past its date by then.
    pub past: Mass,
    /// Eaten from today until then.
    pub eaten_before: Mass,
    pub pot: Pot,
    /// Less than this is not worth a pot.
    pub least: Mass,
    /// So many days it is good as it stands, and frozen; `None`: no chart tells, and it is not for the freezer.
    pub keeps: (Option<u32>, Option<u32>),
    pub cook: Vec<Cooking>,
    /// What each day goes without.
    pub unmet: Vec<(NaiveDate, Mass)>,
    pub short: Mass,
    pub spoils: Mass,
    /// Of what stands here: into the freezer, by the last day on which that leaves it a day to thaw.
    pub freeze: Vec<(NaiveDate, Mass)>,
    pub thaw: Vec<Thaw>,
    pub left: Mass,
    /// What one takes of it.
    pub portion: Option<Mass>,
}

/// Eaten out of the freezer on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Thaw {
    pub on: NaiveDate,
    pub mass: Mass,
    /// It goes into the fridge in the evening before; else, with no day left once it is thawed, on the day itself.
    pub overnight: bool,
}

/// What a pot of it holds, cooked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pot {
    Told(Mass),
    /// The largest so far.
    SoFar(Mass),
    Assumed(Mass),
}

impl Pot {
    pub fn mass(self) -> Mass {
        match self {
            Self::Told(mass) | Self::SoFar(mass) | Self::Assumed(mass) => mass,
        }
    }
}

/// So much of a dish, cooked on a day.
#[derive(Debug, Clone, PartialEq)]
pub struct Cooking {
    pub on: NaiveDate,
    pub mass: Mass,
    pub pots: u32,
    /// So much of it goes into the freezer.
    pub frozen: Mass,
    /// As it was made last, in proportion; `None`: nobody told how it is made.
    pub recipe: Option<Recipe>,
    /// What it costs with what it takes of other dishes, and what of that has to be bought; nothing where no price is
    /// known.
    pub worth: Worth,
    pub bought: Worth,
}

impl Planned {
    /// What all that is cooked has to be bought for.
    pub fn worth(&self) -> Worth {
        let mut sum = Worth::default();
        let cooked = self.dishes.iter().flat_map(|dish| &dish.cook);
        cooked.for_each(|cooking| sum.add(&cooking.bought));
        sum
    }

    /// What goes into all that is cooked.
    pub fn wanted(&self) -> Vec<Wanted> {
        let cooked = self.dishes.iter().flat_map(|dish| &dish.cook);
        let recipes = cooked.filter_map(|cooking| cooking.recipe.as_ref());
        recipes.flat_map(Recipe::wanted).collect()
    }
}

impl Recipe {
    /// What goes into it.
    pub fn wanted(&self) -> Vec<Wanted> {
        let wanted = self.lines.iter().filter_map(|line| {
            Some(Wanted {
                good: line.good.clone()?,
                mass: line.mass,
                as_bought: false,
            })
        });
        wanted.collect()
    }
}

impl DishPlan {
    pub fn wants(&self) -> Mass {
        self.demand.iter().copied().sum()
    }
}
