//! From words to things: which batch, packet or food a name stands for in this kitchen.
//!
//! The household's own things come before the table: a code, then batches, packets, the words that
//! it has chosen a food for, and last the table of foods. A name whose batch is used up never turns
//! silently into a food of the table. A near spelling counts only when it is close and unique.

use chrono::{Datelike, Days, NaiveDate};

use super::assumption::{Assumption, FoodState};
use super::ids::{BatchId, ProfileId};
use super::kitchen::{Batch, FoodChoice, Kitchen, Profile};
use super::problem::ProblemKind;
use crate::foods::{self, Ambiguity, Code, Found};
use crate::lang::syntax::{Amount, Words};

/// What words stand for.
#[derive(Debug, Clone, PartialEq)]
pub enum Thing {
    /// Batches of one component, in the order in which they are to be drawn.
    Batches(Vec<BatchId>),
    Packet(ProfileId),
    Food(Code),
}

#[derive(Debug, Clone, PartialEq)]
pub struct Resolved {
    pub thing: Thing,
    pub assumptions: Vec<Assumption>,
}

/// Why words stand for nothing certain.
#[derive(Debug, Clone, PartialEq)]
pub enum Unresolved {
    /// Batches of several components would fit; a plain food may too.
    WhichBatch {
        batches: Vec<BatchId>,
        food: Option<Code>,
    },
    WhichFood(Vec<Code>),
    /// A component of that name has been cooked and is used up.
    UsedUp {
        name: String,
        food: Option<Code>,
    },
    Unknown {
        near: Vec<Code>,
        near_batches: Vec<BatchId>,
    },
}

impl Unresolved {
    /// The same as a problem, for where nothing can be asked.
    pub fn problem(self, words: &str) -> ProblemKind {
        match self {
            Unresolved::UsedUp { name, food } => ProblemKind::UsedUp { name, food },
            Unresolved::Unknown { near, .. } => ProblemKind::UnknownFood {
                words: words.into(),
                near,
            },
            Unresolved::WhichFood(near) => ProblemKind::UnknownFood {
                words: words.into(),
                near,
            },
            Unresolved::WhichBatch { food, .. } => ProblemKind::UnknownFood {
                words: words.into(),
                near: food.into_iter().collect(),
            },
        }
    }
}

/// Where the words stand, which decides between a dish and its raw namesake.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use<'a> {
    /// On a plate: the household's dishes first.
    Eaten,
    /// In the pot of this dish: raw foods first, a batch only under its whole name, and never a
    /// batch of the same dish.
    Ingredient { dish: &'a str },
    /// Only a batch will do.
    BatchOnly,
}

/// Words in the form in which names are compared: case, accents, plurals folded.
pub fn key(text: &str) -> String {
    let words = foods::compared_words(text);
    let kept: Vec<&str> = words
        .iter()
        .map(String::as_str)
        .filter(|word| !["the", "of", "a", "some", "my", "our"].contains(word))
        .collect();
    if kept.is_empty() {
        words.join(" ")
    } else {
        kept.join(" ")
    }
}

pub fn resolve(
    kitchen: &Kitchen,
    words: &Words,
    used: Use,
    today: NaiveDate,
) -> Result<Resolved, Unresolved> {
    let text = words.text.trim();
    if let Some(found) = by_code(kitchen, text) {
        return Ok(certain(found));
    }
    let key = key(text);
    let batches = Batches {
        kitchen,
        today,
        used,
    };
    let by_batch = batches.named(text, &key);
    if let Named::Certain(found) = &by_batch {
        return Ok(certain(Thing::Batches(found.clone())));
    }
    if used == Use::BatchOnly {
        return match by_batch {
            Named::Several(batches) => Err(Unresolved::WhichBatch {
                batches,
                food: None,
            }),
            Named::Perhaps(found) => Ok(certain(Thing::Batches(found))),
            _ => batches.spelled(&key).unwrap_or(Err(Unresolved::Unknown {
                near: Vec::new(),
                near_batches: kitchen.open_batches().map(|batch| batch.id).collect(),
            })),
        };
    }
    if let Some(packet) = kitchen
        .packets
        .iter()
        .rev()
        .find(|packet| packet.key == key)
    {
        return Ok(certain(Thing::Packet(packet.profile)));
    }
    let food = food_of(kitchen, text, &key, used);
    let plain = match &food {
        Ok(resolved) => match resolved.thing {
            Thing::Food(code) => Some(code),
            _ => None,
        },
        Err(_) => None,
    };
    match by_batch {
        Named::Several(batches) => {
            return Err(Unresolved::WhichBatch {
                batches,
                food: plain,
            });
        }
        Named::Perhaps(found) => {
            return match (used, plain) {
                (Use::Ingredient { .. }, Some(_)) => food,
                (_, Some(_)) => Err(Unresolved::WhichBatch {
                    batches: found,
                    food: plain,
                }),
                (_, None) => Ok(certain(Thing::Batches(found))),
            };
        }
        Named::UsedUp(name) if used == Use::Eaten => {
            return Err(Unresolved::UsedUp { name, food: plain });
        }
        Named::Nothing | Named::UsedUp(_) | Named::Certain(_) => {}
    }
    let Err(unresolved) = food else { return food };
    let spelled = batches.spelled(&key);
    if let Some(found) = spelled {
        return found;
    }
    if let Some(packet) = kitchen
        .packets
        .iter()
        .rev()
        .find(|packet| contains_all(&packet.key, &key))
    {
        return Ok(Resolved {
            thing: Thing::Packet(packet.profile),
            assumptions: vec![Assumption::Spelling(text.into())],
        });
    }
    Err(unresolved)
}

