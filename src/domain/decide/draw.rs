//! Drawing from a batch: first expired, first out, and what to do when the books hold less.

use super::super::answer::{About, Note};
use super::super::batch::Batch;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::ledger::Account;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;

/// Scales drift: so much more than the books hold is recorded and said.
const DRIFT: Mass = Mass::from_mg(30_000);
/// Or such a share of the batch, whichever is more.
const DRIFT_SHARE: f64 = 0.1;

/// One piece of a draw: from this lot, so much.
pub struct Piece {
    pub batch: BatchId,
    pub lot: Account,
    pub mass: Mass,
}

/// What a draw comes to.
pub struct Drawn {
    pub pieces: Vec<Piece>,
    pub note: Option<Note>,
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

/// Cut a mass over the lots of these batches, in their order. What the books lack is taken from the
/// last batch, if it is within the drift of scales or confirmed: `Draft::settle` writes down the
/// difference, so that the batch ends at nothing and not below.
pub fn draw(
    draft: &Draft,
    batches: &[BatchId],
    mass: Mass,
    anyway: bool,
) -> Result<Drawn, TooMuch> {
    let mut wanted = mass;
    let mut pieces: Vec<Piece> = Vec::new();
    for id in batches {
        for lot in &draft.kitchen.batch(*id).lots {
            let take = wanted.min(lot.balance);
            if take.mg() > 0 {
                pieces.push(Piece {
                    batch: *id,
                    lot: Account::Lot(lot.id),
                    mass: take,
                });
                wanted -= take;
            }
        }
    }
    if wanted.is_zero() {
        return Ok(Drawn { pieces, note: None });
    }
    // Nothing is left of any: the first in the order is the one that was meant.
    let short = pieces.last().map_or(batches[0], |piece| piece.batch);
    let batch = draft.kitchen.batch(short);
    let unknown_weight = batch.estimated() && batch.raw_mass().is_zero();
    if !anyway && !unknown_weight && (pieces.is_empty() || !is_drift(batch, wanted)) {
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
    let name = batch.name.clone();
    let note = (!unknown_weight).then_some(Note::SlightlyMore { name, over: wanted });
    Ok(Drawn { pieces, note })
}

/// So much more than the books hold may be the scale's, with what was overdrawn before.
fn is_drift(batch: &Batch, wanted: Mass) -> bool {
    let before: Mass = batch.lots.iter().map(|lot| lot.overdrawn(batch)).sum();
    before + wanted <= DRIFT.max(batch.net_mass().share(DRIFT_SHARE))
}
