//! People among the atoms: whose the amounts around them are, who was at the table, who handed something on.

use super::atom::Atom;
use super::gather::{Gathering, by_turns, is_size};
use super::scene::Owner;
use crate::lang::command::share::party::{Role, Said, Who};
use crate::lang::command::share::size::Size;
use crate::lang::syntax::Amount;

impl Gathering {
    pub fn who(&mut self, said: &Said, after: &[Atom]) -> Option<()> {
        if std::mem::take(&mut self.none) {
            self.now.none.push(said.who.clone());
            return (said.role == Role::For).then_some(());
        }
        // "We finished it. 650 g of parsnips: ..."
        if said.finishes && matches!(said.who, Who::Everyone | Who::Count(_)) {
            return self.joins(said.who.clone());
        }
        let follows = after.iter().find(|atom| {
            !matches!(
                atom,
                Atom::Talk | Atom::When(..) | Atom::Eats | Atom::Dish { .. }
            )
        });
        let led = follows.is_some_and(is_size) || said.finishes;
        let apart = self
            .open
            .as_ref()
            .is_some_and(|open| open.clause != self.clause);
        let takes = match said.role {
            Role::For | Role::Between | Role::With => !(apart && led),
            Role::Plain => (!led || by_turns(after)) && !apart,
            Role::Subject => !led && !apart,
            Role::Given => false,
        };
        if takes && self.open.is_some() {
            return self.belongs(said);
        }
        if said.role == Role::Given {
            if let Some(Owner::People(who)) = &self.pending
                && *who != said.who
            {
                self.giver = who.one().cloned();
            }
        } else if takes && said.role == Role::For && self.handed_on(said).is_some() {
            return Some(());
        }
        match &said.who {
            who @ (Who::Count(_) | Who::Everyone) if !led || said.role != Role::Subject => {
                self.joins(who.clone())?;
                return Some(());
            }
            _ => {}
        }
        self.flush()?;
        if let Some(Owner::People(who)) = self.pending.replace(Owner::People(said.who.clone())) {
            self.now.idle.push(who);
        }
        self.subject = Some(said.who.clone());
        if said.finishes {
            self.size(self.rest())?;
        }
        Some(())
    }

    /// Those at the table.
    pub fn joins(&mut self, who: Who) -> Option<()> {
        self.now.party = match self.now.party.take() {
            Some(known) if known == who => Some(known),
            Some(known) if who == Who::Everyone => Some(known),
            Some(known) => Some(known.and(who)?),
            None => Some(who),
        };
        Some(())
    }

    /// The amount before is theirs.
    fn belongs(&mut self, said: &Said) -> Option<()> {
        let open = self.open.take()?;
        let several = said.who.one().is_none() && !matches!(said.who, Who::Others(_));
        let between = matches!(said.role, Role::Between | Role::With);
        let whole = open.item.is_some() && self.now.told.is_empty() && self.now.whole.is_none();
        if whole && (several || between) {
            self.whole(open)?;
            let who = match (&said.who, said.role) {
                (Who::Named(named), Role::With) if !named.contains(&None) => {
                    Who::Named(std::iter::once(None).chain(named.iter().cloned()).collect())
                }
                (who, _) => who.clone(),
            };
            return self.joins(who);
        }
        self.subject = Some(said.who.clone());
        if let Some(Owner::People(who)) = self.pending.take() {
            self.now.idle.push(who);
        }
        self.tell(Owner::People(said.who.clone()), open);
        Some(())
    }

    /// "tipped 50 of hers into mine"
    fn handed_on(&mut self, said: &Said) -> Option<()> {
        let last = self.now.told.last()?;
        let Owner::People(from) = &last.owner else {
            return None;
        };
        let (from, to) = (from.one()?.clone(), said.who.one()?.clone());
        let Size::Amount(Amount::Bare(grams) | Amount::Mass(grams)) = last.size else {
            return None;
        };
        if last.clause != self.clause || last.of.as_ref() != Some(&from) || from == to {
            return None;
        }
        self.now.given.push((from, to, grams));
        self.now.told.pop();
        Some(())
    }
}
