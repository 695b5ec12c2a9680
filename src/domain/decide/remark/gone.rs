//! Lines that are told to be gone: "delete the salsa one", "the bread was never eaten".

use super::role::{Roles, Who};
use super::standing::{has_eaten, is_fresh};
use super::{Reader, item};
use crate::lang::syntax::{Chunk, Command, Cue, Fix, Line, Words};

impl Reader<'_, '_> {
    /// "delete the salsa one", "the bread was never eaten", "scratch that, it's back in the pot"
    pub fn remove(&mut self, chunk: &Chunk, roles: &Roles) -> Option<()> {
        let new = roles.amount.is_some() || roles.name.is_some();
        if let Some(who) = roles
            .who
            .as_ref()
            .filter(|who| who.owns && chunk.stands_alone())
            && let Some(line) = self.of_another(roles, who)
        {
            self.fix(Fix::Remove(line));
            return Some(());
        }
        // "half of it was never eaten"
        let part = !chunk.has(Cue::Off) && chunk.open_before;
        if new || part || chunk.open_behind {
            return None;
        }
        let mut lines = roles.lines.clone();
        if let Some(member) = roles.who.as_ref().and_then(|who| who.member) {
            lines.retain(|&at| self.lines[at].member == member);
        }
        let owned = roles.who.as_ref().is_some_and(|who| who.owns);
        // "and the salsa, take that off too"
        if !roles.told
            && chunk.has(Cue::That)
            && let Some(about) = self.about.take()
        {
            lines = vec![about];
        } else if !roles.told && !owned {
            // "wait, no chairs, take those out" is of something else.
            let wrong = self.remark.wrong && !self.remark.talk;
            let meant = self.remark.reasoned || wrong || chunk.has(Cue::Erased);
            let last = |at: &usize| self.lines[*at].age == 0;
            // "remove Kim" is of a person where nothing of theirs stands.
            let nothing = self.lines.is_empty() && roles.who.is_none();
            let stands =
                lines.iter().any(last) || nothing && chunk.has(Cue::Erased) && is_fresh(self.draft);
            // "that was the pan, undo"
            let that = chunk.has(Cue::That) || chunk.has(Cue::Erased) && chunk.stands_alone();
            let whole = that && meant && stands;
            let both = chunk.has(Cue::All) && chunk.stands_alone();
            return match both && lines.iter().filter(|at| last(at)).count() == 1 {
                // "remove both", of two messages
                true => self.both(),
                false => (whole || both).then(|| self.commands.push(Command::Undo)),
            };
        }
        let at = self.one(&lines)?;
        let line = &self.lines[at];
        let twins = self
            .lines
            .iter()
            .filter(|other| other.name == line.name)
            .count();
        let fix = match twins {
            1 => Fix::Remove(Line::named(line.name.clone())),
            // Only this one of them.
            _ => Fix::PutBack(vec![item(line.portion.mass, line.name.clone())]),
        };
        self.settle(at);
        self.fix(fix);
        Some(())
    }

    /// The line that was booked last and the one before.
    fn both(&mut self) -> Option<()> {
        let of = |age: usize| self.lines.iter().filter(move |line| line.age == age);
        let (last, before) = (of(0), of(1));
        let names: Vec<Words> = last.chain(before).map(|line| line.name.clone()).collect();
        (names.len() == 2).then(|| {
            names
                .into_iter()
                .for_each(|name| self.fix(Fix::Remove(Line::named(name))))
        })
    }

    /// "undo Ana's", of what she has booked herself just now.
    fn of_another(&self, roles: &Roles, who: &Who) -> Option<Line> {
        let member = who.member?;
        let own = self.lines.iter().any(|line| line.member == member);
        if own || roles.told || roles.amount.is_some() || !has_eaten(self.draft, member) {
            return None;
        }
        let owner = self.draft.kitchen.member(member)?.name.clone();
        Some(Line {
            name: roles.name.clone(),
            owner: Some(Words::plain(owner)),
            ..Line::default()
        })
    }
}