/// As [`resolve`], for a name that stands with an amount: what comes in cans is canned.
pub fn resolve_amount(
    kitchen: &Kitchen,
    amount: Option<&Amount>,
    words: &Words,
    used: Use,
    today: NaiveDate,
) -> Result<Resolved, Unresolved> {
    let found = resolve(kitchen, words, used, today);
    let measure = match amount {
        Some(Amount::Pieces { measure, .. } | Amount::Each { measure, .. }) => measure.as_slice(),
        _ => &[],
    };
    let canned = measure
        .iter()
        .any(|word| ["can", "tin", "cans", "tins"].contains(&word.as_str()));
    let plain = matches!(&found, Ok(resolved) if matches!(resolved.thing, Thing::Food(_)));
    if !canned || !plain {
        return found;
    }
    let words = Words::new(format!("canned {}", words.text), words.span.clone());
    match resolve(kitchen, &words, used, today) {
        Ok(in_cans) => Ok(in_cans),
        Err(_) => found,
    }
}

fn certain(thing: Thing) -> Resolved {
    Resolved {
        thing,
        assumptions: Vec::new(),
    }
}

/// "D7", "NDB 04506".
fn by_code(kitchen: &Kitchen, text: &str) -> Option<Thing> {
    if let Ok(code) = text.parse::<Code>() {
        return foods::table().get(code).map(|_| Thing::Food(code));
    }
    kitchen
        .batches
        .values()
        .find(|batch| !batch.voided && batch.code.eq_ignore_ascii_case(text))
        .map(|batch| Thing::Batches(vec![batch.id]))
}

/// The table's food for these words, or the one that the household has chosen for them.
pub fn food_of(
    kitchen: &Kitchen,
    text: &str,
    key: &str,
    used: Use,
) -> Result<Resolved, Unresolved> {
    let eaten = used == Use::Eaten;
    let chosen = |choice: &&FoodChoice| choice.key == key && choice.eaten == eaten;
    let mut choices = kitchen.choices.iter().rev().map(|(_, choice)| choice);
    if let Some(choice) = choices.find(chosen) {
        return Ok(certain(Thing::Food(choice.food)));
    }
    match foods::table().find(text) {
        Found::Taken(found) => {
            let mut assumptions = Vec::new();
            match found.ambiguity {
                Some(Ambiguity::DryOrCooked { taken_dry, other }) => {
                    assumptions.push(Assumption::State {
                        taken: state(taken_dry, FoodState::Dry),
                        other,
                    });
                }
                Some(Ambiguity::RawOrCooked { taken_raw, other }) => {
                    assumptions.push(Assumption::State {
                        taken: state(taken_raw, FoodState::Raw),
                        other,
                    });
                }
                Some(Ambiguity::Kinds(_)) | None => {}
            }
            if !found.kinds.is_empty() {
                assumptions.push(Assumption::Kinds(found.kinds));
            }
            Ok(Resolved {
                thing: Thing::Food(found.code),
                assumptions,
            })
        }
        Found::Several(codes) => Err(Unresolved::WhichFood(codes)),
        Found::Nothing => Err(Unresolved::Unknown {
            near: foods::table()
                .near(text, 4)
                .into_iter()
                .map(|near| near.code)
                .collect(),
            near_batches: Vec::new(),
        }),
    }
}

fn state(uncooked: bool, which: FoodState) -> FoodState {
    if uncooked { which } else { FoodState::Cooked }
}

/// What a name says about the household's batches.
enum Named {
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

struct Batches<'a> {
    kitchen: &'a Kitchen,
    today: NaiveDate,
    used: Use<'a>,
}

