//! Batches that are counted: fourteen meatballs, eight slices, four boxes.
//!
//! The books hold grams alone. A batch that was counted once tells by its net weight what a piece weighs, so
//! pieces become grams where they are taken, and grams pieces where they are shown.

use super::batch::{Batch, Lot};
use super::ids::{BatchId, EntryId};
use super::kitchen::Kitchen;
use super::mass::Mass;
use crate::lang::syntax::Amount;

/// A count of a whole batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Counted {
    pub entry: EntryId,
    pub count: u32,
    /// What was counted; `None`: the whole of the batch.
    pub of: Option<Mass>,
    /// What one is called, in the singular; `None`: by the batch's own name.
    pub word: Option<String>,
}

/// What is left beside so much of a whole piece is no piece: pieces differ in weight.
const CRUMB: f64 = 0.25;
/// Where halves are taken the books are no coarser than this.
const CRUMB_OF_HALVES: f64 = 0.02;

impl Batch {
    /// The count that holds.
    pub fn pieces(&self) -> Option<&Counted> {
        self.counted.last()
    }

    /// What one piece weighs on average, in grams.
    pub fn piece_grams(&self) -> Option<f64> {
        let counted = self.pieces()?;
        let grams = counted.of.unwrap_or_else(|| self.net_mass()).grams();
        (grams > 0.0).then(|| grams / f64::from(counted.count))
    }

    /// How many pieces a mass of it is.
    pub fn in_pieces(&self, mass: Mass) -> Option<f64> {
        Some(mass.grams() / self.piece_grams()?)
    }

    /// What its pieces are called by a word in the singular: "meatball" of "beef meatballs", or "slice".
    pub fn is_piece_word(&self, word: &str) -> bool {
        let told = self.pieces().and_then(|counted| counted.word.as_deref());
        let own = || super::resolve::key(&self.name).rsplit(' ').next() == Some(word);
        word == "piece" || told.map_or_else(own, |told| told == word)
    }

    /// Its own name counts its pieces: "2 meatballs", "2 boxes".
    fn is_named_by_piece(&self) -> bool {
        self.piece_name().is_some()
    }

    /// What its pieces are called by its own name, if it is counted in them.
    pub fn piece_name(&self) -> Option<String> {
        self.pieces()?;
        let name = super::resolve::key(&self.name);
        let last = name.rsplit(' ').next().unwrap_or_default();
        self.is_piece_word(last).then(|| last.to_owned())
    }
}

/// What an amount of a counted batch says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Said {
    /// So many pieces.
    Pieces(f64),
    /// As many pieces, or as many grams.
    Either(f64),
}

/// Nobody takes more pieces without saying that they are pieces.
const PIECES_USUAL: f64 = 24.0;

/// Whether an amount counts pieces of the first of these batches: by a word for them, or as a bare number, where
/// they are called by the batch's name. `None`: it does not.
pub fn said(kitchen: &Kitchen, batches: &[BatchId], amount: &Amount) -> Option<Said> {
    let batch = kitchen.batches.get(batches.first()?)?;
    let counted = batch.pieces()?;
    let each_grams = batch.piece_grams()?;
    match amount {
        Amount::Pieces { count, measure } => {
            let fits = match measure.as_slice() {
                [] => true,
                [word] => batch.is_piece_word(word),
                _ => false,
            };
            fits.then_some(Said::Pieces(*count))
        }
        // "120 meatballs" of fourteen are grams, "16" of them one too many.
        Amount::Bare(number) if batch.is_named_by_piece() && *number > 0.0 => {
            let halves = (number * 2.0).fract() == 0.0;
            let some = *number <= f64::from(counted.count);
            let a_piece = *number >= each_grams;
            let nearly = *number <= 2.0 * f64::from(counted.count);
            match (some, a_piece) {
                _ if !halves => None,
                (true, true) if *number > PIECES_USUAL => Some(Said::Either(*number)),
                (true, _) => Some(Said::Pieces(*number)),
                (false, false) if nearly => Some(Said::Pieces(*number)),
                (false, _) => None,
            }
        }
        _ => None,
    }
}

/// So many pieces as a mass, taken from these lots in their order. What they lack is reckoned as pieces of the
/// last one. `None`: the first of them was never counted.
pub fn mass_of<'a>(
    kitchen: &'a Kitchen,
    lots: impl IntoIterator<Item = (BatchId, &'a Lot)>,
    count: f64,
) -> Option<Mass> {
    let crumb = match count.fract() == 0.0 {
        true => CRUMB,
        false => CRUMB_OF_HALVES,
    };
    let mut wanted = count;
    let mut mass = Mass::ZERO;
    let mut each_grams = None;
    for (id, lot) in lots {
        let Some(each) = kitchen.batch(id).piece_grams() else {
            break;
        };
        each_grams = Some(each);
        let there = lot.balance.grams() / each;
        if there <= 0.0 {
            continue;
        }
        if wanted < there - crumb {
            mass += Mass::from_grams(wanted * each)?;
            wanted = 0.0;
        } else {
            mass += lot.balance;
            wanted = if wanted - there < crumb {
                0.0
            } else {
                wanted - there
            };
        }
        if wanted == 0.0 {
            return Some(mass);
        }
    }
    Some(mass + Mass::from_grams(wanted * each_grams?)?)
}
