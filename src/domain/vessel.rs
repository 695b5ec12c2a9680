//! What lots stand in: containers that the household knows by name, and bags whose empty weight is their own.

use super::batch::{Batch, Lot};
use super::ids::ContainerId;
use super::kitchen::{Container, Kitchen};
use super::mass::Mass;
use super::resolve::key;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Vessel {
    Named(ContainerId),
    /// A bag or tub without a name, which weighs so much empty.
    Bag(Mass),
}

/// A vessel as it is told of: what it weighs empty, and what stands in it.
#[derive(Debug, Clone, PartialEq)]
pub struct VesselView {
    pub name: String,
    /// `None`: nobody has said.
    pub tare: Option<Mass>,
    /// Dishes with how much of each the books have in it; `None` where it was not weighed yet.
    pub holds: Vec<(String, Option<Mass>)>,
}

impl Lot {
    /// What it stands in, as far as that was told.
    pub fn vessel(&self) -> Option<Vessel> {
        self.stood.last().and_then(|(_, vessel)| *vessel)
    }

    pub fn stands_in(&self, container: ContainerId) -> bool {
        self.vessel() == Some(Vessel::Named(container))
    }
}

impl Kitchen {
    pub fn container(&self, id: ContainerId) -> Option<&Container> {
        self.containers.iter().find(|known| known.id == id)
    }

    pub fn container_named(&self, name: &str) -> Option<&Container> {
        let wanted = key(name);
        let mut known = self.containers.iter();
        known.find(|container| key(&container.name) == wanted)
    }

    /// What a vessel weighs empty, if somebody knows.
    pub fn tare_of(&self, vessel: Vessel) -> Option<Mass> {
        match vessel {
            Vessel::Named(id) => self.container(id)?.tare(),
            Vessel::Bag(tare) => Some(tare),
        }
    }

    /// What the vessel that a lot stands in is called.
    pub fn vessel_name(&self, lot: &Lot) -> Option<&str> {
        match lot.vessel()? {
            Vessel::Named(id) => Some(&self.container(id)?.name),
            Vessel::Bag(_) => None,
        }
    }

    /// What stands in it by the books. What was emptied stands nowhere.
    pub fn standing_in(&self, container: ContainerId) -> Vec<(&Batch, &Lot)> {
        let all = self.open_batches();
        let all = all.flat_map(|batch| batch.lots.iter().map(move |lot| (batch, lot)));
        let holds = |batch: &Batch, lot: &Lot| batch.estimated() || lot.balance > batch.crumbs();
        all.filter(|(batch, lot)| lot.stands_in(container) && holds(batch, lot))
            .collect()
    }
}
