//! What a batch may set off in somebody: the union of what went into it, batches inside batches too. What
//! nobody can tell is named. "None recorded" is not "none present".

pub mod chart;

use std::collections::BTreeSet;

use super::batch::{Batch, Line};
use super::kitchen::Kitchen;
use crate::foods::{self, Found};
use crate::lang::syntax::LineContent;

pub use chart::Allergen;
use chart::Carried;

/// How deep batches may stand in batches; deeper is a mistake in the books.
const NESTING_MAX: usize = 32;

/// What is recorded of a batch.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Allergens {
    pub contains: BTreeSet<Allergen>,
    /// Ingredients that may carry more than is recorded: their names, as typed.
    pub unknown: Vec<String>,
}

impl Kitchen {
    pub fn allergens(&self, batch: &Batch) -> Allergens {
        let mut found = Allergens::default();
        self.add_allergens(batch, &mut found, 0);
        if batch.lines.is_empty() {
            found.add(
                &Carried {
                    allergens: chart::of_words(&batch.name).allergens,
                    whole: false,
                },
                &batch.name,
            );
        }
        found
    }

    fn add_allergens(&self, batch: &Batch, found: &mut Allergens, depth: usize) {
        for line in &batch.lines {
            let source = line.source.and_then(|id| self.batches.get(&id));
            match source {
                Some(source) if depth < NESTING_MAX => {
                    self.add_allergens(source, found, depth + 1);
                    if source.lines.is_empty() {
                        found.add(&chart::of_words(&source.name), &source.name);
                    }
                }
                _ => {
                    let name = name_in_line(line);
                    found.add(&self.of_line(line, &name), &name);
                }
            }
        }
    }

    fn of_line(&self, line: &Line, name: &str) -> Carried {
        let profile = line.profile.and_then(|id| self.profiles.get(&id));
        let food = profile.and_then(|profile| foods::table().get(profile.food?));
        // What was named and not weighed has no profile, and is a food all the same.
        let named = || match foods::table().find(name) {
            Found::Taken(found) if profile.is_none() => foods::table().get(found.code),
            _ => None,
        };
        match food.or_else(named) {
            Some(food) => chart::of_food(food),
            None => chart::of_words(name),
        }
    }
}

impl Allergens {
    fn add(&mut self, carried: &Carried, name: &str) {
        self.contains.extend(&carried.allergens);
        if !carried.whole && !self.unknown.iter().any(|known| known == name) {
            self.unknown.push(name.to_owned());
        }
    }
}

/// What an ingredient was called, without its amount.
fn name_in_line(line: &Line) -> String {
    match crate::lang::ingredient_line(&line.text).content {
        LineContent::Ingredient { name, .. } if !name.text.is_empty() => name.text,
        _ => line.text.clone(),
    }
}
