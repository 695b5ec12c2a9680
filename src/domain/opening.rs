//! What a decision opens: batches, their lots, the components and places that they are of and in.

use chrono::{DateTime, Utc};

use super::batch::{Batch, Lot};
use super::change::Change;
use super::draft::Draft;
use super::ids::*;
use super::kitchen::{Component, Place, PlaceKind, kind_of_name};
use super::ledger::{Account, EntryKind};
use super::mass::Mass;
use super::origin::Origin;
use super::resolve::key;

/// What a batch is opened with.
pub struct Opening<'a> {
    pub name: &'a str,
    pub raw: bool,
    pub origin: Origin,
    pub made_at: DateTime<Utc>,
    /// Somebody knows when it was made.
    pub dated: bool,
    pub place: Option<PlaceId>,
}

impl Draft<'_> {
    pub fn component(&mut self, name: &str) -> ComponentId {
        let key = key(name);
        if let Some(known) = self
            .kitchen
            .components
            .iter()
            .find(|known| known.key == key)
        {
            return known.id;
        }
        let id = ComponentId(self.kitchen.next.component);
        let name = name.to_owned();
        self.push(Change::Component(Component { id, name, key }));
        id
    }

    /// Open a batch with its first lot, and write down that it was opened.
    pub fn open_batch(&mut self, opening: &Opening) -> BatchId {
        let Opening {
            name,
            raw,
            origin,
            made_at,
            dated,
            place,
        } = *opening;
        let component = self.component(name);
        let id = BatchId(self.kitchen.next.batch);
        let own_yield = match origin == Origin::Cooked && !raw {
            true => self.kitchen.own_yield(component),
            false => None,
        };
        self.push(Change::Batch(Batch {
            code: code(name, id),
            name: name.to_owned(),
            dated,
            raw,
            origin,
            own_yield,
            ..Batch::opened(id, component, (made_at, self.day_of(made_at)))
        }));
        let lot = self.open_lot(id, place, None);
        let ends = (Account::Bought, Account::Lot(lot));
        self.enter(EntryKind::Batch, ends, Mass::ZERO, Some(id), None, None);
        id
    }

    /// Open a lot of a batch, from today on if it was moved out of another.
    pub fn open_lot(
        &mut self,
        batch: BatchId,
        place: Option<PlaceId>,
        came_from: Option<AccountId>,
    ) -> AccountId {
        let id = AccountId(self.kitchen.next.account);
        let since = came_from.map(|_| self.day_of(self.occurred_at));
        let lot = Lot {
            id,
            place,
            came_from,
            since,
            told: Vec::new(),
            stood: Vec::new(),
            balance: Mass::ZERO,
            moves: Vec::new(),
            counts: Vec::new(),
        };
        self.push(Change::Lot { batch, lot });
        id
    }

    /// The lot that stands for the pot.
    pub fn pot(&self, batch: BatchId) -> Account {
        let lots = &self.kitchen.batch(batch).lots;
        Account::Lot(lots.first().expect("a batch has a lot from its opening").id)
    }

    pub fn place(&mut self, name: &str) -> PlaceId {
        let name = name.trim().to_lowercase();
        let name = name.strip_prefix("the ").unwrap_or(&name);
        if let Some(known) = self.kitchen.places.iter().find(|place| place.name == name) {
            return known.id;
        }
        let id = PlaceId(self.kitchen.next.place);
        self.push(Change::Place(Place {
            id,
            name: name.to_owned(),
            opened_as: kind_of_name(name).unwrap_or(PlaceKind::Counter),
            told: Vec::new(),
        }));
        id
    }
}

/// The short code of a batch: the first letter of its last word, and its number.
fn code(name: &str, id: BatchId) -> String {
    let letter = key(name)
        .rsplit(' ')
        .next()
        .and_then(|word| word.chars().next())
        .filter(char::is_ascii_alphabetic)
        .map_or('B', |letter| letter.to_ascii_uppercase());
    format!("{letter}{}", id.0)
}
