//! Which batches a name means: under its whole name, by its head word, by a word that describes it,
//! or with a selecting word ("old dal", "Sunday's dal").

use chrono::{Datelike, Days, NaiveDate};

use super::assumption::Assumption;
use super::batch::{Batch, Lot};
use super::ids::{BatchId, ComponentId};
use super::kitchen::Kitchen;
use super::origin::Origin;
use super::resolve::{Resolved, Thing, Unresolved, Use, key};
use crate::foods;
use crate::lang::lexicon::is_ordinary;

/// What a name says about the household's batches.
pub(super) enum Named {
    /// Open batches of one component, under its whole name or its head word.
    Certain(Vec<BatchId>),
    /// Open batches in whose name the words only describe ("chicken" in "chicken stew").
    Perhaps(Vec<BatchId>),
    /// Open batches of several components.
    Several(Vec<BatchId>),
    /// A component that has no open batch.
    UsedUp(String),
    Nothing,
}

pub(super) struct Batches<'a> {
    pub kitchen: &'a Kitchen,
    pub today: NaiveDate,
    pub used: Use<'a>,
}

impl Batches<'_> {
    pub fn named(&self, text: &str, key: &str) -> Named {
        match self.plainly_named(key) {
            Named::Nothing => {}
            found => return found,
        }
        let Some((selector, rest)) = Selector::split(text) else {
            return Named::Nothing;
        };
        match self.plainly_named(&self::key(rest)) {
            Named::Certain(found) | Named::Perhaps(found) => {
                // "the old dal" is the one that was eaten up, not the one that is left.
                let component = self.kitchen.batch(found[0]).component;
                let all = self.kitchen.batches.values();
                let all: Vec<BatchId> = all
                    .filter(|batch| batch.component == component && !batch.voided)
                    .map(|batch| batch.id)
                    .collect();
                match selector.choose(self.kitchen, &all, self.today) {
                    Some(chosen) if chosen.iter().all(|id| !self.is_open(*id)) => {
                        Named::UsedUp(self.kitchen.batch(chosen[0]).name.clone())
                    }
                    Some(mut chosen) => {
                        chosen.retain(|id| found.contains(id));
                        Named::Certain(chosen)
                    }
                    None => Named::Nothing,
                }
            }
            Named::Several(found) => match selector.choose(self.kitchen, &found, self.today) {
                Some(chosen) if chosen.len() == 1 => Named::Certain(chosen),
                _ => Named::Several(found),
            },
            other => other,
        }
    }

    /// "the salsa raw", where that is how the salsa stands there: the household's own before the table's.
    pub fn in_its_state(&self, key: &str) -> Option<Thing> {
        let words: Vec<&str> = key.split(' ').collect();
        let (raw, rest): (Vec<&str>, Vec<&str>) = words
            .iter()
            .partition(|word| matches!(**word, "raw" | "uncooked"));
        let Named::Certain(mut found) = self.plainly_named(&rest.join(" ")) else {
            return None;
        };
        found.retain(|id| self.kitchen.batch(*id).raw);
        (!raw.is_empty() && !found.is_empty()).then_some(Thing::Batches(found))
    }

    fn is_open(&self, id: BatchId) -> bool {
        self.kitchen.batch(id).open || self.used == Use::BatchOnly
    }

    fn plainly_named(&self, key: &str) -> Named {
        if key.is_empty() {
            return Named::Nothing;
        }
        let whole = |batch: &&Batch| self::key(&batch.name) == key;
        let exact: Vec<&Batch> = self.candidates().filter(whole).collect();
        if !exact.is_empty() {
            return Named::Certain(first_expired_first(self.kitchen, exact));
        }
        let mut components = self.kitchen.components.iter();
        // The dish has been cooked under exactly this name: no other dish answers for it.
        if let Some(known) = components.find(|known| known.key == key && self.was_cooked(known.id))
        {
            return Named::UsedUp(known.name.clone());
        }
        if matches!(self.used, Use::Ingredient { .. }) {
            return Named::Nothing;
        }
        let part: Vec<&Batch> = self
            .candidates()
            .filter(|batch| contains_all(&self::key(&batch.name), key))
            // "dal" is in a box of dal, and is no box.
            .filter(|batch| batch.origin != Origin::Boxed || is_head(&self::key(&batch.name), key))
            .collect();
        let heads: Vec<&Batch> = part
            .iter()
            .copied()
            .filter(|batch| is_head(&self::key(&batch.name), key))
            .collect();
        match (one_component(&heads), one_component(&part)) {
            (true, _) => Named::Certain(first_expired_first(self.kitchen, heads)),
            (false, _) if heads.len() > 1 => {
                Named::Several(first_expired_first(self.kitchen, heads))
            }
            (false, true) => Named::Perhaps(first_expired_first(self.kitchen, part)),
            _ if !part.is_empty() => Named::Several(first_expired_first(self.kitchen, part)),
            _ => self
                .kitchen
                .components
                .iter()
                .filter(|known| self.was_cooked(known.id))
                .find(|known| is_head(&known.key, key) && contains_all(&known.key, key))
                .map_or(Named::Nothing, |known| Named::UsedUp(known.name.clone())),
        }
    }

    /// A dish whose pots, as far as they are in sight, were all taken back was never cooked.
    fn was_cooked(&self, component: ComponentId) -> bool {
        let of_it = || {
            let batches = self.kitchen.batches.values();
            batches.filter(move |batch| batch.component == component)
        };
        of_it().next().is_none() || of_it().any(|batch| !batch.voided)
    }

    /// Batches that the words may mean at all.
    fn candidates(&self) -> impl Iterator<Item = &Batch> {
        let dish = match self.used {
            Use::Ingredient { dish } => Some(self::key(dish)),
            _ => None,
        };
        // A finished batch is not eaten from, but it can be counted again, shown or put right.
        let finished_too = self.used == Use::BatchOnly;
        self.kitchen
            .batches
            .values()
            .filter(move |batch| batch.open || (finished_too && !batch.voided))
            .filter(move |batch| dish.as_deref() != Some(self::key(&batch.name).as_str()))
    }

    /// The one batch whose name is spelled nearly so; two of them are a question.
    pub fn spelled(&self, key: &str) -> Option<Result<Resolved, Unresolved>> {
        // A slip of the finger turns no number into letters: "dal K6" may mean another batch.
        let numbered = key.contains(|c: char| c.is_ascii_digit());
        if numbered || is_ordinary(&[key]) || matches!(self.used, Use::Ingredient { .. }) {
            return None;
        }
        let near: Vec<&Batch> = self
            .candidates()
            .filter(|batch| {
                let name = self::key(&batch.name);
                let head = name.rsplit(' ').next().unwrap_or(&name).to_owned();
                foods::spelled_nearly(key, &name)
                    || foods::spelled_nearly(key, &head)
                    || is_heard_as(key, &name)
            })
            .collect();
        if near.is_empty() {
            return None;
        }
        if !one_component(&near) {
            return Some(Err(Unresolved::WhichBatch {
                batches: first_expired_first(self.kitchen, near),
                food: None,
            }));
        }
        Some(Ok(Resolved {
            from: None,
            assumptions: vec![Assumption::Spelling(near[0].name.clone())],
            thing: Thing::Batches(first_expired_first(self.kitchen, near)),
        }))
    }
}

