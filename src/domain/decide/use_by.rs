//! A date that is printed on what stands here.

use super::super::answer::{Answer, UseByAnswer};
use super::super::batch::Lot;
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::{AccountId, BatchId};
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::super::view;
use super::{Done, Step, find};
use crate::lang::syntax::{Day, Words};

pub fn tell(draft: &mut Draft, name: &Words, place: Option<&Words>, on: &Day) -> Step {
    let on = find::printed_date(on, draft.today())?;
    let found = find::batches(draft, name)?;
    let lots: Vec<(BatchId, AccountId)> = standing(draft, &found, place);
    let Some((first, _)) = lots.first() else {
        let name = draft.kitchen.batch(found[0]).name.clone();
        return Err(ProblemKind::UsedUp { name, food: None }.into());
    };
    let made = draft.kitchen.batch(*first);
    if made.dated && on < made.made_on {
        let (made, use_by) = (made.made_on, on);
        return Err(ProblemKind::DateOrder { made, use_by }.into());
    }
    for (batch, lot) in &lots {
        write(draft, *batch, *lot, on);
    }
    let views = lots.iter().filter_map(|(batch, lot)| {
        let batch = draft.kitchen.batch(*batch);
        Some(view::lot(&draft.kitchen, batch, batch.lot(*lot)?))
    });
    Ok(Done::saying(Answer::UseBy(UseByAnswer {
        told: on,
        lots: views.collect(),
        today: draft.today(),
        message: draft.credit,
    })))
}

/// Write down the date of a lot.
pub fn write(draft: &mut Draft, batch: BatchId, lot: AccountId, on: chrono::NaiveDate) {
    let ends = (Account::Bought, Account::Lot(lot));
    let detail = Some(Detail::ToldDate { lot, on });
    draft.enter(EntryKind::Fact, ends, Mass::ZERO, Some(batch), None, detail);
}

/// The lots that hold something of the first batch that does, in the place that was named.
fn standing(draft: &Draft, found: &[BatchId], place: Option<&Words>) -> Vec<(BatchId, AccountId)> {
    let of = |id: BatchId| {
        let batch = draft.kitchen.batch(id);
        let named = move |lot: &&Lot| {
            let own = lot.place.and_then(|id| draft.kitchen.place(id));
            place.is_none_or(|place| own.is_some_and(|own| key(&own.name) == key(&place.text)))
        };
        let holding = batch
            .lots
            .iter()
            .filter(|lot| lot.balance.mg() > 0)
            .filter(named);
        holding.map(|lot| (id, lot.id)).collect::<Vec<_>>()
    };
    let mut each = found.iter().map(|id| of(*id));
    each.find(|lots| !lots.is_empty()).unwrap_or_default()
}
