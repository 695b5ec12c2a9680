//! What stands there of a dish, as a plan sees it.

use chrono::NaiveDate;

use super::serve::Supply;
use crate::domain::batch::{Batch, Lot};
use crate::domain::ids::ComponentId;
use crate::domain::kitchen::Kitchen;
use crate::domain::mass::Mass;

impl Kitchen {
    /// How much of a dish lies frozen and is good.
    pub fn frozen(&self, dish: ComponentId, today: NaiveDate) -> Mass {
        let lots = self.standing(dish);
        let supplies = lots.filter_map(|(batch, lot)| self.supply(batch, lot, today));
        let frozen = supplies.filter(|supply| supply.lies_frozen);
        frozen.map(|supply| supply.mass).sum()
    }

    /// Its lots that hold more than crumbs.
    pub fn standing(&self, dish: ComponentId) -> impl Iterator<Item = (&Batch, &Lot)> {
        let open = self.open_batches();
        let of_it = open.filter(move |batch| batch.component == dish);
        let lots = of_it.flat_map(|batch| batch.lots.iter().map(move |lot| (batch, lot)));
        lots.filter(|(batch, lot)| lot.balance > batch.crumbs())
    }

    /// A lot as a plan sees it; `None`: it is past its date.
    pub fn supply(&self, batch: &Batch, lot: &Lot, today: NaiveDate) -> Option<Supply> {
        let ahead = |on: NaiveDate| u32::try_from((on - today).num_days()).ok();
        let due = match self.use_by(batch, lot) {
            Some(due) => ahead(due.on)?,
            None => u32::MAX,
        };
        let frozen = self.is_frozen(lot);
        Some(Supply {
            mass: lot.balance,
            from: 0,
            // What lies frozen is thawed the evening before it is eaten; today it can be thawed at once.
            until: if frozen { 0 } else { due },
            frozen_until: match frozen {
                true => Some(due),
                false => self.due_if_frozen(batch, lot, today).and_then(ahead),
            },
            lies_frozen: frozen,
        })
    }
}