/// "lentil doll" for "lentil dal": as many words, one of them right and the others near or heard alike.
fn is_heard_as(key: &str, name: &str) -> bool {
    let (said, known): (Vec<&str>, Vec<&str>) =
        (key.split(' ').collect(), name.split(' ').collect());
    let alike = |(said, known): (&&str, &&str)| {
        said == known || foods::spelled_nearly(said, known) || foods::sounds_alike(said, known)
    };
    let right = said.iter().zip(&known).any(|(said, known)| said == known);
    said.len() == known.len() && right && said.iter().zip(&known).all(alike)
}

fn one_component(batches: &[&Batch]) -> bool {
    !batches.is_empty()
        && batches
            .iter()
            .all(|batch| batch.component == batches[0].component)
}

/// The words are all in the name, whole.
pub(super) fn contains_all(name: &str, words: &str) -> bool {
    let name: Vec<&str> = name.split(' ').collect();
    !words.is_empty() && words.split(' ').all(|word| name.contains(&word))
}

/// The words end as the name does: "dal" of "lentil dal".
fn is_head(name: &str, words: &str) -> bool {
    name.rsplit(' ').next() == words.rsplit(' ').next()
}

/// First expired, first out, what stands ready before what is frozen; what is empty comes last.
fn first_expired_first(kitchen: &Kitchen, mut batches: Vec<&Batch>) -> Vec<BatchId> {
    batches.sort_by_cached_key(|batch| {
        let standing = batch.lots.iter().filter(|lot| lot.balance.mg() > 0);
        let due = |lot: &Lot| (kitchen.is_frozen(lot), kitchen.due_on(batch, lot));
        let first = standing.map(due).min();
        let (frozen, on) = first.unwrap_or((false, batch.made_on));
        let empty = batch.left().mg() <= 0 || batch.is_finished();
        (empty, frozen, on, batch.made_on, batch.id)
    });
    batches.iter().map(|batch| batch.id).collect()
}

