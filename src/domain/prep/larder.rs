//! Plain food that is bought: what of it is at home, and what runs low, below what is to be there or by how fast it goes.

use chrono::NaiveDate;

use super::goods::{Cupboard, Good, GoodFact, Goods};
use super::list::Wanted;
use super::planned::Planned;
use crate::domain::batch::Batch;
use crate::domain::ids::EntryId;
use crate::domain::kitchen::Kitchen;
use crate::domain::mass::Mass;
use crate::domain::origin::Origin;
use crate::domain::pace::Use;
use crate::domain::resolve::key;

impl Kitchen {
    /// What a batch of plain food was bought as.
    pub fn bought_as(&self, batch: &Batch) -> Option<Good> {
        let plain = batch.origin == Origin::Bought && !batch.voided;
        let line = batch.lines.first().filter(|_| plain)?;
        let food = self.food_of_line(line).map(|food| food.code);
        Some(Good {
            food,
            key: key(&batch.name),
            words: batch.name.clone(),
        })
    }

    /// How much of it is at home, by the books and by what was told of the cupboard; `None`: nobody told.
    pub fn at_home(&self, good: &Good) -> Option<Mass> {
        let told = match self.prep.goods.cupboard(good) {
            Some(Cupboard::Holds(mass)) => Some(mass),
            Some(Cupboard::Out) => Some(Mass::ZERO),
            Some(Cupboard::Always) | None => None,
        };
        let bought = self.batches.values().filter(|batch| {
            let own = self.bought_as(batch);
            own.is_some_and(|own| own.is(good))
        });
        let masses: Vec<Mass> = bought.map(Batch::left).collect();
        match (told, masses.is_empty()) {
            (None, true) => None,
            (told, _) => Some(told.unwrap_or(Mass::ZERO) + masses.into_iter().sum()),
        }
    }

    /// The goods, with what the books hold of them.
    pub fn goods_at_home(&self) -> Goods {
        let mut goods = self.prep.goods.clone();
        let bought = self
            .batches
            .values()
            .filter_map(|batch| self.bought_as(batch));
        for good in bought {
            if let Some(there) = self.at_home(&good).filter(|there| there.mg() > 0) {
                let holds = GoodFact::Cupboard(Cupboard::Holds(there));
                goods.remember(EntryId(i64::MAX), good, holds);
            }
        }
        goods
    }

    /// What has to be bought for a plan beside what its pots take, and the goods with what is at home of them.
    pub fn larder(&self, planned: &Planned) -> (Vec<Wanted>, Goods) {
        let mut goods = self.prep.goods.clone();
        let mut wanted: Vec<Wanted> = Vec::new();
        let mut want = |good: &Good, mass: Mass| {
            wanted.push(Wanted {
                good: good.clone(),
                mass: Some(mass),
                as_bought: true,
            });
        };
        for (good, mass) in goods.kept_at_home() {
            if self.at_home(&good).is_some() {
                want(&good, mass);
            }
        }
        let mut seen: Vec<Good> = Vec::new();
        let (today, begins) = (planned.today, planned.horizon.from);
        for batch in self.batches.values() {
            let Some(good) = self.bought_as(batch) else {
                continue;
            };
            if seen.iter().any(|known| known.is(&good)) {
                continue;
            }
            let mut eaten_before = Mass::ZERO;
            if let Some(appetite) = self.appetite(batch.component, today, Use::BesidePots) {
                let had = self.eaten_on(batch.component, today);
                let wants = |day: NaiveDate| {
                    let had = if day == today { had } else { Mass::ZERO };
                    Mass::ZERO.max(appetite.on(&self.eaters(day)) - had)
                };
                let before = today.iter_days().take_while(|day| *day < begins);
                eaten_before = before.map(wants).sum();
                want(&good, planned.horizon.days().into_iter().map(wants).sum());
            }
            // What the books hold is in the house as well.
            let there = self.at_home(&good).map(|there| there - eaten_before);
            if let Some(there) = there.filter(|there| there.mg() > 0) {
                let holds = GoodFact::Cupboard(Cupboard::Holds(there));
                goods.remember(EntryId(i64::MAX), good.clone(), holds);
            }
            seen.push(good);
        }
        wanted.retain(|wanted| wanted.mass.is_none_or(|mass| mass.mg() > 0));
        (wanted, goods)
    }
}
