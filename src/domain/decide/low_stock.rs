//! That the last usual portion of a dish was drawn, said once: in the answer that drew it.

use std::collections::BTreeSet;

use super::super::change::Change;
use super::super::draft::Draft;
use super::super::ids::{BatchId, ComponentId};
use super::super::kitchen::Kitchen;
use super::super::ledger::EntryKind;
use super::super::mass::Mass;
use super::super::note::Note;
use super::super::origin::Origin;

pub fn noticed(draft: &Draft) -> Vec<Note> {
    let drawn = draft.changes.iter().filter_map(|change| match change {
        Change::Entry { entry, .. } if entry.kind == EntryKind::Portion => {
            entry.batch.filter(|batch| stands_by_itself(draft, *batch))
        }
        _ => None,
    });
    let dishes: BTreeSet<ComponentId> = drawn
        .map(|batch| draft.kitchen.batch(batch).component)
        .collect();
    dishes
        .into_iter()
        .filter_map(|dish| low(draft, dish))
        .collect()
}

/// What a meal left, and what was packed of others, is of the dishes in it.
fn stands_by_itself(draft: &Draft, batch: BatchId) -> bool {
    let origin = draft.kitchen.batch(batch).origin;
    !matches!(origin, Origin::Leftover | Origin::Boxed)
}

fn low(draft: &Draft, dish: ComponentId) -> Option<Note> {
    let par = draft.kitchen.prep.par(dish);
    let usual = draft.before.usual_portion(dish)?;
    let (before, left) = (held(draft.before, dish), held(&draft.kitchen, dish));
    let known = draft.kitchen.components.iter();
    let name = known.clone().find(|known| known.id == dish)?.name.clone();
    (before >= usual && left < usual).then_some(Note::LowStock { name, left, par })
}

/// What there is of it, ready and frozen.
fn held(kitchen: &Kitchen, dish: ComponentId) -> Mass {
    let known = kitchen.batches.values();
    let of_it = known.filter(|batch| batch.component == dish && !batch.voided);
    let lots = of_it.flat_map(|batch| &batch.lots);
    lots.map(|lot| lot.balance.max(Mass::ZERO)).sum()
}
