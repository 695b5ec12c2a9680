//! What each person has chosen for themselves, and was told of them: targets, whether numbers are told, and where, names,
//! and whether they are at the table (`table.rs`). Facts, of which the newest of a kind holds.

pub mod answer;
pub mod problem;
pub mod target;

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use super::avoid::Avoidance;
use super::ids::{EntryId, MemberId};
use super::kitchen::Kitchen;
use super::ledger::Entry;
use crate::lang::syntax::Aimed;
use target::Target;

/// One choice of a person.
#[derive(Debug, Clone, PartialEq)]
pub enum PersonalFact {
    /// `None` of either: no such bound; of both: no target.
    Target(Target),
    /// Whether energy and nutrients are told of what this person eats.
    Numbers(bool),
    /// Whether their totals are only told in their own chat with the bot.
    Private(bool),
    /// What they are called from here on.
    Name(String),
    /// What they are called as well; these add up.
    Nickname(String),
    /// They keep the household from here on.
    Keeper,
    /// They came to the table, or left it.
    Here(bool),
    /// They were taken off it.
    Removed,
    /// What they cannot have or leave out; these add up.
    Avoids(Avoidance),
}

/// All that people have chosen and that stands, oldest first.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PersonalBooks {
    pub told: Vec<(EntryId, MemberId, PersonalFact)>,
    /// By its first entry: what a nickname is taken back with.
    pub chains: BTreeMap<EntryId, Chain>,
}

/// The last entry of what was said, taken back and put back, and when it was said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chain {
    pub tip: EntryId,
    pub told_at: DateTime<Utc>,
}

impl PersonalBooks {
    pub(super) fn remember(
        &mut self,
        id: EntryId,
        entry: &Entry,
        member: MemberId,
        fact: PersonalFact,
    ) {
        if matches!(fact, PersonalFact::Nickname(_)) {
            let (tip, told_at) = (entry.id, entry.occurred_at);
            self.chains.insert(id, Chain { tip, told_at });
        }
        self.told.push((id, member, fact));
        self.told.sort_by_key(|(entry, ..)| *entry);
    }

    /// The nicknames of somebody that stand, with what each is taken back with.
    pub(super) fn nicknames(&self, of: MemberId) -> Vec<(EntryId, Chain, String)> {
        let own = self.told.iter().filter(|(_, member, _)| *member == of);
        let each = own.filter_map(|(entry, _, fact)| match fact {
            PersonalFact::Nickname(name) => Some((*entry, *self.chains.get(entry)?, name.clone())),
            _ => None,
        });
        each.collect()
    }

    /// Whether there was any.
    pub(super) fn forget(&mut self, id: EntryId) -> bool {
        let before = self.told.len();
        self.chains.remove(&id);
        self.told.retain(|(entry, ..)| *entry != id);
        self.told.len() != before
    }

    /// What a person chose last, by whatever picks it.
    pub(super) fn last<T>(
        &self,
        of: MemberId,
        pick: impl Fn(&PersonalFact) -> Option<T>,
    ) -> Option<T> {
        self.told_of(of).rev().find_map(pick)
    }

    /// All that stands of a kind, oldest first.
    pub(super) fn all<T>(&self, of: MemberId, pick: impl Fn(&PersonalFact) -> Option<T>) -> Vec<T> {
        self.told_of(of).filter_map(pick).collect()
    }

    /// Of whom it was told, newest first.
    pub(super) fn latest(&self, such: impl Fn(&PersonalFact) -> bool) -> Vec<MemberId> {
        let told = self.told.iter().rev();
        let such = told.filter(|(_, _, fact)| such(fact));
        such.map(|(_, member, _)| *member).collect()
    }

    fn told_of(&self, of: MemberId) -> impl DoubleEndedIterator<Item = &PersonalFact> {
        let own = self.told.iter().filter(move |(_, member, _)| *member == of);
        own.map(|(_, _, fact)| fact)
    }
}

impl Kitchen {
    /// Whether this person is told numbers.
    pub fn tells_numbers(&self, member: MemberId) -> bool {
        let chosen = self.personal.last(member, |fact| match fact {
            PersonalFact::Numbers(told) => Some(*told),
            _ => None,
        });
        chosen.unwrap_or(true)
    }

    /// Whether this person's totals are for their own chat alone.
    pub fn keeps_private(&self, member: MemberId) -> bool {
        let chosen = self.personal.last(member, |fact| match fact {
            PersonalFact::Private(private) => Some(*private),
            _ => None,
        });
        chosen.unwrap_or(false)
    }

    /// The targets of a person, in the order in which answers tell them.
    pub fn targets(&self, member: MemberId) -> Vec<Target> {
        let of = |of: Aimed| {
            let told = self.personal.last(member, |fact| match fact {
                PersonalFact::Target(target) if target.of == of => Some(*target),
                _ => None,
            });
            told.filter(Target::is_set)
        };
        Aimed::ALL.into_iter().filter_map(of).collect()
    }
}
