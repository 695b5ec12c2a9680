//! What to buy: what several recipes need, merged, as it is bought, less what stands in the cupboard, up to whole
//! packs, in the order in which the shop was last walked.

use std::cmp::Ordering;

use super::goods::{Cupboard, Good, Goods};
use crate::domain::batch::Money;
use crate::domain::mass::Mass;
use crate::foods;

/// So much of a good goes into a pot.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    pub good: Good,
    /// `None`: it is only named.
    pub mass: Option<Mass>,
    /// It was weighed as it was bought, with all that is trimmed off.
    pub as_bought: bool,
}

/// One line of a list.
#[derive(Debug, Clone, PartialEq)]
pub struct ToBuy {
    pub good: Good,
    /// As it is bought; `None`: nobody said how much.
    pub need: Option<Mass>,
    pub buy: Option<Mass>,
    pub packs: Option<Packs>,
    pub cost: Option<Money>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packs {
    pub count: u32,
    pub mass: Mass,
    pub word: String,
}

/// Where in the shop things stood when it was last walked: from 0, at the door, to 1.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Shelves {
    pub places: Vec<(String, f64)>,
}

/// So much of what the last walk tells of a place is believed; the rest is what was known before.
const LAST_WALK: f64 = 0.5;

impl Shelves {
    pub fn place(&self, key: &str) -> Option<f64> {
        let known = self.places.iter().find(|(known, _)| known == key);
        known.map(|(_, place)| *place)
    }

    /// The shop was walked in this order.
    pub fn walked(&mut self, keys: &[String]) {
        // One thing alone tells nothing of what comes before what.
        let Some(last) = keys.len().checked_sub(1).filter(|last| *last > 0) else {
            return;
        };
        for (at, key) in keys.iter().enumerate() {
            let walked = at as f64 / last as f64;
            match self.places.iter_mut().find(|(known, _)| known == key) {
                Some((_, place)) => *place += (walked - *place) * LAST_WALK,
                None => self.places.push((key.clone(), walked)),
            }
        }
    }
}

/// The list for all that is wanted; what the cupboard has is not on it.
pub fn list(wanted: &[Wanted], goods: &Goods, shelves: &Shelves) -> Vec<ToBuy> {
    let mut needs: Vec<(Good, Option<Mass>)> = Vec::new();
    for wanted in wanted {
        let refuse = goods.refuse(&wanted.good);
        let bought = |mass| {
            if wanted.as_bought {
                mass
            } else {
                refuse.bought(mass)
            }
        };
        let mass = wanted.mass.map(bought);
        match needs.iter_mut().find(|(known, _)| known.is(&wanted.good)) {
            Some((known, need)) => {
                *need = match (*need, mass) {
                    (Some(need), Some(mass)) => Some(need + mass),
                    (need, mass) => need.or(mass),
                };
                // The newer word stands.
                known.words.clone_from(&wanted.good.words);
            }
            None => needs.push((wanted.good.clone(), mass)),
        }
    }
    let lines = needs
        .into_iter()
        .filter_map(|(good, need)| to_buy(good, need, goods));
    let mut lines: Vec<ToBuy> = lines.collect();
    lines.sort_by(|one, other| compare(shelves, &one.good, &other.good));
    lines
}

/// Which of two comes first in the shop; what nobody has bought yet comes last, like beside like.
pub fn compare(shelves: &Shelves, one: &Good, other: &Good) -> Ordering {
    let order = |good: &Good| {
        let place = shelves.place(&good.key);
        (place.is_none(), place.unwrap_or_default())
    };
    let (one_known, one_place) = order(one);
    let (other_known, other_place) = order(other);
    let places = one_known
        .cmp(&other_known)
        .then(one_place.total_cmp(&other_place));
    let like = |good| {
        let group = group(good);
        (group.is_none(), group)
    };
    places.then_with(|| (like(one), &one.key).cmp(&(like(other), &other.key)))
}

/// A line, unless the cupboard has enough of it.
pub fn to_buy(good: Good, need: Option<Mass>, goods: &Goods) -> Option<ToBuy> {
    let need = match (goods.cupboard(&good), need) {
        (Some(Cupboard::Always), _) => return None,
        (Some(Cupboard::Holds(_)), None) => return None,
        (Some(Cupboard::Holds(there)), Some(need)) if there >= need => return None,
        (Some(Cupboard::Holds(there)), Some(need)) => Some(need - there),
        (_, need) => need,
    };
    Some(bought(good, need, true, goods))
}

/// How much is bought, and what it costs: whole packs, or what one asks for in a shop where nobody told a sum.
pub fn bought(good: Good, need: Option<Mass>, reckoned: bool, goods: &Goods) -> ToBuy {
    let pack = need.zip(goods.pack(&good));
    let packs = pack.map(|(need, (mass, word))| Packs {
        count: (need.mg() + mass.mg() - 1).div_euclid(mass.mg()) as u32,
        mass,
        word: word.to_owned(),
    });
    let buy = match &packs {
        Some(packs) => Some(Mass::from_mg(packs.mass.mg() * i64::from(packs.count))),
        None if reckoned => need.map(rounded_up),
        None => need,
    };
    let cost = buy.and_then(|buy| goods.cost(&good, buy));
    let cost = cost.map(|(hundredths, currency)| Money {
        hundredths: hundredths.round() as i64,
        currency: currency.to_owned(),
    });
    ToBuy {
        good,
        need,
        buy,
        packs,
        cost,
    }
}

/// Nobody buys 1183 g of onions: up to what one asks for in a shop.
fn rounded_up(mass: Mass) -> Mass {
    let step = match mass.grams() {
        few if few <= 100.0 => 1_000,
        some if some <= 1000.0 => 10_000,
        _ => 100_000,
    };
    Mass::from_mg((mass.mg() + step - 1) / step * step)
}

fn group(good: &Good) -> Option<foods::Group> {
    let food = good.food.and_then(|code| foods::table().get(code));
    food.map(|food| food.group)
}

/// Money by currency: currencies are never added up.
pub fn total<'a>(costs: impl Iterator<Item = &'a Money>) -> Vec<Money> {
    let mut sums: Vec<Money> = Vec::new();
    for cost in costs {
        match sums.iter_mut().find(|sum| sum.currency == cost.currency) {
            Some(sum) => sum.hundredths += cost.hundredths,
            None => sums.push(cost.clone()),
        }
    }
    sums
}

#[cfg(test)]
#[path = "list_tests.rs"]
mod tests;
