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
        let portions = self.portions(component);
        portions.get(portions.len() / 2).copied()
    }

    /// What people took of it lately, from the least to the most.
    pub fn portions(&self, component: ComponentId) -> Vec<Mass> {
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
        portions
    }

    /// What each takes who eats here, on the average of their own usual portions: one eats more than another.
    pub fn portion_each(&self, component: ComponentId) -> Option<Mass> {
        let mut own: BTreeMap<MemberId, Vec<Mass>> = BTreeMap::new();
        let of_it = self.batches.values();
        let of_it = of_it.filter(|batch| batch.component == component && !batch.voided);
        let lots = of_it.flat_map(|batch| &batch.lots);
        let mut plates: BTreeMap<AccountId, Mass> = BTreeMap::new();
        for moved in lots.flat_map(|lot| &lot.moves) {
            if let Account::Plate(plate) = moved.other {
                *plates.entry(plate).or_default() -= moved.mass;
            }
        }
        for (plate, mass) in plates.into_iter().filter(|(_, mass)| mass.mg() > 0) {
            let eats = |id: &MemberId| {
                let member = self.member(*id);
                member.is_some_and(|member| self.eats_here(member))
            };
            if let Some(member) = self.eater(Account::Plate(plate)).filter(eats) {
                own.entry(member).or_default().push(mass);
            }
        }
        let middles = own.into_values().map(|mut masses| {
            masses.sort();
            masses[masses.len() / 2].grams()
        });
        let middles: Vec<f64> = middles.collect();
        let mean = middles.iter().sum::<f64>() / middles.len().max(1) as f64;
        Mass::from_grams(mean).filter(|mass| mass.mg() > 0)
    }
}
