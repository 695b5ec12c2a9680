//! How much of a dish people usually take: the middle one of what was put on plates lately.

use std::collections::BTreeMap;

use super::ids::*;
use super::kitchen::Kitchen;
use super::ledger::Account;
use super::mass::Mass;

/// So many of the newest plates tell what is usual now.
const PLATES_MAX: usize = 15;

impl Kitchen {
    /// The usual portion of a dish; `None`: nobody has eaten of it as far as the kitchen remembers.
    pub fn usual_portion(&self, component: ComponentId) -> Option<Mass> {
        let mut plates: BTreeMap<AccountId, Mass> = BTreeMap::new();
        let of_it = self.batches.values();
        let of_it = of_it.filter(|batch| batch.component == component && !batch.voided);
        let moves = of_it
            .flat_map(|batch| &batch.lots)
            .flat_map(|lot| &lot.moves);
        for moved in moves {
            if let Account::Plate(plate) = moved.other {
                *plates.entry(plate).or_default() -= moved.mass;
            }
        }
        // Plates are numbered in the order in which they were opened.
        let newest = plates.into_values().rev().filter(|mass| mass.mg() > 0);
        let earlier = self.eaten_before.get(&component).into_iter().flatten();
        let mut portions: Vec<Mass> = newest.chain(earlier.copied()).take(PLATES_MAX).collect();
        portions.sort();
        portions.get(portions.len() / 2).copied()
    }
}
