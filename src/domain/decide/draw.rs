//! Drawing from a batch: first expired, first out, and what to do when the books hold less.

use super::super::answer::About;
use super::super::batch::Batch;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::ledger::Account;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::stands::Places;
use super::shortage::{DRIFT, drift, lacking, weight_unknown};

/// A lot that differs by no more is told by its weight.
const SAME_LOT: Mass = Mass::from_mg(2_000);

/// One piece of a draw: from this lot, so much.
pub struct Piece {
    pub batch: BatchId,
    pub lot: Account,
    pub mass: Mass,
}

/// Which lots of its batches a draw is from.
#[derive(Clone, Copy)]
pub enum From<'a> {
    Any,
    /// Those that stand there, and no others; one of just that weight is meant before the rest.
    Places(&'a Places),
    /// This one before the others: it was drawn from before.
    First(Account),
}

impl<'a> From<'a> {
    pub fn told(places: Option<&'a Places>) -> Self {
        places.map_or(Self::Any, Self::Places)
    }
}

/// More than is left, by more than scales drift.
pub struct TooMuch {
    pub name: String,
    pub left: Mass,
    pub asked: Mass,
    /// What is left is what stands there.
    pub place: Option<String>,
}

impl TooMuch {
    pub fn problem(&self) -> ProblemKind {
        let name = self.name.clone();
        match &self.place {
            Some(place) if self.elsewhere().is_some() => ProblemKind::NotThere {
                name,
                place: place.clone(),
            },
            _ => ProblemKind::TooMuch {
                name,
                asked: self.asked,
                left: self.left,
            },
        }
    }

    /// What to offer where nothing stands in the place that was said.
    pub fn elsewhere(&self) -> Option<String> {
        let nothing_there = self.place.is_some() && self.left.is_zero();
        nothing_there.then(|| format!("{} g from where it stands", self.asked.grams()))
    }

    pub const ABOUT: About = About::Confirm;
}

/// Cut a mass over the lots of these batches, in their order: of what stands ready, and of each batch,
/// what is due first; what is frozen after all that. What the books lack is taken from the
/// last batch, if it is within the drift of scales or confirmed: `Draft::settle` writes down the
/// difference, so that the batch ends at nothing and not below, and `shortage` says it.
pub fn draw(
    draft: &Draft,
    batches: &[BatchId],
    mass: Mass,
    from: From<'_>,
    anyway: bool,
) -> Result<Vec<Piece>, TooMuch> {
    let mut wanted = mass;
    let mut pieces: Vec<Piece> = Vec::new();
    let mut lots = draft.kitchen.in_turn(batches);
    let mut place = None;
    match from {
        From::Any => {}
        From::First(account) => lots.sort_by_key(|(_, lot)| Account::Lot(lot.id) != account),
        From::Places(places) => {
            lots.retain(|(_, lot)| places.hold(lot));
            lots.sort_by_key(|(_, lot)| (lot.balance - mass).abs() > SAME_LOT);
            place = Some(places.said.clone());
        }
    }
    for (batch, lot) in lots {
        let take = wanted.min(lot.balance);
        if take.mg() > 0 {
            pieces.push(Piece {
                batch,
                lot: Account::Lot(lot.id),
                mass: take,
            });
            wanted -= take;
        }
    }
    if wanted.is_zero() {
        return Ok(pieces);
    }
    // Nothing is left of any: the first in the order is the one that was meant.
    let short = pieces.last().map_or(batches[0], |piece| piece.batch);
    let batch = draft.kitchen.batch(short);
    let elsewhere = place.is_some() && pieces.is_empty();
    let known = !anyway && !weight_unknown(batch);
    // What one place lacks may stand in another.
    let drifted = match place {
        Some(_) => wanted <= DRIFT,
        None => is_drift(batch, wanted),
    };
    if elsewhere || known && (pieces.is_empty() || !drifted) {
        return Err(TooMuch {
            name: batch.name.clone(),
            left: mass - wanted,
            asked: mass,
            place,
        });
    }
    match pieces.last_mut() {
        Some(piece) => piece.mass += wanted,
        None => pieces.push(Piece {
            batch: short,
            lot: draft.pot(short),
            mass: wanted,
        }),
    }
    Ok(pieces)
}

/// So much more than the books hold may be the scale's, with what was overdrawn before.
fn is_drift(batch: &Batch, wanted: Mass) -> bool {
    lacking(batch) + wanted <= drift(batch)
}
