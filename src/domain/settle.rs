//! Making the books true again after changes: a batch to its net weight, a counted lot to its count.

use super::batch::{Batch, Pour};
use super::change::Change;
use super::draft::Draft;
use super::estimate;
use super::ids::*;
use super::kitchen::Kitchen;
use super::ledger::{Account, EntryKind};
use super::mass::Mass;

impl Draft<'_> {
    /// Make the books true again after changes: a weighed, raw or estimated batch to its net
    /// weight, a counted lot to its count; and close what is empty.
    pub fn settle(&mut self) {
        let ids: Vec<BatchId> = self.kitchen.batches.keys().copied().collect();
        for id in &ids {
            self.settle_water(*id);
        }
        for id in ids {
            self.settle_differences(id);
        }
        self.close_and_reopen();
    }

    fn settle_water(&mut self, id: BatchId) {
        let batch = self.kitchen.batch(id);
        let Some(lot) = batch.lots.first().map(|lot| lot.id) else {
            return;
        };
        // A batch that was never cooked holds nothing, whatever else was said of it.
        let target = match batch.voided {
            true => Mass::ZERO,
            false => target_net(&self.kitchen, batch),
        };
        let difference = target - batch.net_mass();
        if !difference.is_zero() {
            // Water belongs to the pot as it was weighed, so it counts from then.
            let moment = self.occurred_at;
            self.occurred_at = batch.weighed_at().unwrap_or(batch.made_at);
            let ends = (Account::Water, Account::Lot(lot));
            self.enter(EntryKind::Settle, ends, difference, Some(id), None, None);
            self.occurred_at = moment;
        }
    }

    fn settle_differences(&mut self, id: BatchId) {
        let batch = self.kitchen.batch(id);
        let lots = batch.lots.iter();
        let lacking: Vec<_> = lots
            .flat_map(|lot| {
                let lacking = lot.unsettled(batch).into_iter();
                lacking.map(|lacking| (lot.id, lacking))
            })
            .collect();
        for (lot, lacking) in lacking {
            let now = std::mem::replace(&mut self.occurred_at, lacking.occurred_at);
            let ends = (lacking.account, Account::Lot(lot));
            self.enter(EntryKind::Settle, ends, lacking.mass, Some(id), None, None);
            self.occurred_at = now;
        }
    }

    fn close_and_reopen(&mut self) {
        let mut turned: Vec<(BatchId, bool)> = Vec::new();
        for batch in self.kitchen.batches.values() {
            let own = |account| batch.has_lot(account);
            let touched = self.changes.iter().any(
                |change| matches!(change, Change::Entry { entry, .. } if own(entry.from) || own(entry.to)),
            );
            let went_on = self.kitchen.was_topped_up(batch.id) && batch.left().mg() <= 0;
            let open = !batch.voided && !batch.is_finished() && !went_on;
            if touched && batch.open != open {
                turned.push((batch.id, open));
            }
        }
        for (batch, open) in turned {
            self.push(Change::SetOpen { batch, open });
        }
    }
}

/// The net weight that a batch is held to.
fn target_net(kitchen: &Kitchen, batch: &Batch) -> Mass {
    let whole = match (batch.weighed(), batch.first_count()) {
        (Some(reading), _) => reading.net(),
        // What was eaten before the count stood on no scale: it belongs to the whole.
        (None, Some(count)) => {
            let elsewhere = batch.lots.iter().skip(1);
            let elsewhere: Mass = elsewhere
                .map(|lot| lot.held_at(batch, count.occurred_at))
                .sum();
            count.net() + elsewhere + batch.drawn_by(count.occurred_at)
        }
        (None, None) if batch.is_put_together() => batch.raw_mass(),
        (None, None) => estimate::cooked_mass(kitchen, batch),
    };
    let weighed_at = batch.weighed_at();
    let later = |pour: &&Pour| weighed_at.is_none_or(|weighed_at| pour.occurred_at > weighed_at);
    whole - batch.pours.iter().filter(later).map(|pour| pour.mass).sum()
}
