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
        let newest = self.plates_of(component).into_values().rev();
        let earlier = self.eaten_before.get(&component).into_iter().flatten();
        let mut portions: Vec<Mass> = newest.chain(earlier.copied()).take(PLATES_MAX).collect();
        portions.sort();
        portions
    }

    /// What one of them usually takes of it, as far as their plates are loaded.
    pub fn own_portion(&self, component: ComponentId, member: MemberId) -> Option<Mass> {
        let plates = self.plates_of(component).into_iter().rev();
        let own = plates.filter(|(plate, _)| self.eater(Account::Plate(*plate)) == Some(member));
        let mut own: Vec<Mass> = own.map(|(_, mass)| mass).take(PLATES_MAX).collect();
        own.sort();
        own.get(own.len() / 2).copied()
    }

    /// What each takes who eats here, on the average of their own usual portions: one eats more than another.
    pub fn portion_each(&self, component: ComponentId) -> Option<Mass> {
        let mut own: BTreeMap<MemberId, Vec<Mass>> = BTreeMap::new();
        for (plate, mass) in self.plates_of(component) {
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

    /// What is on plates of it. They are numbered in the order in which they were opened.
    fn plates_of(&self, component: ComponentId) -> BTreeMap<AccountId, Mass> {
        let mut plates: BTreeMap<AccountId, Mass> = BTreeMap::new();
        let of_it = self.batches.values();
        let of_it = of_it.filter(|batch| batch.component == component && !batch.voided);
        let lots = of_it.flat_map(|batch| &batch.lots);
        for moved in lots.flat_map(|lot| &lot.moves) {
            if let Account::Plate(plate) = moved.other {
                *plates.entry(plate).or_default() -= moved.mass;
            }
        }
        plates.retain(|_, mass| mass.mg() > 0);
        plates
    }
}
