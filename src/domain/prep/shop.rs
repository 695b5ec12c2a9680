//! The shopping list as it stands: a fold over what was put on it, ticked and taken off. A thing that is put on twice is
//! one line; what is put on again after it was ticked is wanted anew.

use chrono::{DateTime, NaiveDate, Utc};

use super::goods::{Good, Goods};
use super::list::{Shelves, ToBuy, bought, compare, total};
use crate::domain::batch::Money;
use crate::domain::ids::{EntryId, MemberId};
use crate::domain::ledger::Entry;
use crate::domain::mass::Mass;

/// More lines nobody reads in a shop, and no chat has so many buttons.
pub const LINES_MAX: usize = 60;

/// Something that is said of a list; a list is known by the entry that began it.
#[derive(Debug, Clone, PartialEq)]
pub struct ListFact {
    pub list: EntryId,
    pub told: ListTold,
}

#[derive(Debug, Clone, PartialEq)]
pub enum ListTold {
    Begun,
    Wanted(Want),
    Ticked(Good),
    /// It holds what the plan for these days needs.
    Planned {
        from: NaiveDate,
        until: NaiveDate,
    },
    /// Whatever is left on it, nobody goes by it any more.
    Closed,
}

/// Something to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct Want {
    pub good: Good,
    /// As it is bought.
    pub mass: Option<Mass>,
    /// How much, where that is no mass: "2 tins".
    pub said: Option<String>,
    /// The plan asks for it, and nobody has put it there by hand.
    pub planned: bool,
}

/// The same in the books.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptFact {
    pub entry: EntryId,
    pub tip: EntryId,
    pub told_at: DateTime<Utc>,
    pub member: MemberId,
    pub fact: ListFact,
}

/// What was said of the newest list, oldest first, and how the shop was walked with those before it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ShopBooks {
    pub kept: Vec<KeptFact>,
    /// What was ticked of earlier lists, in order: the oldest list first. Only where the message is about lists.
    pub walks: Vec<Vec<String>>,
}

/// A list as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct ShoppingList {
    pub id: EntryId,
    /// The days of the plan that is on it.
    pub days: Option<(NaiveDate, NaiveDate)>,
    pub closed: bool,
    pub lines: Vec<ListLine>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct ListLine {
    pub good: Good,
    /// All that put it there and is not bought yet, or was bought last.
    pub wants: Vec<KeptFact>,
    pub tick: Option<KeptFact>,
}

impl ListLine {
    /// What a button names it by.
    pub fn id(&self) -> EntryId {
        self.wants[0].entry
    }

    fn wanted(&self) -> impl Iterator<Item = &Want> {
        self.wants.iter().filter_map(|kept| match &kept.fact.told {
            ListTold::Wanted(want) => Some(want),
            _ => None,
        })
    }

    /// What the plan put there.
    pub fn planned(&self) -> impl Iterator<Item = &KeptFact> {
        let wants = self.wants.iter();
        wants.filter(|kept| matches!(&kept.fact.told, ListTold::Wanted(want) if want.planned))
    }

    /// How much of it is bought; `None`: nobody said.
    pub fn buys(&self, goods: &Goods) -> Option<Mass> {
        bought(self.good.clone(), self.need(), self.is_planned(), goods).buy
    }

    /// Only the plan put it there.
    pub fn is_planned(&self) -> bool {
        self.wanted().all(|want| want.planned)
    }

    fn need(&self) -> Option<Mass> {
        let masses: Vec<Mass> = self.wanted().filter_map(|want| want.mass).collect();
        (!masses.is_empty()).then(|| masses.into_iter().sum())
    }

    fn said(&self) -> Vec<String> {
        self.wanted().filter_map(|want| want.said.clone()).collect()
    }
}

impl ShoppingList {
    /// Something is on it that nobody has bought.
    pub fn is_open(&self) -> bool {
        let unticked = self.lines.iter().any(|line| line.tick.is_none());
        !self.closed && (unticked || self.lines.is_empty())
    }

    pub fn unticked(&self) -> impl Iterator<Item = &ListLine> {
        self.lines.iter().filter(|line| line.tick.is_none())
    }

    pub fn ticked(&self) -> impl Iterator<Item = &ListLine> {
        self.lines.iter().filter(|line| line.tick.is_some())
    }

