//! What goes on another plate: "gave it to Ana", "the rice was mine", "the other 30 went on mine".

use super::role::{Roles, Who, of_member};
use super::{Reader, Standing, item};
use crate::domain::ids::MemberId;
use crate::domain::mass::Mass;
use crate::lang::syntax::{Amount, Chunk, Command, Cue, Fix, Of, Portion, Said, Term, Words};

impl Reader<'_, '_> {
    /// "100 of that ended up on Tom's plate"; "the dog got 40 of that" until the rest is told.
    pub fn give_part(&mut self, chunk: &Chunk, roles: &Roles, part: (Amount, Mass)) -> Option<()> {
        let receiver = roles.to.as_ref().or(roles.who.as_ref());
        let Some(who) = receiver.filter(|_| chunk.has(Cue::Given)) else {
            self.part = Some(part);
            return Some(());
        };
        if !chunk.stands_alone() {
            return None;
        }
        let from = roles.who.as_ref().filter(|_| roles.to.is_some());
        let at = match from {
            // "50 of mine went over to Robin"
            Some(from) => {
                let sender = self.draft.input.sender;
                self.one(&of_member(&roles.lines, &self.lines, from, sender))?
            }
            None if roles.told => self.one(&roles.lines)?,
            None => self.last()?,
        };
        let alike = |line: &&Standing| line.name == self.lines[at].name;
        if self.lines.iter().filter(alike).count() > 1 {
            let left = self.lines[at].portion.mass.mg() - part.1.mg();
            let member = who.member.filter(|_| left > 0)?;
            self.comes_to(at, Mass::from_mg(left));
            return self.beside(at, member, Amount::Mass(part.1.grams()));
        }
        let of = Of::Part(part.0, Some(self.lines[at].name.clone()));
        let who = who.words.clone();
        self.fix(Fix::Whose { who, of });
        Some(())
    }

    /// "Ana only took 250, the other 30 went on mine": what a line has lost is another plate of the same.
    pub fn over(&mut self, chunk: &Chunk, roles: &Roles) -> Option<()> {
        let (at, less) = self.lessened?;
        let (amount, mass) = roles.amount.clone()?;
        let member = roles.who.as_ref()?.member?;
        let given = chunk.has(Cue::Given) || chunk.has(Cue::Is);
        if !given || mass != less || roles.told || roles.name.is_some() || chunk.open_behind {
            return None;
        }
        self.lessened = None;
        self.beside(at, member, amount)
    }

    /// "that stew is for Robin actually": not "130 beans for Tom", which is a plate.
    pub fn is_for(&self, chunk: &Chunk, roles: &Roles) -> bool {
        let claimed = chunk.has(Cue::That) && self.remark.wrong;
        let new = roles.amount.is_some() || roles.name.is_some();
        let who = roles
            .who
            .as_ref()
            .is_some_and(|who| !who.owns && who.member.is_some());
        chunk.has(Cue::For) && who && roles.told && claimed && !new && !chunk.open_behind
    }

    /// "gave it to Ana"
    pub fn give(&mut self, chunk: &Chunk, roles: &Roles) -> Option<()> {
        let who = roles.to.clone().or(roles.who.clone())?;
        // "the apples went to Tom in the end": every word of it is explained.
        let explained = self.remark.wrong || chunk.has(Cue::Off) || !self.remark.talk;
        let meant = roles.told && explained || chunk.has(Cue::That);
        if chunk.open_behind || !meant || roles.name.is_some() || roles.amount.is_some() {
            return None;
        }
        self.hand_over(roles, &who)
    }

    /// "the rice was mine", "130 was Tom's", and behind such a chunk "dal hers"
    pub fn owner(&mut self, chunk: &Chunk, roles: &Roles, who: &Who, goes_on: bool) -> Option<()> {
        // "mine then, not Ana's"
        let other = |term: &Term| term.denied && matches!(term.said, Said::Whose(_));
        let denied = self
            .remark
            .chunks
            .iter()
            .flat_map(|chunk| &chunk.terms)
            .any(other);
        let that = chunk.has(Cue::That) || denied && chunk.stands_alone();
        let claimed = chunk.has(Cue::Is) || goes_on || denied;
        if !claimed || !chunk.stands_alone() || !(roles.told || that) {
            return Some(());
        }
        self.hand_over(roles, who)
    }

    pub fn hand_over(&mut self, roles: &Roles, who: &Who) -> Option<()> {
        let at = match roles.told {
            true => self.one(&roles.lines)?,
            false => self.last()?,
        };
        let line = &self.lines[at];
        let sender = self.draft.input.sender;
        self.moved = Some((at, who.member.unwrap_or(line.member)));
        let already = match who.member {
            Some(member) => line.member == member,
            None => line.member != sender,
        };
        if already {
            return Some(());
        }
        let member = who.member?;
        let twins = self
            .lines
            .iter()
            .filter(|other| other.name == line.name)
            .count();
        let of = match twins {
            1 => Of::Named(line.name.clone()),
            _ if self.last() == Some(at) => Of::Last,
            _ => return None,
        };
        let who = Words::plain(self.draft.kitchen.member(member)?.name.clone());
        self.fix(Fix::Whose { who, of });
        Some(())
    }

    /// "that was Ana's, mine was 170": another plate of the same.
    pub fn beside(&mut self, at: usize, member: MemberId, amount: Amount) -> Option<()> {
        let who = self.draft.kitchen.member(member)?.name.clone();
        let mut item = item(Mass::ZERO, self.lines[at].name.clone());
        item.amount = amount;
        self.commands.push(Command::Portion(Portion {
            items: vec![item],
            who: (member != self.draft.input.sender).then(|| Words::plain(who)),
            ..Portion::default()
        }));
        Some(())
    }
}
