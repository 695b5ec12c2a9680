//! What was read of households and still stands: the kitchen as the last decision left it, so that the next message
//! does not read again what nobody has changed.
//!
//! The file is the truth. A kitchen is taken out of here when a transaction looks at it, and comes back only when that
//! transaction has committed, carried forward by the very changes that it wrote. Whatever else writes of a household's
//! kitchen forgets it (`Transaction::forget`), and so does anybody else's write to the file.

use std::collections::{BTreeMap, HashMap};
use std::sync::{Mutex, MutexGuard, PoisonError};

use chrono::NaiveDate;

use super::household::HouseholdId;
use crate::domain::act::{Act, ActEntry};
use crate::domain::change::Change;
use crate::domain::ids::{BatchId, EntryId, MemberId};
use crate::domain::kitchen::Kitchen;

/// Of more households those that were quiet longest are forgotten.
const HOUSEHOLDS_MAX: usize = 64;

#[derive(Debug, Default)]
pub(super) struct Memory(Mutex<Kept>);

/// A kitchen, and how far it was seen.
#[derive(Debug)]
pub(super) struct Remembered {
    pub kitchen: Kitchen,
    pub seen: Seen,
}

/// What of a kitchen stands as it was read, beside what is carried forward.
#[derive(Debug, Default)]
pub(super) struct Seen {
    /// Everybody's plates from this day on are there.
    pub plates_since: Option<NaiveDate>,
    /// What was eaten of earlier pots is told for these batches, open or finished.
    pub eaten_of: Option<Vec<(BatchId, bool)>>,
    /// The newest acts of those who wrote lately, newest first.
    pub recent: BTreeMap<MemberId, Vec<Act>>,
}

impl Seen {
    /// A message has written what it tells of, and nothing before. `None`: it has changed what stood.
    pub fn write(&mut self, act: Option<Act>, private: bool) {
        if private {
            // What is told in private is known by the messages.
            self.plates_since = None;
        }
        let Some(act) = act else {
            *self = Self::default();
            return;
        };
        if let Some(known) = self.recent.get_mut(&act.member)
            && !act.entries.is_empty()
        {
            known.insert(0, act);
        }
    }
}

/// What a message of its own has written, if all of it is new.
pub(super) fn all_new(act: Act, changes: &[Change]) -> Option<Act> {
    let mut entries = Vec::new();
    for change in changes {
        let Change::Entry { entry, detail } = change else {
            continue;
        };
        if entry.root.is_some() {
            return None;
        }
        let (tip, detail) = (entry.id, detail.clone());
        entries.push(ActEntry {
            entry: entry.clone(),
            detail,
            live: true,
            tip,
            takes_back: false,
        });
    }
    Some(Act { entries, ..act })
}

/// Of somebody's acts, newest first, those that have one of so many of their newest entries, and of these only so many.
pub(super) fn newest(acts: &mut Vec<Act>, entries_max: usize, acts_max: usize) {
    let entries = acts.iter().flat_map(|act| &act.entries);
    let mut ids: Vec<EntryId> = entries.map(|entry| entry.entry.id).collect();
    ids.sort_by_key(|id| std::cmp::Reverse(*id));
    if let Some(oldest) = ids.get(entries_max - 1) {
        acts.retain(|act| act.entries.iter().any(|entry| entry.entry.id >= *oldest));
    }
    acts.truncate(acts_max);
}

#[derive(Debug, Default)]
struct Kept {
    kitchens: HashMap<HouseholdId, (u64, Remembered)>,
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
    pub fn take(&self, household: HouseholdId, version: i64) -> Option<Remembered> {
        let mut kept = self.kept();
        if kept.version.replace(version) != Some(version) {
            kept.kitchens.clear();
        }
        kept.kitchens.remove(&household).map(|(_, known)| known)
    }

    pub fn put(&self, household: HouseholdId, known: Remembered) {
        let mut kept = self.kept();
        kept.came += 1;
        let came = kept.came;
        kept.kitchens.insert(household, (came, known));
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
