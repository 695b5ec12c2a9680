//! What became of a batch since it was made, in the order in which it happened. Derived from what has moved in
//! and out of its lots; what was taken back has left no trace.

use chrono::{DateTime, NaiveDateTime, Utc};

use super::batch::{Batch, Lot};
use super::ids::*;
use super::kitchen::Kitchen;
use super::ledger::Account;
use super::mass::Mass;
use super::moves::Move;

/// What one message asked for: the story of one pot.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryAnswer {
    pub name: String,
    pub batch: String,
    /// Other pots of the same dish.
    pub others: Vec<String>,
    pub lines: Vec<Happened>,
    pub left: Mass,
    pub estimated: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Happened {
    /// By the kitchen's own clock.
    pub at: NaiveDateTime,
    pub what: What,
    pub mass: Mass,
    /// What was left of the batch after it.
    pub left: Mass,
    /// Who wrote it down. Whose plate it was is told to nobody else.
    pub by: Option<String>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum What {
    Made,
    /// By the one who asks, or by somebody.
    Eaten {
        own: bool,
    },
    EatenUnweighed,
    /// With the reason that was told.
    ThrownAway {
        reason: Option<String>,
    },
    /// Into another pot.
    Used {
        name: String,
        batch: String,
    },
    /// To another place.
    Moved {
        to: Option<String>,
    },
    /// The scale said so much of what stood there; the mass is what that was more than the books.
    Counted {
        counted: Mass,
    },
    /// More was there than the books held, or less, as what was taken or counted shows.
    Difference,
}

/// One thing that happened, before it has a place in the story.
struct Event {
    occurred_at: DateTime<Utc>,
    entry: EntryId,
    what: What,
    /// The far end of what moved.
    to: Option<Account>,
    /// How the batch changes by it.
    change: Mass,
    mass: Mass,
}

impl Kitchen {
    /// The story of a batch as this member may read it.
    pub fn history(&self, batch: &Batch, reader: MemberId) -> Vec<Happened> {
        let mut events: Vec<Event> = Vec::new();
        for lot in &batch.lots {
            let moves = lot.moves.iter();
            events.extend(moves.filter_map(|moved| self.event(batch, lot, moved, reader)));
            events.extend(agreeing_counts(lot));
        }
        events.sort_by_key(|event| (event.occurred_at, event.entry));
        let made = Event {
            occurred_at: batch.made_at,
            entry: EntryId(0),
            what: What::Made,
            to: None,
            change: batch.net_mass(),
            mass: batch.net_mass(),
        };
        let mut left = Mass::ZERO;
        let mut lines: Vec<Happened> = Vec::new();
        for event in std::iter::once(made).chain(joined(events)) {
            left += event.change;
            let by = self.authors.get(&event.entry);
            let by = by.and_then(|id| self.member(*id));
            lines.push(Happened {
                at: event
                    .occurred_at
                    .with_timezone(&self.settings().zone)
                    .naive_local(),
                by: by
                    .filter(|_| !matches!(event.what, What::Eaten { .. }))
                    .map(|member| member.name.clone()),
                what: event.what,
                mass: event.mass,
                left,
            });
        }
        lines
    }

    fn event(&self, batch: &Batch, lot: &Lot, moved: &Move, reader: MemberId) -> Option<Event> {
        let what = match moved.other {
            Account::Plate(plate) => What::Eaten {
                own: self
                    .plate(plate)
                    .is_some_and(|plate| plate.member == reader),
            },
            Account::Unweighed => What::EatenUnweighed,
            Account::Waste => What::ThrownAway {
                reason: batch.reason(moved.entry).map(str::to_owned),
            },
            Account::Difference => {
                let count = lot.counts.iter().find(|count| count.entry == moved.entry);
                count.map_or(What::Difference, |count| What::Counted {
                    counted: count.net(),
                })
            }
            Account::Lot(_) if batch.has_lot(moved.other) => {
                // It is told where it went to, once.
                if moved.mass.is_negative() {
                    return None;
                }
                let to = lot.place.and_then(|id| self.place(id));
                What::Moved {
                    to: to.map(|place| place.name.clone()),
                }
            }
            Account::Lot(id) if moved.mass.is_negative() => {
                let mut batches = self.batches.values();
                let used = batches.find(|other| other.lot(id).is_some())?;
                What::Used {
                    name: used.name.clone(),
                    batch: used.code.clone(),
                }
            }
            // What went into the pot, and what was poured off, made it.
            Account::Lot(_)
            | Account::Bought
            | Account::Water
            | Account::Poured
            | Account::Origin => {
                return None;
            }
        };
        let inside = matches!(what, What::Moved { .. });
        Some(Event {
            occurred_at: moved.occurred_at,
            entry: moved.entry,
            to: Some(moved.other),
            change: if inside { Mass::ZERO } else { moved.mass },
            mass: match what {
                What::Counted { .. } | What::Difference => moved.mass,
                _ => moved.mass.abs(),
            },
            what,
        })
    }
}

/// Counts that found what the books held: they moved nothing.
fn agreeing_counts(lot: &Lot) -> impl Iterator<Item = Event> + '_ {
    let differs = |entry| lot.moves.iter().any(|moved| moved.entry == entry);
    let counts = lot.counts.iter().filter(move |count| !differs(count.entry));
    counts.map(|count| Event {
        occurred_at: count.occurred_at,
        entry: count.entry,
        what: What::Counted {
            counted: count.net(),
        },
        to: None,
        change: Mass::ZERO,
        mass: Mass::ZERO,
    })
}

/// What several lots gave in one go is one thing that happened.
fn joined(events: Vec<Event>) -> Vec<Event> {
    let mut told: Vec<Event> = Vec::new();
    for event in events {
        match told.iter_mut().find(|known| known.goes_with(&event)) {
            Some(known) => {
                known.change += event.change;
                known.mass += event.mass;
            }
            None => told.push(event),
        }
    }
    told
}

impl Event {
    fn goes_with(&self, other: &Self) -> bool {
        let away = matches!(
            self.to,
            Some(Account::Plate(_) | Account::Waste | Account::Unweighed)
        );
        away && (self.occurred_at, self.to) == (other.occurred_at, other.to)
    }
}
