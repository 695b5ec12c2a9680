//! What a batch may set off in somebody: the union of what went into it, batches inside batches too. What
//! nobody can tell is named. "None recorded" is not "none present".

pub mod chart;
pub mod contents;

use std::collections::BTreeSet;

use super::batch::{Batch, Line};
use super::ids::ProfileId;
use super::kitchen::Kitchen;
use crate::foods::{self, Food, Found};
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

/// One thing that went into a batch, or into one that went into it.
pub struct Part {
    /// As typed, without its amount.
    pub name: String,
    pub food: Option<&'static Food>,
    pub carried: Carried,
}

impl Kitchen {
    pub fn allergens(&self, batch: &Batch) -> Allergens {
        let mut found = Allergens::default();
        for part in self.parts(batch) {
            found.contains.extend(&part.carried.allergens);
            if !part.carried.whole && !found.unknown.contains(&part.name) {
                found.unknown.push(part.name);
            }
        }
        found
    }

    /// All that went into a batch, at any depth; of what nobody has told what is in it, its name.
    pub fn parts(&self, batch: &Batch) -> Vec<Part> {
        let mut parts = Vec::new();
        self.add_parts(batch, &mut parts, 0);
        parts
    }

    fn add_parts(&self, batch: &Batch, parts: &mut Vec<Part>, depth: usize) {
        if batch.lines.is_empty() {
            parts.extend(self.with_contents(part_of(None, batch.name.clone())));
        }
        for line in &batch.lines {
            let source = line.source.and_then(|id| self.batches.get(&id));
            match source {
                Some(source) if depth < NESTING_MAX => self.add_parts(source, parts, depth + 1),
                _ => parts.extend(self.parts_of_line(line)),
            }
        }
    }

    fn parts_of_line(&self, line: &Line) -> Vec<Part> {
        let name = name_in_line(line);
        // What was named and not weighed has no profile, and is a food all the same.
        match line.profile {
            Some(profile) => self.parts_of_profile(profile, &name),
            None => self.with_contents(part_of(named_food(&name), name)),
        }
    }

    /// What goes by a name, and what was told to be in it.
    pub fn parts_named(&self, name: &str) -> Vec<Part> {
        self.with_contents(part_of(named_food(name), name.to_owned()))
    }

    /// A plain food, or a packet and what was told to be in it.
    pub fn parts_of_profile(&self, id: ProfileId, name: &str) -> Vec<Part> {
        let profile = self.profiles.get(&id);
        let food = profile.and_then(|profile| foods::table().get(profile.food?));
        let packet = profile.and_then(|profile| profile.packet.as_deref());
        self.with_contents(part_of(food, packet.unwrap_or(name).to_owned()))
    }
}

fn part_of(food: Option<&'static Food>, name: String) -> Part {
    let carried = match food {
        Some(food) => chart::of_food(food),
        None => chart::of_words(&name),
    };
    Part {
        name,
        food,
        carried,
    }
}

fn named_food(name: &str) -> Option<&'static Food> {
    match foods::table().find(name) {
        Found::Taken(found) => foods::table().get(found.code),
        _ => None,
    }
}

/// What an ingredient was called, without its amount.
fn name_in_line(line: &Line) -> String {
    match crate::lang::ingredient_line(&line.text).content {
        LineContent::Ingredient { name, .. } if !name.text.is_empty() => name.text,
        _ => line.text.clone(),
    }
}
