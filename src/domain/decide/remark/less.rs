//! So much less of what stands: "60 of it went back", "mine was 30 less soup than I said", "take 45 off that".

use super::Reader;
use super::role::{Roles, Who, of_member};
use crate::domain::mass::Mass;
use crate::lang::syntax::{Amount, Chunk, Cue, Figure, Fix, Line, Words};

impl Reader<'_, '_> {
    /// The line that is meant comes to so much less; to nothing, if that is all of it.
    pub fn lessen(&mut self, chunk: &Chunk, roles: &Roles, less: Mass) -> Option<()> {
        // "Robin only wants 100 of that, 30 back in the box" says it twice.
        if self.lessened.is_some_and(|(_, told)| told == less) {
            self.lessened = None;
            return Some(());
        }
        if chunk.open_behind
            || roles.name.is_some()
            || roles.amount.is_some()
            || roles.when_else(chunk)
        {
            return None;
        }
        let at = self.lessened_line(chunk, roles)?;
        let left = self.lines[at].portion.mass.mg() - less.mg();
        (left >= 0).then(|| self.comes_to(at, Mass::from_mg(left)))
    }

    /// "the rice went back", and "all of it back in the pot" of what was named before.
    pub fn put_back(&mut self, chunk: &Chunk, roles: &Roles) -> Option<()> {
        let all = chunk.has(Cue::All);
        let meant = roles.told || all && self.about.is_some();
        // "it's back in the pot" only says why something is taken off.
        if !meant || !chunk.stands_alone() || roles.amount.is_some() || roles.name.is_some() {
            return Some(());
        }
        let at = self.lessened_line(chunk, roles)?;
        self.about = None;
        self.comes_to(at, Mass::ZERO);
        Some(())
    }

    /// What is named, whose it is said to be, or else what was booked last: of several people's lines the sender's own.
    fn lessened_line(&self, chunk: &Chunk, roles: &Roles) -> Option<usize> {
        let sender = self.draft.input.sender;
        let owner = roles.who.as_ref().or(self.whose.as_ref());
        let mut lines = roles.lines.clone();
        // "until minus 10" is of the frost.
        if let Some(about) = self.about.filter(|_| !roles.told) {
            let plain = self.remark.wrong || chunk.has(Cue::Back) || !self.remark.talk;
            (chunk.stands_alone() && plain).then_some(())?;
            let alike = |at: &usize| self.lines[*at].name == self.lines[about].name;
            lines = (0..self.lines.len()).filter(alike).collect();
        } else if !roles.told {
            let blind = owner.is_none() && !chunk.has(Cue::That) && !chunk.has(Cue::Back);
            let alone = chunk.stands_alone() || chunk.has(Cue::That);
            if blind && !self.remark.wrong || !alone {
                return None;
            }
            lines.retain(|&at| self.lines[at].age == 0 || owner.is_some());
        }
        if let Some(who) = owner {
            lines = of_member(&lines, &self.lines, who, sender);
        } else if lines.len() > 1 {
            let own = |at: &usize| self.lines[*at].member == sender;
            lines.retain(own);
        }
        self.one(&lines)
    }

    /// This line comes to so much.
    pub fn comes_to(&mut self, at: usize, mass: Mass) {
        let line = &self.lines[at];
        let alike = |other: &&super::Standing| other.name == line.name;
        let twins = self.lines.iter().filter(alike).count() > 1;
        let owner = self.draft.kitchen.member(line.member).filter(|_| twins);
        let line = Line {
            old: Some(Amount::Mass(line.portion.mass.grams())),
            name: Some(line.name.clone()),
            owner: owner.map(|owner| Words::plain(owner.name.clone())),
            ..Line::default()
        };
        self.settle(at);
        self.fix(match mass.is_zero() {
            true => Fix::Remove(line),
            false => Fix::Amount {
                new: Figure::Is(Amount::Mass(mass.grams())),
                line,
            },
        });
    }
}

impl Roles {
    /// It tells of another time, and not of Sunday's pot.
    fn when_else(&self, chunk: &Chunk) -> bool {
        self.when.is_some() && !chunk.has(Cue::Back)
    }
}

/// Whose it is that a chunk tells of before another says how much less it is: "Ana says hers is too much".
pub fn told_of(roles: &Roles) -> Option<Who> {
    let bare = roles.amount.is_none() && roles.name.is_none() && !roles.told;
    roles
        .who
        .clone()
        .filter(|who| bare && who.owns && who.member.is_some())
}
