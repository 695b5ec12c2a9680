//! What a lot held from moment to moment, and the differences that follow.
//!
//! A count says what a lot held at its moment; taking more than it held says that it held as much. Both
//! are statements about a moment, so the differences that they ask for are worked out from everything
//! that moved before it, however late that was written down or put right.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use super::batch::{Batch, Lot};
use super::ids::EntryId;
use super::ledger::{Account, Entry};
use super::mass::Mass;

/// What one entry, and whatever took it back or put it back, moved into a lot.
#[derive(Debug, Clone, PartialEq)]
pub struct Move {
    /// The first entry of the chain.
    pub entry: EntryId,
    pub occurred_at: DateTime<Utc>,
    /// The far end.
    pub other: Account,
    /// Into the lot, or, negative, out of it.
    pub mass: Mass,
}

/// The moment of a statement about a lot, and how much it says beyond the books.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    pub occurred_at: DateTime<Utc>,
    pub mass: Mass,
    pub counted: bool,
    /// What is missing was taken by somebody who did not weigh it.
    pub unweighed: bool,
}

impl Difference {
    /// The account that it is booked on.
    pub fn account(&self) -> Account {
        match self.unweighed {
            true => Account::Unweighed,
            false => Account::Difference,
        }
    }
}

/// What the books lack at one moment, or, negative, have too much, and on which account.
pub struct Unsettled {
    pub occurred_at: DateTime<Utc>,
    pub account: Account,
    pub mass: Mass,
}

enum Event {
    /// Into the pot, or poured from it.
    Cooked(Mass),
    Taken(Mass),
    Counted(Mass),
}

impl Lot {
    /// Note down what an entry moved; what is taken back whole leaves no trace.
    pub(super) fn note(&mut self, entry: &Entry, other: Account, mass: Mass) {
        self.balance += mass;
        let first = entry.root.unwrap_or(entry.id);
        let known = |moved: &Move| moved.entry == first;
        match self.moves.iter().position(known) {
            Some(at) => {
                self.moves[at].mass += mass;
                if self.moves[at].mass.is_zero() {
                    self.moves.remove(at);
                }
            }
            None if mass.is_zero() => {}
            None => {
                let place = self.moves.partition_point(|moved| moved.entry < first);
                let moved = Move {
                    entry: first,
                    occurred_at: entry.occurred_at,
                    other,
                    mass,
                };
                self.moves.insert(place, moved);
            }
        }
    }

    /// What it held at a moment, by everything that is known now.
    pub fn held_at(&self, batch: &Batch, moment: DateTime<Utc>) -> Mass {
        self.replay(batch, Some(moment)).0
    }

    /// What has left it and its batch, up to a moment: eaten, thrown away or put into other pots.
    pub fn drawn_by(&self, batch: &Batch, moment: DateTime<Utc>) -> Mass {
        let drawn = self.moves.iter().filter(|moved| {
            let used = match moved.other {
                Account::Plate(_) | Account::Waste => true,
                Account::Lot(_) => !batch.has_lot(moved.other),
                _ => false,
            };
            used && moved.mass.is_negative() && moved.occurred_at <= moment
        });
        -drawn.map(|moved| moved.mass).sum::<Mass>()
    }

    /// How much more has been taken than the books held, since the last count.
    pub fn overdrawn(&self, batch: &Batch) -> Mass {
        let differences = self.replay(batch, None).1;
        let since_count = differences
            .iter()
            .rev()
            .take_while(|difference| !difference.counted);
        since_count.map(|difference| difference.mass).sum()
    }

    /// What every statement about it says beyond the books, oldest first.
    pub fn differences(&self, batch: &Batch) -> Vec<Difference> {
        match batch.voided {
            true => Vec::new(),
            false => self.replay(batch, None).1,
        }
    }

    /// What its latest count says beyond the books.
    pub fn last_counted(&self, batch: &Batch) -> Option<Difference> {
        let mut differences = self.differences(batch).into_iter();
        differences.rfind(|difference| difference.counted)
    }

    /// By moment: the differences that the books lack, or, negative, have too many.
    pub fn unsettled(&self, batch: &Batch) -> Vec<Unsettled> {
        let mut lacking: BTreeMap<(DateTime<Utc>, bool), Mass> = BTreeMap::new();
        for wanted in self.differences(batch) {
            *lacking
                .entry((wanted.occurred_at, wanted.unweighed))
                .or_default() += wanted.mass;
        }
        let booked = self.moves.iter().filter(|moved| moved.other.is_of_counts());
        for booked in booked {
            let unweighed = booked.other == Account::Unweighed;
            *lacking.entry((booked.occurred_at, unweighed)).or_default() -= booked.mass;
        }
        lacking.retain(|_, mass| !mass.is_zero());
        let lacking = lacking.into_iter();
        lacking
            .map(|((occurred_at, unweighed), mass)| Unsettled {
                occurred_at,
                account: match unweighed {
                    true => Account::Unweighed,
                    false => Account::Difference,
                },
                mass,
            })
            .collect()
    }

