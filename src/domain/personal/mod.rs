//! What each person has chosen for themselves: targets, whether numbers are told, and where. Facts, of which the newest
//! of a kind holds.

pub mod answer;
pub mod problem;
pub mod target;

use super::ids::{EntryId, MemberId};
use super::kitchen::Kitchen;
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
}

/// All that people have chosen and that stands, oldest first.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PersonalBooks {
    pub told: Vec<(EntryId, MemberId, PersonalFact)>,
}

impl PersonalBooks {
    pub(super) fn remember(&mut self, id: EntryId, member: MemberId, fact: PersonalFact) {
        self.told.push((id, member, fact));
        self.told.sort_by_key(|(entry, ..)| *entry);
    }

    pub(super) fn forget(&mut self, id: EntryId) {
        self.told.retain(|(entry, ..)| *entry != id);
    }

    /// What a person chose last, by whatever picks it.
    fn last<T>(&self, of: MemberId, pick: impl Fn(&PersonalFact) -> Option<T>) -> Option<T> {
        let own = self
            .told
            .iter()
            .rev()
            .filter(|(_, member, _)| *member == of);
        own.map(|(_, _, fact)| fact).find_map(pick)
    }
}

impl Kitchen {
    /// Whether this person keeps the household. Where nobody was let in by a code, it is whoever wrote first.
    pub fn keeps(&self, member: MemberId) -> bool {
        let keeper = self.members.iter().find(|it| it.keeper);
        let first = || self.members.iter().find(|it| it.chats);
        keeper.or_else(first).is_some_and(|it| it.id == member)
    }

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
