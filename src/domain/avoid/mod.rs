//! What each person cannot have or leaves out, in whose words it was told, and which dish has it. Nothing found is not
//! nothing in it: what nobody can tell is named.

pub mod answer;
pub mod problem;
mod terms;

use super::allergen::Part;
use super::batch::Batch;
use super::ids::{MemberId, ProfileId};
use super::kitchen::Kitchen;
use super::personal::PersonalFact;
use super::resolve::key;
pub use terms::Means;

/// Told of one person: that they avoid something, or do so no more.
#[derive(Debug, Clone, PartialEq)]
pub struct Avoidance {
    /// As it was told: "peanuts".
    pub what: String,
    /// They cannot have it; otherwise they leave it out.
    pub cannot: bool,
    pub holds: bool,
}

impl Avoidance {
    pub fn key(&self) -> String {
        key(&self.what)
    }
}

/// What food has of it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Has {
    /// What it is in: names of ingredients, as typed.
    pub in_what: Vec<String>,
    /// Ingredients of which nobody can tell.
    pub unknown: Vec<String>,
}

/// Somebody at the table, and what food has of what they avoid.
#[derive(Debug, Clone, PartialEq)]
pub struct Avoided {
    pub of: MemberId,
    pub member: String,
    pub what: String,
    pub cannot: bool,
    pub has: Has,
}

impl Avoided {
    pub fn is_in(&self) -> bool {
        !self.has.in_what.is_empty()
    }
}

impl Kitchen {
    /// What a person avoids now, in the order in which it was told.
    pub fn avoids(&self, member: MemberId) -> Vec<Avoidance> {
        let told = self.personal.all(member, |fact| match fact {
            PersonalFact::Avoids(told) => Some(told.clone()),
            _ => None,
        });
        let mut standing: Vec<Avoidance> = Vec::new();
        for fact in told {
            standing.retain(|other| other.key() != fact.key());
            if fact.holds {
                standing.push(fact);
            }
        }
        standing
    }

    /// For everybody at the table: what of this batch they avoid, or may have to.
    pub fn avoided_in(&self, batch: &Batch) -> Vec<Avoided> {
        let members: Vec<MemberId> = self.members().iter().map(|member| member.id).collect();
        if members.iter().all(|id| self.avoids(*id).is_empty()) {
            return Vec::new();
        }
        let parts = self.parts(batch);
        let each = members.into_iter();
        each.flat_map(|of| self.avoided_of(of, &parts)).collect()
    }

    /// The same of one person.
    pub fn avoided_by(&self, of: MemberId, batch: &Batch) -> Vec<Avoided> {
        match self.avoids(of).is_empty() {
            true => Vec::new(),
            false => self.avoided_of(of, &self.parts(batch)),
        }
    }

    /// Of plain food, or of a packet.
    pub fn avoided_plainly(&self, of: MemberId, food: ProfileId) -> Vec<Avoided> {
        if self.avoids(of).is_empty() {
            return Vec::new();
        }
        let Some(profile) = self.profiles.get(&food) else {
            return Vec::new();
        };
        let name = profile.packet.as_deref().unwrap_or(&profile.description);
        self.avoided_of(of, &self.parts_of_profile(food, name))
    }

    fn avoided_of(&self, of: MemberId, parts: &[Part]) -> Vec<Avoided> {
        let Some(member) = self.member(of) else {
            return Vec::new();
        };
        let found = self.avoids(of).into_iter().map(|told| Avoided {
            of,
            member: member.name.clone(),
            has: has(&Means::of(&told.what, told.cannot), parts),
            what: told.what,
            cannot: told.cannot,
        });
        let says = |it: &Avoided| it.is_in() || it.cannot && !it.has.unknown.is_empty();
        found.filter(says).collect()
    }
}

/// What these parts have of it.
pub fn has(means: &Means, parts: &[Part]) -> Has {
    let mut has = Has::default();
    let mut note = |into: fn(&mut Has) -> &mut Vec<String>, name: &String| {
        let names = into(&mut has);
        if !names.contains(name) {
            names.push(name.clone());
        }
    };
    for part in parts {
        if means.is_in(part) {
            note(|has| &mut has.in_what, &part.name);
        } else if !part.carried.whole {
            note(|has| &mut has.unknown, &part.name);
        }
    }
    has
}
