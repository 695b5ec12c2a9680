//! What is said of dishes that were cooked before: another pot of one, its recipe, how pots compare, how fast they
//! go, what they cost.

use super::reports::Period;
use super::syntax::{Amount, Words};

#[derive(Debug, Clone, PartialEq)]
pub enum Cookbook {
    /// "dal again", "dal x1.5": shows the recipe and opens a pot by it.
    Again(Recipe),
    /// "recipe for dal": shows it.
    Show(Recipe),
    /// "compare the last 3 dals"; no dish: the one that was cooked last.
    Compare { dish: Option<Words>, pots: u32 },
    /// "how fast do we go through rice"; no dish: all that stands here.
    Pace { dish: Option<Words>, asked: Pace },
    /// "what does the dal cost".
    Cost { dish: Words },
    /// "what did we spend on food this week".
    Spent { period: Period },
}

impl Cookbook {
    /// The dish that it names; `None`: it is about another, or about all of them.
    pub fn dish(&self) -> Option<&Words> {
        match self {
            Self::Again(recipe) | Self::Show(recipe) => recipe.dish.as_ref(),
            Self::Compare { dish, .. } | Self::Pace { dish, .. } => dish.as_ref(),
            Self::Cost { dish } => Some(dish),
            Self::Spent { .. } => None,
        }
    }
}

/// A dish as it was made last, with what is different this time.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// `None`: "same but ghee for oil".
    pub dish: Option<Words>,
    pub scale: Scale,
    pub but: Vec<RecipeBut>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Scale {
    AsItWas,
    Times(f64),
    /// So many grams are to come out of it.
    Cooked(f64),
}

#[derive(Debug, Clone, PartialEq)]
pub enum RecipeBut {
    /// "with 700 g lentils": all of it in proportion.
    With(Amount, Words),
    /// "but 3 onions": this line alone.
    Set(Amount, Words),
    /// "plus 2 carrots"
    Plus(Amount, Words),
    /// "without salt"
    Without(Words),
    /// "ghee for oil", "30 g ghee for oil"
    Instead {
        amount: Option<Amount>,
        new: Words,
        old: Words,
    },
}

/// What is asked of how a dish goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// "how fast do we go through rice"
    Fast,
    /// "when does the rice run out"
    RunsOut,
    /// "who eats the rice"
    Who,
}
