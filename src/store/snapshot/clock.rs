//! What of time to come an act has written.

use std::collections::BTreeMap;

use crate::domain::act::{Act, ActEntry};
use crate::domain::change::Detail;
use crate::domain::clock::ClockDetail;
use crate::domain::ledger::{Account, EntryKind};
use crate::store::Transaction;
use crate::store::error::Result;
use crate::store::household::HouseholdId;

impl Transaction {
    /// Fill in the details of facts that the first look has none for: a table of its own keeps them.
    pub(super) async fn clock_details(
        &mut self,
        household: HouseholdId,
        acts: &mut [Act],
    ) -> Result<()> {
        let untold = acts.iter().flat_map(|act| &act.entries);
        let ids: Vec<i64> = untold.filter(|it| is_untold_fact(it)).map(first).collect();
        let found = self.reminders(household, ids).await?;
        let found: BTreeMap<i64, _> = found.into_iter().map(|it| (it.entry.0, it.asked)).collect();
        if found.is_empty() {
            return Ok(());
        }
        let entries = acts.iter_mut().flat_map(|act| &mut act.entries);
        for entry in entries.filter(|it| is_untold_fact(it)) {
            let asked = found.get(&first(entry)).cloned();
            entry.detail = asked.map(|asked| Detail::Clock(ClockDetail::Reminder(asked)));
        }
        Ok(())
    }
}

/// The first entry of its chain, which the detail stands under.
fn first(entry: &ActEntry) -> i64 {
    entry.entry.root.unwrap_or(entry.entry.id).0
}

fn is_untold_fact(entry: &ActEntry) -> bool {
    let ends = [entry.entry.from, entry.entry.to];
    let fact = entry.entry.kind == EntryKind::Fact
        || entry.entry.kind == EntryKind::Reversal
            && ends.contains(&Account::Bought)
            && ends.contains(&Account::Origin);
    fact && entry.detail.is_none()
}