/// "old dal", "the new rice", "Sunday's dal".
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Selector {
    Oldest,
    Newest,
    /// 0 = Monday.
    Weekday(u32),
    DaysAgo(u64),
}

const WEEKDAYS: [[&str; 2]; 7] = [
    ["monday", "mon"],
    ["tuesday", "tue"],
    ["wednesday", "wed"],
    ["thursday", "thu"],
    ["friday", "fri"],
    ["saturday", "sat"],
    ["sunday", "sun"],
];

impl Selector {
    /// The selecting word at the front of a name, and the name.
    fn split(text: &str) -> Option<(Self, &str)> {
        let text = text.trim();
        let text = text.strip_prefix("the ").unwrap_or(text);
        let (first, rest) = text.split_once(' ')?;
        let first = first.to_lowercase();
        let first = first
            .trim_end_matches("'s")
            .trim_end_matches("’s")
            .trim_end_matches('\'');
        let selector = match first {
            "old" | "older" | "oldest" | "first" | "leftover" => Self::Oldest,
            "new" | "newer" | "newest" | "latest" | "last" | "fresh" => Self::Newest,
            // The apostrophe gets lost.
            "today" | "todays" | "tonight" | "tonights" => Self::DaysAgo(0),
            "yesterday" | "yesterdays" => Self::DaysAgo(1),
            day => Self::Weekday(
                WEEKDAYS
                    .iter()
                    .position(|names| names.contains(&day) || day == format!("{}s", names[0]))?
                    as u32,
            ),
        };
        Some((selector, rest))
    }

    fn choose(
        self,
        kitchen: &Kitchen,
        found: &[BatchId],
        today: NaiveDate,
    ) -> Option<Vec<BatchId>> {
        let made = |id: &BatchId| (kitchen.batch(*id).made_on, *id);
        let on = |day: NaiveDate| -> Vec<BatchId> {
            let on_day = found.iter().filter(|id| made(id).0 == day);
            on_day.copied().collect()
        };
        let chosen = match self {
            Self::Oldest => found.iter().min_by_key(|id| made(id)).map(|id| vec![*id])?,
            Self::Newest => found.iter().max_by_key(|id| made(id)).map(|id| vec![*id])?,
            Self::DaysAgo(days) => on(today - Days::new(days)),
            Self::Weekday(weekday) => {
                let mut of_day: Vec<BatchId> = found
                    .iter()
                    .filter(|id| made(id).0.weekday().num_days_from_monday() == weekday)
                    .copied()
                    .collect();
                let newest = of_day.iter().map(|id| made(id).0).max();
                of_day.retain(|id| Some(made(id).0) == newest);
                of_day
            }
        };
        (!chosen.is_empty()).then_some(chosen)
    }
}