impl Batches<'_> {
    fn named(&self, text: &str, key: &str) -> Named {
        match self.plainly_named(key) {
            Named::Nothing => {}
            found => return found,
        }
        let Some((selector, rest)) = Selector::split(text) else {
            return Named::Nothing;
        };
        match self.plainly_named(&self::key(rest)) {
            Named::Certain(found) | Named::Perhaps(found) => selector
                .choose(self.kitchen, &found, self.today)
                .map_or(Named::Nothing, Named::Certain),
            Named::Several(found) => match selector.choose(self.kitchen, &found, self.today) {
                Some(chosen) if chosen.len() == 1 => Named::Certain(chosen),
                _ => Named::Several(found),
            },
            other => other,
        }
    }

    fn plainly_named(&self, key: &str) -> Named {
        if key.is_empty() {
            return Named::Nothing;
        }
        let whole = |batch: &&Batch| self::key(&batch.name) == key;
        let exact: Vec<&Batch> = self.candidates().filter(whole).collect();
        if !exact.is_empty() {
            return Named::Certain(first_expired_first(exact));
        }
        if self.kitchen.components.iter().any(|known| known.key == key) {
            let name = self
                .kitchen
                .components
                .iter()
                .find(|known| known.key == key)
                .map(|known| known.name.clone());
            // The dish has been cooked under exactly this name: no other dish answers for it.
            return name.map_or(Named::Nothing, Named::UsedUp);
        }
        if matches!(self.used, Use::Ingredient { .. }) {
            return Named::Nothing;
        }
        let part: Vec<&Batch> = self
            .candidates()
            .filter(|batch| contains_all(&self::key(&batch.name), key))
            .collect();
        let heads: Vec<&Batch> = part
            .iter()
            .copied()
            .filter(|batch| is_head(&self::key(&batch.name), key))
            .collect();
        match (one_component(&heads), one_component(&part)) {
            (true, _) => Named::Certain(first_expired_first(heads)),
            (false, _) if heads.len() > 1 => Named::Several(first_expired_first(heads)),
            (false, true) => Named::Perhaps(first_expired_first(part)),
            _ if !part.is_empty() => Named::Several(first_expired_first(part)),
            _ => self
                .kitchen
                .components
                .iter()
                .find(|known| is_head(&known.key, key) && contains_all(&known.key, key))
                .map_or(Named::Nothing, |known| Named::UsedUp(known.name.clone())),
        }
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
    fn spelled(&self, key: &str) -> Option<Result<Resolved, Unresolved>> {
        if matches!(self.used, Use::Ingredient { .. }) {
            return None;
        }
        let near: Vec<&Batch> = self
            .candidates()
            .filter(|batch| {
                let name = self::key(&batch.name);
                let head = name.rsplit(' ').next().unwrap_or(&name).to_owned();
                foods::spelled_nearly(key, &name) || foods::spelled_nearly(key, &head)
            })
            .collect();
        if near.is_empty() {
            return None;
        }
        if !one_component(&near) {
            return Some(Err(Unresolved::WhichBatch {
                batches: first_expired_first(near),
                food: None,
            }));
        }
        Some(Ok(Resolved {
            assumptions: vec![Assumption::Spelling(near[0].name.clone())],
            thing: Thing::Batches(first_expired_first(near)),
        }))
    }
}

fn one_component(batches: &[&Batch]) -> bool {
    !batches.is_empty()
        && batches
            .iter()
            .all(|batch| batch.component == batches[0].component)
}

/// The words are all in the name, whole.
fn contains_all(name: &str, words: &str) -> bool {
    let name: Vec<&str> = name.split(' ').collect();
    !words.is_empty() && words.split(' ').all(|word| name.contains(&word))
}

/// The words end as the name does: "dal" of "lentil dal".
fn is_head(name: &str, words: &str) -> bool {
    name.rsplit(' ').next() == words.rsplit(' ').next()
}

/// First expired, first out; batches without a date by the day on which they were made. What is
/// empty comes last.
fn first_expired_first(mut batches: Vec<&Batch>) -> Vec<BatchId> {
    batches.sort_by_key(|batch| {
        let use_by = batch.lots.iter().filter_map(|lot| lot.use_by).min();
        (
            batch.left().mg() <= 0,
            use_by.unwrap_or(batch.made_on + Days::new(3650)),
            batch.made_on,
            batch.id,
        )
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
            "old" | "older" | "oldest" | "first" => Self::Oldest,
            "new" | "newer" | "newest" | "latest" | "last" | "fresh" => Self::Newest,
            "today" => Self::DaysAgo(0),
            "yesterday" => Self::DaysAgo(1),
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

/// A food's profile in the books, if it has been used before.
pub fn known_profile(kitchen: &Kitchen, code: Code) -> Option<&Profile> {
    kitchen
        .profiles
        .values()
        .find(|profile| profile.food == Some(code))
}
