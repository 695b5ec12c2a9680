//! What the books keep for cooking ahead: facts, each of an entry of its own, of which the newest holds.

use super::goods::{Good, GoodFact, Goods};
use super::sheet::DishStep;
use super::shop::{ListFact, ShopBooks};
use super::wish::{KeptWish, Wish};
use crate::domain::allergen::contents::Contents;
use crate::domain::ids::{ComponentId, EntryId};
use crate::domain::ledger::Entry;
use crate::domain::mass::Mass;

pub use crate::lang::syntax::Limit;

/// A fact of cooking ahead.
#[derive(Debug, Clone, PartialEq)]
pub enum PrepDetail {
    Good(Good, GoodFact),
    /// So much of a dish is kept ready; `None`: no more than is eaten.
    Par {
        dish: ComponentId,
        mass: Option<Mass>,
    },
    /// What a pot holds, cooked; no dish: any.
    PotHolds {
        dish: Option<ComponentId>,
        mass: Mass,
    },
    /// `None`: there is no limit any more.
    Limit {
        what: Limit,
        count: Option<u32>,
    },
    List(ListFact),
    Wish(Wish),
    /// The steps of a dish as they were last told; none: it has none from here on.
    Steps {
        dish: ComponentId,
        steps: Vec<DishStep>,
    },
    /// What is in a thing that is bought.
    Contents(Contents),
}

#[derive(Debug, Clone, Default, PartialEq)]
pub struct PrepBooks {
    pub goods: Goods,
    pub shop: ShopBooks,
    /// What is wished for, oldest first.
    pub wishes: Vec<KeptWish>,
    /// Whatever else was told and stands, oldest first.
    pub told: Vec<(EntryId, PrepDetail)>,
}

impl PrepBooks {
    /// `id` is the entry that first said it, `entry` the one by which it counts.
    pub fn remember(&mut self, id: EntryId, entry: &Entry, detail: PrepDetail) {
        match detail {
            PrepDetail::List(fact) => self.shop.remember(id, entry, fact),
            PrepDetail::Wish(wish) => {
                self.wishes.push(KeptWish {
                    entry: id,
                    tip: entry.id,
                    told_at: entry.occurred_at,
                    wish,
                });
                self.wishes.sort_by_key(|kept| kept.entry);
            }
            other => self.tell(id, other),
        }
    }

    /// What needs no more than the entry that first said it.
    pub fn tell(&mut self, id: EntryId, detail: PrepDetail) {
        match detail {
            PrepDetail::Good(good, fact) => self.goods.remember(id, good, fact),
            other => {
                self.told.push((id, other));
                self.told.sort_by_key(|(entry, _)| *entry);
            }
        }
    }

    pub fn forget(&mut self, entry: EntryId) {
        self.goods.forget(entry);
        self.shop.forget(entry);
        self.wishes.retain(|kept| kept.entry != entry);
        self.told.retain(|(known, _)| *known != entry);
    }

    /// What was told last of something, by whatever picks it.
    fn last<T>(&self, pick: impl Fn(&PrepDetail) -> Option<T>) -> Option<T> {
        self.told.iter().rev().find_map(|(_, detail)| pick(detail))
    }

    /// So much of it is to be there whenever one cooks.
    pub fn par(&self, of: ComponentId) -> Option<Mass> {
        self.last(|detail| match detail {
            PrepDetail::Par { dish, mass } if *dish == of => Some(*mass),
            _ => None,
        })
        .flatten()
    }

    /// The dishes of which something is to be there whenever one cooks.
    pub fn kept_ready(&self) -> impl Iterator<Item = ComponentId> {
        let told = self.told.iter();
        let dishes = told.filter_map(|(_, detail)| match detail {
            PrepDetail::Par { dish, .. } => Some(*dish),
            _ => None,
        });
        dishes.filter(|dish| self.par(*dish).is_some())
    }

    /// What the pot for a dish holds, cooked: its own, or any.
    pub fn pot_holds(&self, of: ComponentId) -> Option<Mass> {
        let told = |wanted: Option<ComponentId>| {
            self.last(|detail| match detail {
                PrepDetail::PotHolds { dish, mass } if *dish == wanted => Some(*mass),
                _ => None,
            })
        };
        told(Some(of)).or_else(|| told(None))
    }

    /// The steps of a dish.
    pub fn steps(&self, of: ComponentId) -> Vec<DishStep> {
        let told = self.last(|detail| match detail {
            PrepDetail::Steps { dish, steps } if *dish == of => Some(steps.clone()),
            _ => None,
        });
        told.unwrap_or_default()
    }

    pub fn limit(&self, of: Limit) -> Option<u32> {
        self.last(|detail| match detail {
            PrepDetail::Limit { what, count } if *what == of => Some(*count),
            _ => None,
        })
        .flatten()
    }
}
