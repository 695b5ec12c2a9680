//! What the household's own pots tell of a dish: how it was made, and what that comes to.
//!
//! A kitchen knows the pots of a dish if it was loaded with them (`store::View::dishes`): they are among its batches
//! then, finished or not. Everything here is worked out from these; nothing of it is stored but the yield that a pot
//! was reckoned with when it was opened (`Batch::own_yield`).
//!
//! ```text
//! kitchen.pots(dish)          its newest pots that were cooked here, newest first
//! kitchen.recipe(dish)        as it was made last: lines, the main one, what was poured off, the yield
//! kitchen.recipe_of(batch)    as this pot was made
//! recipe.times(1.5)           every line in proportion, and so what is poured off
//! recipe.with(at, mass)       so that the line at this place comes to so much
//! recipe.cooking_up(mass)     so that so much comes out of it
//! recipe.comes_to()           cooked, after what is poured off: by own pots with their spread, or by the table
//! recipe.ratio(at)            of the line to the main one
//! cover(lots, ..)             how long what stands here lasts, and which date passes first
//! kitchen.compared(..)        pots beside each other
//! line.good                   what it is bought as, for a list; `None`: another dish, or water
//! ```

pub mod answer;
mod compare;
mod cover;
mod own_yield;
pub mod problem;
mod recipe;

pub use cover::{Cover, Standing, cover};
pub use own_yield::{OwnYield, Raw};
pub use recipe::{Recipe, RecipeLine, Thing};

use super::batch::Batch;
use super::ids::ComponentId;
use super::kitchen::Kitchen;
use super::named::contains_all;
use super::origin::Origin;
use super::resolve::key;
use crate::lang::syntax::{self, Command, Cookbook, Prep, Shop, Words};

/// So many of the newest pots of a dish are looked at: older ones tell how it was made once.
pub const POTS_LOOKED: usize = 12;

impl Kitchen {
    /// The dishes whose pots a decision about a command looks at: they have to be loaded for it.
    pub fn dishes_of(&self, command: &Command) -> Vec<ComponentId> {
        let named = |words: &Words| self.dishes_named(&words.text);
        match command {
            Command::Batch(new) => {
                let name = key(&new.name.text);
                let known = self.components.iter().filter(|known| known.key == name);
                known.map(|known| known.id).collect()
            }
            Command::Cookbook(
                Cookbook::Again(syntax::Recipe { dish, .. })
                | Cookbook::Show(syntax::Recipe { dish, .. })
                | Cookbook::Compare { dish, .. },
            ) => match dish {
                Some(dish) => named(dish),
                None => {
                    let newest = self.newest_pot().map(|pot| pot.component);
                    newest.into_iter().collect()
                }
            },
            Command::Prep(Prep::Plan(asked) | Prep::Shop(Shop::ForPlan(asked))) => {
                let named = asked.dishes.iter().flat_map(named);
                named.chain(self.dishes_planned()).collect()
            }
            Command::Prep(Prep::Shop(Shop::ForDishes(dishes))) => {
                dishes.iter().flat_map(named).collect()
            }
            Command::Prep(Prep::Why { .. } | Prep::Sheet { .. }) => self.dishes_planned(),
            Command::Cookbook(
                Cookbook::Cost { dish }
                | Cookbook::Pace {
                    dish: Some(dish), ..
                },
            ) => named(dish),
            _ => Vec::new(),
        }
    }

    /// What is wished for or kept ready is cooked, however long ago it was cooked last.
    pub fn dishes_planned(&self) -> Vec<ComponentId> {
        let wished = self.prep.wishes.iter().map(|kept| kept.wish.dish);
        wished.chain(self.prep.kept_ready()).collect()
    }

    /// The dishes that words may mean, whether a pot of them is in sight or not.
    pub fn dishes_named(&self, words: &str) -> Vec<ComponentId> {
        let code = |batch: &&Batch| batch.code.eq_ignore_ascii_case(words.trim());
        if let Some(batch) = self.batches.values().find(code) {
            return vec![batch.component];
        }
        let words = key(words);
        let known = |fits: &dyn Fn(&str) -> bool| -> Vec<ComponentId> {
            let fitting = self.components.iter().filter(|known| fits(&known.key));
            fitting.map(|known| known.id).collect()
        };
        let whole = known(&|own| own == words);
        if !whole.is_empty() {
            return whole;
        }
        let heads = known(&|own| contains_all(own, &words) && own.ends_with(&words));
        match heads.is_empty() {
            true => known(&|own| contains_all(own, &words)),
            false => heads,
        }
    }

    /// The pot that was cooked last, of those in sight.
    pub fn newest_pot(&self) -> Option<&Batch> {
        let pots = self
            .batches
            .values()
            .filter(|batch| is_pot(batch) && !batch.lines.is_empty());
        pots.max_by_key(|batch| (batch.made_at, batch.id))
    }

    /// The newest pots of a dish that were cooked here (or put together raw), newest first.
    pub fn pots(&self, dish: ComponentId) -> Vec<&Batch> {
        let of_it = self.batches.values().rev();
        let newest = of_it.filter(|batch| batch.component == dish);
        let newest = newest.take(POTS_LOOKED);
        let mut pots: Vec<&Batch> = newest.filter(|batch| is_pot(batch)).collect();
        pots.sort_by_key(|batch| std::cmp::Reverse((batch.made_at, batch.id)));
        pots
    }

    /// How a dish was made last: a pot that was weighed goes before one that is only planned or still on the stove.
    pub fn recipe(&self, dish: ComponentId) -> Option<Recipe> {
        let pots = self.pots(dish).into_iter();
        let told: Vec<&Batch> = pots.filter(|batch| !batch.lines.is_empty()).collect();
        let weighed = told.iter().find(|batch| !batch.estimated());
        Some(self.recipe_of(weighed.or(told.first())?))
    }

    /// What its own pots have come to, if any of them was weighed.
    pub fn own_yield(&self, dish: ComponentId) -> Option<OwnYield> {
        let pots = self.pots(dish);
        OwnYield::of(pots.into_iter().filter_map(|batch| self.came_to(batch)))
    }
}

fn is_pot(batch: &Batch) -> bool {
    batch.origin == Origin::Cooked && !batch.voided
}
