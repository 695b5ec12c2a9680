//! What is known of things that are bought: how much of them is trimmed off, in what packs they come, what they
//! cost, and what stands in the cupboard. All told by the household; the newest of a kind holds.

use crate::domain::batch::Money;
use crate::domain::ids::EntryId;
use crate::domain::mass::Mass;
use crate::domain::middle::middle;
use crate::foods::{self, Code};

/// Its own trimmings count so far back.
const TRIMMED_LATELY: usize = 5;

/// Something that is bought.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Good {
    /// What the table calls it, if it is in there.
    pub food: Option<Code>,
    /// Its words, folded.
    pub key: String,
    /// Its words as they were typed.
    pub words: String,
}

impl Good {
    /// One food under two words is one thing, and so are the same words twice.
    pub fn is(&self, other: &Good) -> bool {
        self.key == other.key || self.food.is_some() && self.food == other.food
    }
}

impl Good {
    /// "red lentils" are lentils: its words end with the other's, and the table has both in one group.
    pub fn is_kind_of(&self, other: &Good) -> bool {
        let group = |good: &Good| Some(foods::table().get(good.food?)?.group);
        let alike = match (group(self), group(other)) {
            (Some(one), Some(two)) => one == two,
            _ => true,
        };
        let ends = self.key.strip_suffix(other.key.as_str());
        alike && ends.is_some_and(|before| before.ends_with(' '))
    }
}

/// One thing that was told of it.
#[derive(Debug, Clone, PartialEq)]
pub enum GoodFact {
    /// So much was bought, and so much of it was left when it was trimmed.
    Trimmed { bought: Mass, trimmed: Mass },
    /// It comes in packs of this; what one is called.
    Pack { mass: Mass, word: String },
    /// So much money for so much of it.
    Price { money: Money, mass: Mass },
    /// What stands in the cupboard.
    Cupboard(Cupboard),
    /// So much of it is to be at home; `None`: no more than is used.
    AtHome(Option<Mass>),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cupboard {
    Holds(Mass),
    /// There is always enough of it.
    Always,
    Out,
}

/// All that was told and stands, oldest first.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Goods {
    pub told: Vec<(EntryId, Good, GoodFact)>,
}

impl Goods {
    pub fn remember(&mut self, entry: EntryId, good: Good, fact: GoodFact) {
        self.told.push((entry, good, fact));
        self.told.sort_by_key(|(entry, ..)| *entry);
    }

    pub fn forget(&mut self, entry: EntryId) {
        self.told.retain(|(known, ..)| *known != entry);
    }

    /// What was told of one, the newest first.
    fn of<'a, 'b>(&'a self, good: &'b Good) -> impl Iterator<Item = &'a GoodFact> + use<'a, 'b> {
        let newest = self.told.iter().rev();
        newest
            .filter(|(_, known, _)| known.is(good))
            .map(|(_, _, fact)| fact)
    }

    /// What share of it is trimmed off: the middle one of the household's own, or else the table's.
    pub fn refuse(&self, good: &Good) -> Refuse {
        let shares = self.of(good).filter_map(|fact| match fact {
            GoodFact::Trimmed { bought, trimmed } => Some(1.0 - trimmed.grams() / bought.grams()),
            _ => None,
        });
        let shares: Vec<f64> = shares.take(TRIMMED_LATELY).collect();
        let times = shares.len();
        match middle(shares) {
            Some(share) => Refuse { share, times },
            None => Refuse {
                share: table_refuse(good),
                times,
            },
        }
    }

    /// The pack that it comes in, and what one is called.
    pub fn pack(&self, good: &Good) -> Option<(Mass, &str)> {
        self.of(good).find_map(|fact| match fact {
            GoodFact::Pack { mass, word } => Some((*mass, word.as_str())),
            _ => None,
        })
    }

    pub fn cupboard(&self, good: &Good) -> Option<Cupboard> {
        self.of(good).find_map(|fact| match fact {
            GoodFact::Cupboard(cupboard) => Some(*cupboard),
            _ => None,
        })
    }

    /// So much of it is to be at home.
    pub fn kept(&self, good: &Good) -> Option<Mass> {
        let told = self.of(good).find_map(|fact| match fact {
            GoodFact::AtHome(mass) => Some(*mass),
            _ => None,
        });
        told.flatten()
    }

    /// All of which something is to be at home.
    pub fn kept_at_home(&self) -> Vec<(Good, Mass)> {
        let mut kept: Vec<(Good, Mass)> = Vec::new();
        for (_, good, fact) in self.told.iter().rev() {
            let known = kept.iter().any(|(known, _)| known.is(good));
            if let (GoodFact::AtHome(_), false, Some(mass)) = (fact, known, self.kept(good)) {
                kept.push((good.clone(), mass));
            }
        }
        kept
    }

    /// The price of anything is known.
    pub fn has_prices(&self) -> bool {
        let price = |fact: &GoodFact| matches!(fact, GoodFact::Price { .. });
        self.told.iter().any(|(_, _, fact)| price(fact))
    }

    /// What so much of it costs: hundredths before they are rounded, and the currency.
    pub fn cost(&self, good: &Good, mass: Mass) -> Option<(f64, &str)> {
        self.of(good).find_map(|fact| match fact {
            GoodFact::Price { money, mass: of } => {
                let share = mass.grams() / of.grams();
                Some((money.hundredths as f64 * share, money.currency.as_str()))
            }
            _ => None,
        })
    }
}

