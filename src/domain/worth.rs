//! What food is worth: by the price that was told of its batch, or else by those of the batches and of the goods that
//! went into it, by what these cost now. What has no price is never guessed: how much of it that is stands beside the
//! money, which is then a lower bound.

use super::batch::{Batch, Line, Money};
use super::cookbook::{Recipe, Thing};
use super::keeping::kind::is_water;
use super::kitchen::Kitchen;
use super::mass::Mass;
use super::prep::goods::Good;

/// Batches in batches are looked through so deep.
const NESTING_MAX: usize = 8;

/// Money, by currency, and the food that has no price.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Worth {
    pub cost: Vec<Money>,
    pub unpriced: Mass,
}

/// The same before it is rounded: hundredths by currency, and grams.
#[derive(Default)]
struct Parts {
    hundredths: Vec<(String, f64)>,
    unpriced_grams: f64,
}

impl Worth {
    pub fn add(&mut self, other: &Worth) {
        self.unpriced += other.unpriced;
        for money in &other.cost {
            match self
                .cost
                .iter_mut()
                .find(|sum| sum.currency == money.currency)
            {
                Some(sum) => sum.hundredths += money.hundredths,
                None => self.cost.push(money.clone()),
            }
        }
    }
}

impl Kitchen {
    /// What a batch cost besides the batches that went into it, which were paid for before.
    pub fn worth_of_bought(&self, batch: &Batch) -> Worth {
        let mut whole = self.worth(batch, batch.net_mass());
        if batch.price().is_some() {
            return whole;
        }
        for line in &batch.lines {
            let Some(source) = line.source.and_then(|id| self.batches.get(&id)) else {
                continue;
            };
            let before = self.worth(source, line.mass);
            whole.unpriced = Mass::ZERO.max(whole.unpriced - before.unpriced);
            for money in &before.cost {
                let mut sums = whole.cost.iter_mut();
                if let Some(sum) = sums.find(|sum| sum.currency == money.currency) {
                    sum.hundredths -= money.hundredths;
                }
            }
        }
        whole.cost.retain(|money| money.hundredths > 0);
        whole
    }

    /// What so much of a batch cost.
    pub fn worth(&self, batch: &Batch, mass: Mass) -> Worth {
        let mut parts = Parts::default();
        self.add_worth(batch, mass.grams(), 0, &mut parts);
        let worth = parts.rounded();
        // What rounds to nothing is no rest without a price.
        let unpriced = worth.unpriced.min(mass);
        Worth { unpriced, ..worth }
    }

    /// What so much of plain food costs, weighed as it is eaten.
    pub fn worth_of_plain(&self, good: &Good, mass: Mass) -> Worth {
        let goods = &self.prep.goods;
        let mut parts = Parts::default();
        match goods.cost(good, goods.refuse(good).bought(mass)) {
            Some((hundredths, currency)) => parts.add(currency, hundredths),
            None => parts.unpriced_grams += mass.grams(),
        }
        parts.rounded()
    }

    fn add_worth(&self, batch: &Batch, grams: f64, depth: usize, parts: &mut Parts) {
        let whole = batch.net_mass().grams();
        if let Some(price) = batch.price().filter(|_| whole > 0.0) {
            parts.add(&price.currency, price.hundredths as f64 * grams / whole);
            return;
        }
        let counted = batch.lines.iter().filter(|line| !self.is_free(line));
        let counted: Vec<&Line> = counted.collect();
        let all: f64 = counted.iter().map(|line| line.mass.grams()).sum();
        if whole <= 0.0 || all <= 0.0 || depth >= NESTING_MAX {
            parts.unpriced_grams += grams;
            return;
        }
        for line in counted {
            let source = line.source.and_then(|id| self.batches.get(&id));
            match source {
                // So much of it went into what is spoken of.
                Some(source) => {
                    let went_in = line.mass.grams() * grams / whole;
                    let before = parts.unpriced_grams;
                    self.add_worth(source, went_in, depth + 1, parts);
                    // What has no price is told in grams of the mixture.
                    let lacking = parts.unpriced_grams - before;
                    parts.unpriced_grams = before + lacking * whole / all;
                }
                None => match self.cost_of(line) {
                    Some((hundredths, currency)) => {
                        parts.add(&currency, hundredths * grams / whole)
                    }
                    None => parts.unpriced_grams += line.mass.grams() * grams / all,
                },
            }
        }
    }

