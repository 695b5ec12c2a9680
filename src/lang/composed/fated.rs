//! Parts that nobody ate, and what food was weighed in.

use super::atom::{Atom, Fate};
use super::gather::{Gathering, Open, is_size};
use super::scene::{Owner, Told};
use crate::lang::command::share::party::Who;
use crate::lang::command::share::size::Size;
use crate::lang::syntax::Words;

impl Gathering {
    /// A fate takes the amount of its clause, or the next one.
    pub fn fate(&mut self, fate: Fate, after: &[Atom]) -> Option<()> {
        let within = after
            .iter()
            .take_while(|atom| !matches!(atom, Atom::Break { .. }));
        let follows = within.clone().any(is_size);
        // "I left 60": whose it was.
        if follows && let Some(Owner::People(who)) = self.pending.take() {
            self.flush()?;
            if self.now.party.is_none() {
                self.joins(who)?;
            }
            self.pending = Some(Owner::Fate(fate));
            self.left_by = fate != Fate::Away;
            return Some(());
        }
        let here = |open: &mut Open| open.item.is_none() || open.clause == self.clause;
        if let Some(open) = self.open.take_if(here) {
            self.tell(Owner::Fate(fate), open);
            self.pending = None;
            return Some(());
        }
        let clause = self.clause;
        if let Some(told) = self.now.told.last_mut().filter(|_| !follows) {
            let of_it = matches!(told.owner, Owner::Fate(_)) || told.clause == clause;
            if of_it {
                told.owner = Owner::Fate(fate);
                return Some(());
            }
        }
        self.flush()?;
        if follows {
            self.pending = Some(Owner::Fate(fate));
        }
        Some(())
    }

    /// "all but 45": all of it is somebody's, and what comes next is nobody's.
    pub fn all_but(&mut self) -> Option<()> {
        let finished = |told: &Told| told.size == Size::Rest;
        if !self.now.told.last().is_some_and(finished) {
            self.flush()?;
            self.pending.get_or_insert(Owner::People(Who::sender()));
            self.size(self.rest())?;
        }
        self.but = true;
        Some(())
    }

    /// What is weighed in the same clause was weighed in it.
    pub fn stood_in(&mut self, name: &Words) -> Option<()> {
        let clause = self.clause;
        let open = self
            .open
            .as_mut()
            .filter(|open| open.clause == clause && !open.net);
        let told = self
            .now
            .told
            .last_mut()
            .filter(|told| told.clause == clause);
        let held = match (open, told) {
            (Some(open), _) => &mut open.container,
            (None, Some(told)) => &mut told.container,
            (None, None) => &mut self.now.vessel,
        };
        match held.replace(name.clone()) {
            Some(other) => (other == *name).then_some(()),
            None => Some(()),
        }
    }
}
