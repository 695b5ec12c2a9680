//! What dishes made of others have in common: what goes into them keeps where it came from, so that its
//! nutrients and its dates follow.

use super::super::batch::LineState;
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;

/// Something that goes into a dish as it is.
pub struct Part {
    /// As it is told on the dish.
    pub text: String,
    pub from: Account,
    pub mass: Mass,
    pub estimated: bool,
    /// The plain food or packet, if it is one.
    pub profile: Option<ProfileId>,
    /// The batch that it is of, if it is of one.
    pub source: Option<BatchId>,
}

/// Put a part into a dish, under a number of its lines.
pub fn put_in(draft: &mut Draft, dish: BatchId, number: u32, part: Part) -> EntryId {
    let known = part.profile.is_some() || part.source.is_some();
    let detail = Detail::Ingredient {
        number,
        text: part.text,
        part: None,
        state: match known {
            true => LineState::Known,
            false => LineState::NoFood,
        },
        estimated: part.estimated,
        note: None,
        source: part.source,
    };
    let ends = (part.from, draft.pot(dish));
    let kind = EntryKind::Ingredient;
    draft.enter(
        kind,
        ends,
        part.mass,
        Some(dish),
        part.profile,
        Some(detail),
    )
}
