//! From words to things: which batch, packet or food a name stands for in this kitchen.
//!
//! The household's own things come before the table: a code, then batches, packets, the words that
//! it has chosen a food for, and last the table of foods. A name whose batch is used up never turns
//! silently into a food of the table. A near spelling counts only when it is close and unique.

use chrono::NaiveDate;

use super::assumption::{Assumption, FoodState};
use super::ids::{BatchId, ProfileId};
use super::kitchen::{FoodChoice, Kitchen};
use super::named::{Batches, Named, contains_all};
use super::problem::ProblemKind;
use super::stands::{self, Places};
use crate::foods::{self, Ambiguity, Code, Found};
use crate::lang::lexicon::is_ordinary;
use crate::lang::syntax::{Amount, Words};

/// So many are counted, not weighed.
const PIECES_MAX: f64 = 12.0;

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
    /// Where its batches are taken from, if the name tells.
    pub from: Option<Places>,
    pub assumptions: Vec<Assumption>,
}

impl Resolved {
    /// A food that was taken as dry, and the same one cooked.
    pub fn dry_and_cooked(&self) -> Option<(Code, Code)> {
        let Thing::Food(dry) = self.thing else {
            return None;
        };
        self.assumptions.iter().find_map(|it| match it {
            Assumption::State {
                taken: FoodState::Dry,
                other,
            } => Some((dry, *other)),
            _ => None,
        })
    }
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
    if let Some(placed) = stands::placed(kitchen, words, used, today) {
        return Ok(placed);
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
    if let Some(found) = batches.in_its_state(&key) {
        return Ok(certain(found));
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
    if let Some(packet) = of_packet(kitchen, &key, plain) {
        return Ok(certain(packet));
    }
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
            from: None,
            assumptions: vec![Assumption::Spelling(text.into())],
        });
    }
    if used == Use::Eaten
        && let Some(resolved) = spelled_food(kitchen, text, used)
    {
        return Ok(resolved);
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
    let measure = amount.map(measure_of).unwrap_or_default();
    let canned = measure
        .iter()
        .any(|word| ["can", "tin", "cans", "tins"].contains(&word.as_str()));
    let household = matches!(&found, Ok(resolved) if !matches!(resolved.thing, Thing::Food(_)));
    if household {
        return found;
    }
    if !canned {
        return found.map(|found| counted(found, amount, words));
    }
    // "black beans, drained" are drained out of a can anyhow.
    let plain = words.text.split(", drained").next().unwrap_or_default();
    [words.text.as_str(), plain]
        .iter()
        .map(|text| Words::new(format!("canned {text}"), words.span.clone()))
        .find_map(|words| resolve(kitchen, &words, used, today).ok())
        .map_or(found, Ok)
}

/// "3 peppers": of the kinds that a name has, what is counted is one that comes in pieces.
fn counted(mut found: Resolved, amount: Option<&Amount>, words: &Words) -> Resolved {
    let (count, measure): (f64, &[String]) = match amount {
        Some(Amount::Pieces { count, measure }) => (*count, measure),
        Some(Amount::Bare(count)) if words.text.ends_with('s') && *count <= PIECES_MAX => {
            (*count, &[])
        }
        _ => return found,
    };
    let measure: Vec<&str> = measure.iter().map(String::as_str).collect();
    let weighs = |code: &Code| {
        let food = foods::table().get(*code);
        food.is_some_and(|food| food.weigh_measure(count, &measure).is_some())
    };
    let Thing::Food(taken) = found.thing else {
        return found;
    };
    let kinds = found
        .assumptions
        .iter()
        .find_map(|assumption| match assumption {
            Assumption::Kinds(codes) => codes.iter().copied().find(weighs),
            _ => None,
        });
    if let Some(code) = kinds.filter(|_| !weighs(&taken)) {
        found.thing = Thing::Food(code);
        found.assumptions = vec![Assumption::Kinds(vec![taken])];
    }
    found
}

/// The measure words of an amount, also where a weight was given beside it.
fn measure_of(amount: &Amount) -> &[String] {
    match amount {
        Amount::Pieces { measure, .. } | Amount::Each { measure, .. } => measure,
        Amount::Weighed { said, .. } => measure_of(said),
        _ => &[],
    }
}

/// A name with what stands in brackets after it, where the table knows the two together: "rice (cooked)".
pub fn with_bracket(text: &str, name: &Words) -> Option<Words> {
    let (_, after) = text.split_once('(')?;
    let (inside, _) = after.split_once(')')?;
    if inside.contains(|c: char| c.is_ascii_digit()) || name.text.contains('(') {
        return None;
    }
    let whole = format!("{} {}", name.text, inside.trim());
    let plain = foods::table().find(&name.text);
    match (foods::table().find(&whole), plain) {
        (Found::Taken(found), Found::Taken(plain)) if found.code == plain.code => None,
        (Found::Taken(_), _) => Some(Words::new(whole, name.span.clone())),
        _ => None,
    }
}

/// The household's packet under the first words of its name, where the table knows no other thing by them:
/// "miso" is its miso paste, and "peanut" is no peanut butter.
fn of_packet(kitchen: &Kitchen, key: &str, plain: Option<Code>) -> Option<Thing> {
    let begins = |name: &str| {
        name.strip_prefix(key)
            .is_some_and(|rest| rest.starts_with(' '))
    };
    let mut packets = kitchen
        .packets
        .iter()
        .rev()
        .filter(|packet| begins(&packet.key));
    let packet = packets.next()?;
    if packets.any(|other| other.key != packet.key) {
        return None;
    }
    let whole = match foods::table().find(&packet.name) {
        Found::Taken(found) => Some(found.code),
        _ => None,
    };
    (plain.is_none() || plain == whole).then_some(Thing::Packet(packet.profile))
}

fn certain(thing: Thing) -> Resolved {
    Resolved {
        thing,
        from: None,
        assumptions: Vec::new(),
    }
}

/// "D7", "NDB 04506".
pub(super) fn by_code(kitchen: &Kitchen, text: &str) -> Option<Thing> {
    if let Ok(code) = text.parse::<Code>() {
        return foods::table().get(code).map(|_| Thing::Food(code));
    }
    kitchen
        .batches
        .values()
        .find(|batch| {
            // "kedgeree K2" is K2, as long as that is kedgeree.
            let coded = match text.rsplit_once(' ') {
                Some((name, code)) => {
                    batch.code.eq_ignore_ascii_case(code)
                        && contains_all(&self::key(&batch.name), &self::key(name))
                }
                None => batch.code.eq_ignore_ascii_case(text),
            };
            !batch.voided && coded
        })
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
                from: None,
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

/// The one food whose name is a single slip away from what was typed: "chedar".
fn spelled_food(kitchen: &Kitchen, text: &str, used: Use) -> Option<Resolved> {
    if is_ordinary(&[&key(text)]) {
        return None;
    }
    let near = foods::table().near(text, 2);
    let nearest = near.first().filter(|near| near.distance == 1)?;
    let alone = near.get(1).is_none_or(|second| second.distance > 1);
    if !alone || nearest.name.chars().count() < SPELLED_CHARS_MIN {
        return None;
    }
    let mut found = food_of(kitchen, &nearest.name, &key(&nearest.name), used).ok()?;
    found
        .assumptions
        .push(Assumption::Spelling(nearest.name.clone()));
    Some(found)
}

/// A slip in a shorter word makes too many others of it: "pear", "bear", "peas".
const SPELLED_CHARS_MIN: usize = 6;

fn state(uncooked: bool, which: FoodState) -> FoodState {
    if uncooked { which } else { FoodState::Cooked }
}