    /// Whether somebody took of it, or of what it came from, without weighing: after a count, or ever, and up to
    /// a moment.
    pub fn was_taken_from(
        &self,
        batch: &Batch,
        after: Option<DateTime<Utc>>,
        until: DateTime<Utc>,
    ) -> bool {
        let between = |at: DateTime<Utc>| at <= until && after.is_none_or(|after| at > after);
        let mut own = batch.takings.iter().filter(|taking| taking.lot == self.id);
        own.any(|taking| between(taking.occurred_at))
            || after.is_none() && self.source_was_taken_from(batch)
    }

    /// The same since its last count, up to now: the books hold more than there is.
    pub fn is_taken_from(&self, batch: &Batch) -> bool {
        let counted = self.counts.iter().map(|count| count.occurred_at).max();
        self.was_taken_from(batch, counted, DateTime::<Utc>::MAX_UTC)
    }

    /// What was missing in the lot that it came from, when it was opened, is missing here.
    fn source_was_taken_from(&self, batch: &Batch) -> bool {
        let source = self.came_from.filter(|source| *source < self.id);
        let (Some(source), Some(opened)) = (source.and_then(|id| batch.lot(id)), self.opened_at())
        else {
            return false;
        };
        let before = source.counts.iter().rev();
        let mut before = before.map(|count| count.occurred_at);
        let counted = before.find(|counted| *counted <= opened);
        source.was_taken_from(batch, counted, opened)
    }

    /// When food first came into it.
    pub fn opened_at(&self) -> Option<DateTime<Utc>> {
        let into = self.moves.iter().filter(|moved| moved.mass.mg() > 0);
        into.map(|moved| moved.occurred_at).min()
    }

    /// Everything that happened to it in its order, up to a moment: what it then held, and the
    /// differences on the way.
    fn replay(&self, batch: &Batch, until: Option<DateTime<Utc>>) -> (Mass, Vec<Difference>) {
        let mut held = Mass::ZERO;
        let mut differences = Vec::new();
        let mut counted_at = None;
        for (occurred_at, event) in self.events(batch) {
            if until.is_some_and(|until| occurred_at > until) {
                break;
            }
            let said = match event {
                Event::Cooked(mass) => {
                    held += mass;
                    None
                }
                Event::Taken(mass) => {
                    held -= mass;
                    // The weight of an unweighed batch is a guess: it may go below nothing.
                    (held.is_negative() && !batch.estimated()).then_some((Mass::ZERO, false))
                }
                Event::Counted(counted) => Some((counted, true)),
            };
            let Some((said, counted)) = said else {
                continue;
            };
            let mass = said - held;
            let missing = counted && mass.is_negative();
            differences.push(Difference {
                occurred_at,
                mass,
                counted,
                unweighed: missing && self.was_taken_from(batch, counted_at, occurred_at),
            });
            held = said;
            if counted {
                counted_at = Some(occurred_at);
            }
        }
        (held, differences)
    }

    fn events(&self, batch: &Batch) -> Vec<(DateTime<Utc>, Event)> {
        let weighed_at = batch.weighed_at();
        // A weighing speaks of the whole: what was in the pot was there before anyone took from it.
        let first = DateTime::<Utc>::MIN_UTC;
        let moved = self.moves.iter().filter_map(|moved| {
            let taken = match moved.other {
                Account::Difference | Account::Unweighed => return None,
                Account::Poured => {
                    weighed_at.is_none_or(|weighed_at| moved.occurred_at > weighed_at)
                }
                Account::Water => false,
                _ => moved.mass.is_negative(),
            };
            // What was moved here from another lot was not in the pot.
            let brought = batch.has_lot(moved.other);
            let early =
                !taken && !brought && (weighed_at.is_some() || moved.other == Account::Water);
            let moment = if early { first } else { moved.occurred_at };
            let event = match taken {
                true => Event::Taken(-moved.mass),
                false => Event::Cooked(moved.mass),
            };
            Some((moment, moved.entry, event))
        });
        let counted = self.counts.iter().map(|count| {
            let event = Event::Counted(count.net());
            (count.occurred_at, count.entry, event)
        });
        let mut events: Vec<(DateTime<Utc>, EntryId, Event)> = moved.chain(counted).collect();
        events.sort_by_key(|(moment, entry, _)| (*moment, *entry));
        let events = events.into_iter();
        events.map(|(moment, _, event)| (moment, event)).collect()
    }
}
