//! Drawing from a batch: first expired, first out, and what to do when the books hold less.

use super::super::answer::About;
use super::super::batch::Batch;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::ledger::Account;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::shortage::{drift, lacking, weight_unknown};

/// One piece of a draw: from this lot, so much.
pub struct Piece {
    pub batch: BatchId,
    pub lot: Account,
    pub mass: Mass,
}

/// More than is left, by more than scales drift.
pub struct TooMuch {
    pub name: String,
    pub left: Mass,
    pub asked: Mass,
}

impl TooMuch {
    pub fn problem(&self) -> ProblemKind {
        ProblemKind::TooMuch {
            name: self.name.clone(),
            asked: self.asked,
            left: self.left,
        }
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
    anyway: bool,
) -> Result<Vec<Piece>, TooMuch> {
    let mut wanted = mass;
    let mut pieces: Vec<Piece> = Vec::new();
    for (batch, lot) in draft.kitchen.in_turn(batches) {
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
    if !anyway && !weight_unknown(batch) && (pieces.is_empty() || !is_drift(batch, wanted)) {
        return Err(TooMuch {
            name: batch.name.clone(),
            left: mass - wanted,
            asked: mass,
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
