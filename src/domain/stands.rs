//! Where of a dish something is taken from, as its name tells: "freezer dal", "frozen dal", "garage freezer dal",
//! "glass jar dal".
//!
//! "140 dal from the freezer" comes here as "140 freezer dal": which of its lots is meant is told before a dish,
//! like which of its pots ("old dal").

use chrono::NaiveDate;

use super::batch::{Batch, Lot};
use super::ids::{BatchId, ContainerId, PlaceId};
use super::kitchen::{Kitchen, PlaceKind};
use super::named::{Batches, Named};
use super::resolve::{Resolved, Thing, Use, by_code, food_of, key};
use crate::lang;
use crate::lang::syntax::Words;

/// The places that are meant, or the vessel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Places {
    /// As it was said.
    pub said: String,
    ids: Vec<PlaceId>,
    /// What nobody has put anywhere is meant too: it is kept in the fridge.
    unplaced: bool,
    /// Not a place, but the vessel of this name.
    vessel: Option<ContainerId>,
}

impl Places {
    /// The place at the front of a name, and the name behind it.
    pub fn split<'t>(kitchen: &Kitchen, text: &'t str) -> Option<(Self, &'t str)> {
        let text = text.trim();
        let text = text.strip_prefix("the ").unwrap_or(text);
        // The longest first: "garage freezer dal" is no dal of a garage.
        let cuts = text.match_indices(' ').map(|(at, _)| at);
        let cuts: Vec<usize> = cuts.collect();
        cuts.into_iter().rev().find_map(|at| {
            let places = Self::named(kitchen, &text[..at])?;
            Some((places, text[at..].trim_start()))
        })
    }

    fn named(kitchen: &Kitchen, said: &str) -> Option<Self> {
        let said = key(said);
        let all = |meant: &dyn Fn(PlaceKind, &str) -> bool| -> Vec<PlaceId> {
            let places = kitchen.places.iter();
            let places = places.filter(|place| meant(place.kind(), &place.name));
            places.map(|place| place.id).collect()
        };
        let (ids, unplaced) = match said.as_str() {
            "freezer" | "frozen" => (all(&|kind, _| kind == PlaceKind::Freezer), false),
            "fridge" => (all(&|kind, _| kind == PlaceKind::Fridge), true),
            "thawed" | "defrosted" => (all(&|kind, _| kind != PlaceKind::Freezer), true),
            _ => (all(&|_, name| key(name) == said), false),
        };
        let vessel = kitchen.container_named(&said).map(|vessel| vessel.id);
        let vessel = vessel.filter(|_| ids.is_empty());
        let common =
            ["freezer", "frozen", "fridge", "thawed", "defrosted"].contains(&said.as_str());
        // Of a place that nobody has told of, nothing stands there by the books.
        let strange = lang::may_be_place(&said);
        let known = !ids.is_empty() || common || vessel.is_some() || strange;
        known.then_some(Self {
            said,
            ids,
            unplaced,
            vessel,
        })
    }

    /// The vessel that was named.
    pub fn vessel(&self) -> Option<ContainerId> {
        self.vessel
    }

    pub fn hold(&self, lot: &Lot) -> bool {
        match lot.place {
            _ if self.vessel.is_some() => self.vessel.is_some_and(|id| lot.stands_in(id)),
            Some(place) => self.ids.contains(&place),
            None => self.unplaced,
        }
    }

    /// Something of the batch stands there.
    pub fn hold_any_of(&self, batch: &Batch) -> bool {
        let mut lots = batch.lots.iter();
        lots.any(|lot| self.hold(lot) && lot.balance.mg() > 0)
    }

    /// Those of these batches of which something stands there, or all if there is none.
    pub fn among(&self, kitchen: &Kitchen, batches: Vec<BatchId>) -> Vec<BatchId> {
        let there = |id: &BatchId| self.hold_any_of(kitchen.batch(*id));
        let found: Vec<BatchId> = batches.iter().copied().filter(there).collect();
        if found.is_empty() { batches } else { found }
    }
}

/// "freezer dal": a dish by name, and where it is taken from. "Frozen peas" are a food, unless the household
/// keeps a dish of that name frozen.
pub(super) fn placed(
    kitchen: &Kitchen,
    words: &Words,
    used: Use,
    today: NaiveDate,
) -> Option<Resolved> {
    let text = words.text.trim();
    let batches = Batches {
        kitchen,
        today,
        used,
    };
    let (places, rest) = Places::split(kitchen, text)?;
    if matches!(batches.named(text, &key(text)), Named::Certain(_)) {
        return None;
    }
    let found = match (by_code(kitchen, rest), batches.named(rest, &key(rest))) {
        (Some(Thing::Batches(found)), _) | (_, Named::Certain(found)) => found,
        _ => return None,
    };
    let stands = found
        .iter()
        .any(|id| places.hold_any_of(kitchen.batch(*id)));
    let food = || food_of(kitchen, text, &key(text), used).is_ok();
    (stands || !food()).then(|| Resolved {
        thing: Thing::Batches(places.among(kitchen, found)),
        // Nobody told that it stands in that vessel: it is served from it, for all that the books know.
        from: Some(places).filter(|places| stands || places.vessel.is_none()),
        assumptions: Vec::new(),
    })
}
