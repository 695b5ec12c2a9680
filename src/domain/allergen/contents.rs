//! What a thing that is bought has in it, as its packet tells it. It goes by the name, so it holds of a packet, of an
//! ingredient that the table does not know and of what stands here as it was bought.

use super::super::kitchen::Kitchen;
use super::super::prep::books::PrepDetail;
use super::super::resolve::key;
use super::{Part, named_food, part_of};
use crate::domain::allergen::Allergen;

/// One thing that was told of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Contents {
    /// Its name, folded.
    pub key: String,
    /// Its name, as it was typed.
    pub words: String,
    /// What is in it, as it was typed.
    pub things: Vec<String>,
    /// Nothing else is in it.
    pub whole: bool,
}

impl Kitchen {
    /// All that was told of this name: a whole list stands in the place of what was told before it.
    pub fn contents(&self, name: &str) -> Option<Contents> {
        let key = key(name);
        let told = self
            .prep
            .told
            .iter()
            .filter_map(|(_, detail)| match detail {
                PrepDetail::Contents(contents) if contents.key == key => Some(contents),
                _ => None,
            });
        told.fold(None, |known: Option<Contents>, told| match known {
            Some(mut known) if !told.whole => {
                for thing in &told.things {
                    if !known.things.contains(thing) {
                        known.things.push(thing.clone());
                    }
                }
                Some(known)
            }
            _ => Some(told.clone()),
        })
    }

    /// A part, and what was told of what is in it: each under a name that says in what.
    pub(super) fn with_contents(&self, mut part: Part) -> Vec<Part> {
        let Some(told) = self.contents(&part.name) else {
            return vec![part];
        };
        let inner = told.things.iter().map(|thing| {
            let mut inner = part_of(named_food(thing), thing.clone());
            // What is told beside an open list adds to what is known, and so does an allergen by its name.
            inner.carried.whole |= !told.whole || !Allergen::of_term(thing).is_empty();
            inner.name = format!("{thing} in {}", part.name);
            inner
        });
        let inner: Vec<Part> = inner.collect();
        part.carried.whole |= told.whole;
        std::iter::once(part).chain(inner).collect()
    }
}
