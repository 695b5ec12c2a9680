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
struct Difference {
    occurred_at: DateTime<Utc>,
    mass: Mass,
    counted: bool,
}

enum Event {
    /// Into the pot, or poured from it.
    Cooked(Mass),
    Taken(Mass),
    Counted(Mass),
}

impl Lot {
    /// What counts and overdraws have added by the books, whether they still stand or not.
    pub fn difference(&self) -> Mass {
        let differences = self
            .moves
            .iter()
            .filter(|moved| moved.other == Account::Difference);
        differences.map(|moved| moved.mass).sum()
    }

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
            None => self.moves.push(Move {
                entry: first,
                occurred_at: entry.occurred_at,
                other,
                mass,
            }),
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

    /// By moment: the differences that the books lack, or, negative, have too many.
    pub fn unsettled(&self, batch: &Batch) -> BTreeMap<DateTime<Utc>, Mass> {
        let mut lacking: BTreeMap<DateTime<Utc>, Mass> = BTreeMap::new();
        let wanted = match batch.voided {
            true => Vec::new(),
            false => self.replay(batch, None).1,
        };
        for wanted in wanted {
            *lacking.entry(wanted.occurred_at).or_default() += wanted.mass;
        }
        let booked = self
            .moves
            .iter()
            .filter(|moved| moved.other == Account::Difference);
        for booked in booked {
            *lacking.entry(booked.occurred_at).or_default() -= booked.mass;
        }
        lacking.retain(|_, mass| !mass.is_zero());
        lacking
    }

    /// Everything that happened to it in its order, up to a moment: what it then held, and the
    /// differences on the way.
    fn replay(&self, batch: &Batch, until: Option<DateTime<Utc>>) -> (Mass, Vec<Difference>) {
        let mut held = Mass::ZERO;
        let mut differences = Vec::new();
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
            if let Some((said, counted)) = said {
                let mass = said - held;
                differences.push(Difference {
                    occurred_at,
                    mass,
                    counted,
                });
                held = said;
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
                Account::Difference => return None,
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