    /// What a line costs that was bought, with what is trimmed off it: hundredths, and the currency.
    fn cost_of(&self, line: &Line) -> Option<(f64, String)> {
        let goods = &self.prep.goods;
        let good = self.good_of(line).filter(|_| goods.has_prices())?;
        let bought = goods.refuse(&good).bought(line.mass);
        let (hundredths, currency) = goods.cost(&good, bought)?;
        Some((hundredths, currency.to_owned()))
    }

    /// What so much of a dish costs that is to be cooked; without `dishes`, only what has to be bought for it.
    pub fn worth_of_recipe(&self, recipe: &Recipe, dishes: bool) -> Worth {
        let goods = &self.prep.goods;
        let mut parts = Parts::default();
        let mut whole = Worth::default();
        for line in &recipe.lines {
            let Some(mass) = line.mass else { continue };
            match (&line.good, line.thing) {
                (Some(good), _) => match goods.cost(good, goods.refuse(good).bought(mass)) {
                    Some((hundredths, currency)) => parts.add(currency, hundredths),
                    None => parts.unpriced_grams += mass.grams(),
                },
                (None, Thing::Dish(dish)) if dishes => {
                    match self
                        .pots(dish)
                        .into_iter()
                        .find(|pot| pot.net_mass().mg() > 0)
                    {
                        Some(pot) => whole.add(&self.worth(pot, mass)),
                        None => parts.unpriced_grams += mass.grams(),
                    }
                }
                // Water, and what was cooked before.
                (None, _) => {}
            }
        }
        whole.add(&parts.rounded());
        whole
    }

    /// What of a pot has no price, by its words.
    pub fn unpriced(&self, batch: &Batch) -> Vec<String> {
        if batch.price().is_some() {
            return Vec::new();
        }
        let lines = batch
            .lines
            .iter()
            .filter(|line| !self.is_free(line) && line.mass.mg() > 0);
        let unpriced =
            lines.filter(
                |line| match line.source.and_then(|id| self.batches.get(&id)) {
                    Some(source) => !self.worth(source, line.mass).unpriced.is_zero(),
                    None => self.cost_of(line).is_none(),
                },
            );
        unpriced.map(|line| self.line_name(line)).collect()
    }

    /// Water comes from the tap.
    fn is_free(&self, line: &Line) -> bool {
        line.source.is_none() && self.food_of_line(line).is_some_and(is_water)
    }
}

impl Worth {
    /// A share of it.
    pub fn share(&self, share: f64) -> Worth {
        let part = |money: &Money| Money {
            hundredths: (money.hundredths as f64 * share).round() as i64,
            currency: money.currency.clone(),
        };
        Worth {
            cost: self.cost.iter().map(part).collect(),
            unpriced: self.unpriced.share(share),
        }
    }
}

impl Parts {
    fn rounded(self) -> Worth {
        let money = self.hundredths.into_iter();
        let cost = money.map(|(currency, hundredths)| Money {
            hundredths: hundredths.round() as i64,
            currency,
        });
        Worth {
            cost: cost.collect(),
            unpriced: Mass::from_grams(self.unpriced_grams).unwrap_or(Mass::ZERO),
        }
    }

    fn add(&mut self, currency: &str, hundredths: f64) {
        let mut sums = self.hundredths.iter_mut();
        match sums.find(|(known, _)| known == currency) {
            Some((_, sum)) => *sum += hundredths,
            None => self.hundredths.push((currency.to_owned(), hundredths)),
        }
    }
}