    /// The line that an entry put there, or is a part of.
    pub fn line(&self, entry: EntryId) -> Option<&ListLine> {
        let holds = |line: &&ListLine| line.wants.iter().any(|kept| kept.entry == entry);
        self.lines.iter().find(holds)
    }
}

impl ShopBooks {
    pub fn remember(&mut self, id: EntryId, entry: &Entry, fact: ListFact) {
        self.kept.push(KeptFact {
            entry: id,
            tip: entry.id,
            told_at: entry.occurred_at,
            member: entry.member,
            fact,
        });
        self.kept.sort_by_key(|kept| kept.entry);
    }

    pub fn forget(&mut self, id: EntryId) {
        self.kept.retain(|kept| kept.entry != id);
    }

    /// The list that was begun last.
    pub fn newest(&self) -> Option<ShoppingList> {
        let begun = |kept: &&KeptFact| kept.fact.told == ListTold::Begun;
        let id = self.kept.iter().rev().find(begun)?.entry;
        let mut list = ShoppingList {
            id,
            days: None,
            closed: false,
            lines: Vec::new(),
        };
        for kept in self.kept.iter().filter(|kept| kept.fact.list == id) {
            list.take_in(kept);
        }
        Some(list)
    }

    /// The same, as long as there is something to buy.
    pub fn open(&self) -> Option<ShoppingList> {
        self.newest().filter(ShoppingList::is_open)
    }

    /// Where things stand in the shop.
    pub fn shelves(&self) -> Shelves {
        let mut shelves = Shelves::default();
        for walk in &self.walks {
            shelves.walked(walk);
        }
        shelves
    }
}

impl ShoppingList {
    fn take_in(&mut self, kept: &KeptFact) {
        match &kept.fact.told {
            ListTold::Begun => {}
            ListTold::Planned { from, until } => self.days = Some((*from, *until)),
            ListTold::Closed => self.closed = true,
            ListTold::Ticked(good) => {
                let known = self.lines.iter_mut().find(|line| line.good.is(good));
                if let Some(line) = known {
                    line.tick = Some(kept.clone());
                }
            }
            ListTold::Wanted(want) => {
                let known = self.lines.iter_mut().find(|line| line.good.is(&want.good));
                match known {
                    Some(line) => {
                        // What is bought already is not bought for this.
                        if line.tick.take().is_some() {
                            line.wants.clear();
                        }
                        line.wants.push(kept.clone());
                        line.good.words.clone_from(&want.good.words);
                    }
                    None => self.lines.push(ListLine {
                        good: want.good.clone(),
                        wants: vec![kept.clone()],
                        tick: None,
                    }),
                }
            }
        }
    }

    /// As it is shown, in the order of the shop.
    pub fn view(
        &self,
        goods: &Goods,
        shelves: &Shelves,
        name: impl Fn(MemberId) -> String,
    ) -> ShoppingView {
        let line = |line: &ListLine| ListLineView {
            id: line.id(),
            buy: bought(line.good.clone(), line.need(), line.is_planned(), goods),
            said: line.said(),
            ticked_by: line.tick.as_ref().map(|kept| name(kept.member)),
        };
        let mut lines: Vec<ListLineView> = self.lines.iter().map(line).collect();
        lines.sort_by(|one, other| compare(shelves, &one.buy.good, &other.buy.good));
        ShoppingView::of(self.id, self.days, lines)
    }
}

impl ShoppingView {
    pub fn of(
        list: EntryId,
        days: Option<(NaiveDate, NaiveDate)>,
        lines: Vec<ListLineView>,
    ) -> Self {
        let costs = lines.iter().filter_map(|line| line.buy.cost.as_ref());
        Self {
            list,
            days,
            total: total(costs),
            unpriced: lines.iter().filter(|line| line.buy.cost.is_none()).count(),
            lines,
        }
    }
}

#[derive(Debug, Clone, PartialEq)]
pub struct ShoppingView {
    pub list: EntryId,
    pub days: Option<(NaiveDate, NaiveDate)>,
    pub lines: Vec<ListLineView>,
    /// What all of it costs, by currency, as far as that is known.
    pub total: Vec<Money>,
    /// So many lines have no price.
    pub unpriced: usize,
}

#[derive(Debug, Clone, PartialEq)]
pub struct ListLineView {
    pub id: EntryId,
    pub buy: ToBuy,
    /// How much, where that was told in no mass.
    pub said: Vec<String>,
    pub ticked_by: Option<String>,
}

#[cfg(test)]
#[path = "shop_tests.rs"]
mod tests;
