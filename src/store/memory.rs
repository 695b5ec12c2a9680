//! What was read of households and still stands: the kitchen as the last decision left it, so that the next message
//! does not read again what nobody has changed.
//!
//! The file is the truth. A kitchen is taken out of here when a transaction looks at it, and comes back only when that
//! transaction has committed, carried forward by the very changes that it wrote. Whatever else writes of a household's
//! kitchen forgets it (`Transaction::forget`), and so does anybody else's write to the file.

use std::collections::HashMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::household::HouseholdId;
use crate::domain::kitchen::Kitchen;

/// Of more households those that were quiet longest are forgotten.
const HOUSEHOLDS_MAX: usize = 64;

#[derive(Debug, Default)]
pub(super) struct Memory(Mutex<Kept>);

#[derive(Debug, Default)]
struct Kept {
    kitchens: HashMap<HouseholdId, (u64, Kitchen)>,
    /// How many have ever come: the order in which they are forgotten.
    came: u64,
    /// What SQLite calls the version of the file, as other connections' writes raise it.
    version: Option<i64>,
}

impl Memory {
    fn kept(&self) -> MutexGuard<'_, Kept> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The kitchen of a household, if nobody else has written since.
    pub fn take(&self, household: HouseholdId, version: i64) -> Option<Kitchen> {
        let mut kept = self.kept();
        if kept.version.replace(version) != Some(version) {
            kept.kitchens.clear();
        }
        kept.kitchens.remove(&household).map(|(_, kitchen)| kitchen)
    }

    pub fn put(&self, household: HouseholdId, kitchen: Kitchen) {
        let mut kept = self.kept();
        kept.came += 1;
        let came = kept.came;
        kept.kitchens.insert(household, (came, kitchen));
        if kept.kitchens.len() > HOUSEHOLDS_MAX {
            let by_coming = kept.kitchens.iter().min_by_key(|(_, (came, _))| *came);
            if let Some(oldest) = by_coming.map(|(household, _)| *household) {
                kept.kitchens.remove(&oldest);
            }
        }
    }

    pub fn forget(&self, household: HouseholdId) {
        self.kept().kitchens.remove(&household);
    }

    pub fn forget_all(&self) {
        self.kept().kitchens.clear();
    }
}
