//! What is said of dishes that were cooked before, as text.

use std::fmt::{self, Display, Formatter};

use super::Plain;
use crate::lang::syntax::{Cookbook, Pace, Recipe, RecipeBut, Scale};

impl Display for Cookbook {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Again(recipe) => match &recipe.dish {
                Some(dish) => write!(f, "{dish} again{recipe}"),
                None => write!(f, "same recipe{recipe}"),
            },
            Self::Show(recipe) => match &recipe.dish {
                Some(dish) => write!(f, "recipe for {dish}{recipe}"),
                None => write!(f, "recipe{recipe}"),
            },
            Self::Compare { dish, pots } => {
                write!(f, "compare the last {pots}")?;
                dish.iter().try_for_each(|dish| write!(f, " {dish}"))
            }
            Self::Pace { dish: None, asked } => f.write_str(match asked {
                Pace::Fast | Pace::Who => "how fast do we go through everything",
                Pace::RunsOut => "days of cover",
            }),
            Self::Pace {
                dish: Some(dish),
                asked,
            } => match asked {
                Pace::Fast => write!(f, "how fast do we go through {dish}"),
                Pace::RunsOut => write!(f, "when do we run out of {dish}"),
                Pace::Who => write!(f, "who eats {dish}"),
            },
            Self::Cost { dish } => write!(f, "what does {dish} cost"),
            Self::Spent { period } => write!(f, "what did we spend on food {period}"),
        }
    }
}

/// What is different, behind the dish.
impl Display for Recipe {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self.scale {
            Scale::AsItWas => {}
            Scale::Times(times) => write!(f, " x {}", Plain(times))?,
            Scale::Cooked(grams) => write!(f, " for {} g cooked", Plain(grams))?,
        }
        self.but.iter().try_for_each(|but| match but {
            RecipeBut::With(amount, name) => write!(f, ", with {amount} {name}"),
            RecipeBut::Set(amount, name) => write!(f, ", but {amount} {name}"),
            RecipeBut::Plus(amount, name) => write!(f, ", plus {amount} {name}"),
            RecipeBut::Without(name) => write!(f, ", without {name}"),
            RecipeBut::Instead {
                amount: Some(amount),
                new,
                old,
            } => write!(f, ", but {amount} {new} instead of {old}"),
            RecipeBut::Instead {
                amount: None,
                new,
                old,
            } => write!(f, ", but {new} instead of {old}"),
        })
    }
}
