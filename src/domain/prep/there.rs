//! What stands there of a dish on the day on which a plan begins.

use chrono::{Days, NaiveDate};

use super::serve::Supply;
use crate::domain::batch::{Batch, Lot};
use crate::domain::ids::ComponentId;
use crate::domain::kitchen::Kitchen;
use crate::domain::mass::Mass;

/// What a plan finds there.
#[derive(Debug, Clone, PartialEq)]
pub struct There {
    /// What is good on the day.
    pub lots: Vec<LotThere>,
    /// What has to be frozen before the plan begins, and by when: else it would pass its date, uneaten.
    pub freeze: Vec<(NaiveDate, Mass)>,
    /// Of what stands here today: eaten before that day.
    pub eaten: Mass,
    /// Past its date by then.
    pub past: Mass,
}

#[derive(Debug, Clone, PartialEq)]
pub struct LotThere {
    pub supply: Supply,
    /// The last day on which it can be frozen so that it may thaw overnight, if there is one left.
    pub freeze_by: NaiveDate,
    /// Thawed in the evening it is still good on the next day; else it thaws on the day on which it is eaten.
    pub thaws_overnight: bool,
}

impl There {
    pub fn good(&self) -> Mass {
        self.lots.iter().map(|lot| lot.supply.mass).sum()
    }
}

/// A lot, and what will be left of it.
struct Left<'a> {
    batch: &'a Batch,
    lot: &'a Lot,
    mass: Mass,
    /// `None`: nobody says.
    due: Option<NaiveDate>,
}

impl Left<'_> {
    fn is_good(&self, day: NaiveDate) -> bool {
        self.due.is_none_or(|due| due >= day)
    }
}

impl Kitchen {
    /// How much of a dish lies frozen and is good.
    pub fn frozen(&self, dish: ComponentId, today: NaiveDate) -> Mass {
        let there = self.there(dish, (today, today), |_| Mass::ZERO);
        let supplies = there.lots.iter().map(|lot| lot.supply);
        let frozen = supplies.filter(|supply| supply.lies_frozen);
        frozen.map(|supply| supply.mass).sum()
    }

    /// What there is of a dish when a plan begins: until then each day eats what it wants of what stands ready and is due
    /// first, then of what is frozen, as plates are drawn.
    pub fn there(
        &self,
        dish: ComponentId,
        (today, begins): (NaiveDate, NaiveDate),
        wants: impl Fn(NaiveDate) -> Mass,
    ) -> There {
        let mut lots: Vec<Left> = self.standing(dish).collect();
        lots.sort_by_key(|left| {
            let due = left.due.unwrap_or(NaiveDate::MAX);
            (self.is_frozen(left.lot), due)
        });
        let mut eaten = Mass::ZERO;
        for day in today.iter_days().take_while(|day| *day < begins) {
            let mut open = wants(day);
            for left in lots.iter_mut().filter(|left| left.is_good(day)) {
                let taken = left.mass.min(open);
                left.mass -= taken;
                open -= taken;
                eaten += taken;
            }
        }
        let (mut good, mut freeze, mut past) = (Vec::new(), Vec::new(), Mass::ZERO);
        for left in lots.iter().filter(|left| left.mass.mg() > 0) {
            if left.is_good(begins) {
                good.push(self.lot_there(left, begins));
            } else if let Some(lot) = self.frozen_by_then(left, (today, begins)) {
                freeze.push((lot.freeze_by, left.mass));
                good.push(lot);
            } else {
                past += left.mass;
            }
        }
        There {
            lots: good,
            freeze,
            eaten,
            past,
        }
    }

    /// What stands ready, would pass its date before the plan begins, and is good by then if it is frozen in time.
    fn frozen_by_then(
        &self,
        left: &Left,
        (today, begins): (NaiveDate, NaiveDate),
    ) -> Option<LotThere> {
        let due = left
            .due
            .filter(|due| *due >= today && !self.is_frozen(left.lot))?;
        let freeze_by = due.pred_opt()?.max(today);
        let frozen_due = self.due_if_frozen(left.batch, left.lot, freeze_by)?;
        let until = u32::try_from((frozen_due - begins).num_days()).ok()?;
        Some(LotThere {
            supply: Supply {
                mass: left.mass,
                from: 0,
                until: 0,
                frozen_until: Some(until),
                lies_frozen: true,
            },
            freeze_by,
            thaws_overnight: freeze_by < due,
        })
    }

    /// Lots of a dish that hold more than crumbs.
    fn standing(&self, dish: ComponentId) -> impl Iterator<Item = Left<'_>> {
        let open = self.open_batches();
        let of_it = open.filter(move |batch| batch.component == dish);
        let lots = of_it.flat_map(|batch| batch.lots.iter().map(move |lot| (batch, lot)));
        let lots = lots.filter(|(batch, lot)| lot.balance > batch.crumbs());
        lots.map(|(batch, lot)| Left {
            batch,
            lot,
            mass: lot.balance,
            due: self.use_by(batch, lot).map(|due| due.on),
        })
    }

    /// A lot as a plan sees it that begins on a day on which it is good.
    fn lot_there(&self, left: &Left, begins: NaiveDate) -> LotThere {
        let Left { batch, lot, .. } = *left;
        let ahead = |on: NaiveDate| u32::try_from((on - begins).num_days()).ok();
        let due = left.due.and_then(ahead).unwrap_or(u32::MAX);
        let lies_frozen = self.is_frozen(lot);
        let thaws_overnight = match lies_frozen {
            true => {
                let thawed = self.due_if(batch, lot, (begins, false));
                thawed.is_none_or(|due| due > begins)
            }
            false => due > 0,
        };
        LotThere {
            supply: Supply {
                mass: left.mass,
                from: 0,
                // What lies frozen is thawed the evening before it is eaten; today it can be thawed at once.
                until: if lies_frozen { 0 } else { due },
                frozen_until: match lies_frozen {
                    true => Some(due),
                    false => self.due_if_frozen(batch, lot, begins).and_then(ahead),
                },
                lies_frozen,
            },
            freeze_by: begins + Days::new(u64::from(due.min(366).saturating_sub(1))),
            thaws_overnight,
        }
    }
}