/// What share of what is bought is trimmed off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Refuse {
    pub share: f64,
    /// So many of the household's own trimmings tell; none: the table does.
    pub times: usize,
}

impl Refuse {
    /// How much is bought for so much of what can be cooked. Buying back from a yield: 2 lb / 0.61 = 3.28 lb (USDA
    /// Food Buying Guide, App. B).
    pub fn bought(self, mass: Mass) -> Mass {
        let kept = 1.0 - self.share;
        match kept > 0.0 {
            true => mass.share(1.0 / kept),
            false => mass,
        }
    }
}

/// The table's share; nothing of what it does not have.
pub fn table_refuse(good: &Good) -> f64 {
    let food = good.food.and_then(|code| foods::table().get(code));
    food.map_or(0.0, |food| f64::from(food.refuse_percent) / 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn good(food: Option<u32>, words: &str) -> Good {
        Good {
            food: food.map(Code),
            key: words.to_owned(),
            words: words.to_owned(),
        }
    }

    fn grams(grams: i64) -> Mass {
        Mass::from_mg(grams * 1000)
    }

    fn trimmed(bought: i64, trimmed: i64) -> GoodFact {
        GoodFact::Trimmed {
            bought: grams(bought),
            trimmed: grams(trimmed),
        }
    }

    #[test]
    fn buying_back_from_a_yield() {
        // USDA Food Buying Guide, App. B: 2 lb / 0.61 = 3.28 lb.
        let pound = 453.592_37;
        let refuse = Refuse {
            share: 0.39,
            times: 1,
        };
        let needed = Mass::from_grams(2.0 * pound).expect("a mass");
        let bought = refuse.bought(needed).grams() / pound;
        assert!((bought - 3.28).abs() < 0.005, "{bought}");
    }

    #[test]
    fn ones_own_trimmings_go_before_the_table_and_the_middle_one_counts() {
        let parsnips = good(Some(11298), "parsnips");
        let mut goods = Goods::default();
        assert_eq!(goods.refuse(&parsnips).times, 0);
        goods.remember(EntryId(1), parsnips.clone(), trimmed(1150, 980));
        let own = goods.refuse(&parsnips);
        assert!((own.share - 170.0 / 1150.0).abs() < 1e-12);
        for (entry, left) in [(2, 900), (3, 800), (4, 850)] {
            goods.remember(
                EntryId(entry),
                good(Some(11298), "big parsnips"),
                trimmed(1000, left),
            );
        }
        // 0.1, 0.148, 0.15, 0.2: the middle of the two in the middle.
        let share = goods.refuse(&parsnips).share;
        assert!(
            (share - (170.0 / 1150.0 + 0.15) / 2.0).abs() < 1e-12,
            "{share}"
        );
        // Only the newest five count.
        for entry in 5..10 {
            goods.remember(EntryId(entry), parsnips.clone(), trimmed(1000, 700));
        }
        assert!((goods.refuse(&parsnips).share - 0.3).abs() < 1e-12);
        goods.forget(EntryId(9));
        assert_eq!(goods.refuse(&parsnips).times, 5);
    }

    #[test]
    fn the_newest_word_holds() {
        let salt = good(Some(2047), "salt");
        let mut goods = Goods::default();
        goods.remember(
            EntryId(1),
            salt.clone(),
            GoodFact::Cupboard(Cupboard::Always),
        );
        goods.remember(EntryId(2), salt.clone(), GoodFact::Cupboard(Cupboard::Out));
        assert_eq!(goods.cupboard(&salt), Some(Cupboard::Out));
        goods.forget(EntryId(2));
        assert_eq!(goods.cupboard(&salt), Some(Cupboard::Always));
        assert_eq!(
            goods.cupboard(&good(Some(2047), "table salt")),
            Some(Cupboard::Always)
        );
        assert_eq!(goods.cupboard(&good(None, "sugar")), None);
    }

    #[test]
    fn money_follows_the_mass() {
        let lentils = good(None, "lentils");
        let mut goods = Goods::default();
        let money = Money {
            hundredths: 240,
            currency: "€".into(),
        };
        let mass = grams(1000);
        goods.remember(EntryId(1), lentils.clone(), GoodFact::Price { money, mass });
        assert_eq!(goods.cost(&lentils, grams(1500)), Some((360.0, "€")));
    }
}
