//! Plates of one dish that was named once: "me 130 soup, Ana 150", "Tom 200 chilli, Ana 50 less than him".
//!
//! An amount may be told by another's: as much, so many times, so many grams more or less.

use super::content::Content;
use super::pan::item;
use super::party::Who;
use super::plan::plate;
use super::size::Size;
use super::telling::Telling;
use crate::lang::syntax::{Amount, Eater, Item, Portion, Words};

/// Less of a dish than this is no plate.
pub const PART_GRAMS_MIN: f64 = 10.0;

pub struct Entry {
    pub telling: Telling,
    /// The name that an amount alone goes by.
    pub name: Option<Words>,
}

/// What an entry holds, once it is known.
type Known = Option<Vec<Item>>;

/// The plates of the entries; `before` are those of other dishes, which a size may refer to as well.
pub fn by_name(entries: Vec<Entry>, before: &[Portion]) -> Option<Vec<Portion>> {
    let mut known: Vec<Known> = vec![None; entries.len()];
    // Each round makes at least one entry known, or none ever will.
    for _ in 0..entries.len() {
        for at in 0..entries.len() {
            if known[at].is_none() {
                known[at] = Table {
                    entries: &entries,
                    known: &known,
                    before,
                }
                .items(at)?;
            }
        }
    }
    // "200 soup, we all had the same": the first of it is the sender's part of the second.
    let last_of_all = entries.iter().rposition(is_same_for_all);
    let mut out = Vec::new();
    for (at, (entry, items)) in entries.into_iter().zip(known).enumerate() {
        if last_of_all.is_some_and(|last| at < last) {
            continue;
        }
        out.extend(plate(Telling {
            content: Some(Content::Items(items?)),
            each: entry.telling.each || last_of_all == Some(at),
            ..entry.telling
        })?);
    }
    Some(out)
}

/// "we all had the same"
fn is_same_for_all(entry: &Entry) -> bool {
    let all = matches!(entry.telling.who, Some(Who::Everyone | Who::Count(_)));
    all && entry.telling.size() == Some(&Size::Times(1.0))
}

struct Table<'a> {
    entries: &'a [Entry],
    known: &'a [Known],
    before: &'a [Portion],
}

impl Table<'_> {
    /// The items of an entry, if they can be told by now; the outer `None` when they never can.
    fn items(&self, at: usize) -> Option<Known> {
        let Entry { telling, name } = &self.entries[at];
        if let Some(Content::Items(items)) = &telling.content {
            return Some(Some(items.clone()));
        }
        let (like, change): (Known, Change) = match telling.size()? {
            Size::Times(_) | Size::More(_, None)
                if telling.who.is_none() && telling.day.is_none() =>
            {
                return None;
            }
            Size::Amount(Amount::Bare(count)) if *count < PART_GRAMS_MIN => {
                return self.counted(*count, name.as_ref()?).map(Some);
            }
            Size::Amount(amount) => {
                return Some(Some(vec![item(amount.clone(), name.as_ref()?)]));
            }
            Size::Times(times) => (self.last(at), Change::Times(*times)),
            Size::Against(times, who) => (self.of(who, at), Change::Times(*times)),
            Size::More(grams, Some(who)) => (self.of(who, at), Change::More(*grams)),
            // "30 more" may be as much beside it, unless it is somebody else's.
            Size::More(grams, None) if *grams < 0.0 || self.is_anothers(at) => {
                (self.last(at), Change::More(*grams))
            }
            _ => return None,
        };
        let Some(like) = like else {
            return Some(None);
        };
        let named = |item: Item| match name {
            Some(name) if like.len() == 1 => Item {
                name: name.clone(),
                ..item
            },
            _ => item,
        };
        let changed: Option<Vec<Item>> = like
            .iter()
            .map(|item| {
                let amount = change.of(&item.amount)?;
                Some(named(Item {
                    amount,
                    ..item.clone()
                }))
            })
            .collect();
        changed.map(Some)
    }

    /// "3 ladles dal for me and 1 for Tom": so many of what the dish was counted in.
    fn counted(&self, count: f64, name: &Words) -> Option<Vec<Item>> {
        let amount = self
            .entries
            .iter()
            .find_map(|entry| match &entry.telling.content {
                Some(Content::Items(items)) => items.first().map(|item| &item.amount),
                _ => None,
            })?;
        let of_all = match amount {
            Amount::Volume { count, .. } | Amount::Pieces { count, .. } => *count,
            _ => return None,
        };
        let amount = times_of(amount, count / of_all)?;
        Some(vec![item(amount, name)])
    }

    /// Told of somebody else than the one before, who stands before it: "Tom 260, me 50 more".
    fn is_anothers(&self, at: usize) -> bool {
        let who = |entry: &Entry| entry.telling.who.as_ref().and_then(Who::one).cloned();
        let own = who(&self.entries[at]).filter(|_| !self.entries[at].telling.closed);
        let last = at.checked_sub(1).and_then(|at| who(&self.entries[at]));
        own.is_some() && last.is_some() && own != last
    }

    /// What was told right before.
    fn last(&self, at: usize) -> Known {
        match at.checked_sub(1) {
            Some(at) => self.known[at].clone(),
            None => self.before.last().map(|portion| portion.items.clone()),
        }
    }

    /// What these people have, if it is the same for all of them.
    fn of(&self, who: &Who, at: usize) -> Known {
        let Who::Named(named) = who else {
            return self.last(at);
        };
        let mut all = named.iter().map(|eater| self.of_one(eater));
        let first = all.next()??;
        all.all(|other| other.is_some_and(|items| amounts(&items) == amounts(&first)))
            .then_some(first)
    }

    fn of_one(&self, eater: &Eater) -> Known {
        let has = |entry: &Entry| match entry.telling.who.clone().unwrap_or(Who::sender()) {
            Who::Named(named) => named.contains(eater),
            _ => false,
        };
        let at = self.entries.iter().position(has);
        match at {
            Some(at) => self.known[at].clone(),
            None => {
                let theirs = |portion: &&Portion| portion.who == *eater && portion.share.is_none();
                let portion = self.before.iter().rev().find(theirs)?;
                Some(portion.items.clone())
            }
        }
    }
}

fn amounts(items: &[Item]) -> Vec<&Amount> {
    items.iter().map(|item| &item.amount).collect()
}

enum Change {
    Times(f64),
    More(f64),
}

impl Change {
    fn of(&self, amount: &Amount) -> Option<Amount> {
        match self {
            Self::Times(times) => times_of(amount, *times),
            Self::More(more) => match amount {
                Amount::Bare(grams) if grams + more >= PART_GRAMS_MIN => {
                    Some(Amount::Bare(grams + more))
                }
                Amount::Mass(grams) if grams + more >= PART_GRAMS_MIN => {
                    Some(Amount::Mass(grams + more))
                }
                _ => None,
            },
        }
    }
}

fn times_of(amount: &Amount, times: f64) -> Option<Amount> {
    match amount {
        _ if times == 1.0 => Some(amount.clone()),
        Amount::Bare(grams) => Some(Amount::Bare(grams * times)),
        Amount::Mass(grams) => Some(Amount::Mass(grams * times)),
        Amount::Volume {
            count,
            unit,
            qualifiers,
        } => Some(Amount::Volume {
            count: count * times,
            unit: *unit,
            qualifiers: qualifiers.clone(),
        }),
        Amount::Pieces { count, measure } => Some(Amount::Pieces {
            count: count * times,
            measure: measure.clone(),
        }),
        _ => None,
    }
}
