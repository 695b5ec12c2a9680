//! How long the household itself keeps a component: told, and taken back to what the chart says.

use super::super::answer::{Answer, KeepsAnswer, KeptView};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::{BatchId, ComponentId};
use super::super::keeping::{Keeps, Span, Storage, chart};
use super::super::kitchen::OwnDays;
use super::super::stock::LotView;
use super::super::view;
use super::{Done, Step, find};
use crate::lang::syntax::KeepsFor;

pub fn keep(draft: &mut Draft, told: &KeepsFor) -> Step {
    let found = find::batches(draft, &told.name)?;
    let batch = draft.kitchen.batch(found[0]);
    let (id, component, name) = (batch.id, batch.component, batch.name.clone());
    let mut kept = Vec::new();
    for storage in storages(draft, told, component) {
        let keeps = told.time;
        draft.fact(Detail::OwnDays(OwnDays {
            component,
            storage,
            keeps,
        }));
        kept.push(view_of(draft, id, storage, keeps));
    }
    Ok(Done::saying(Answer::Keeps(KeepsAnswer {
        name,
        kept,
        lots: standing(draft, component),
        today: draft.today(),
        message: draft.credit,
    })))
}

/// Days are those of the fridge, months those of the freezer, unless it was said; back to the chart goes whatever
/// was told before.
fn storages(draft: &Draft, told: &KeepsFor, component: ComponentId) -> Vec<Storage> {
    if let Some(storage) = told.storage {
        return vec![storage];
    }
    match told.time {
        Some(Span::Days(_)) => vec![Storage::Fridge],
        Some(Span::Months(_)) => vec![Storage::Freezer],
        None => {
            let all = [Storage::Fridge, Storage::Thawed, Storage::Freezer];
            let set = |storage: &Storage| draft.kitchen.own_keeps(component, *storage).is_some();
            let set: Vec<Storage> = all.into_iter().filter(set).collect();
            if set.is_empty() {
                vec![Storage::Fridge]
            } else {
                set
            }
        }
    }
}

/// What holds now, and the chart beside it where it is shorter.
fn view_of(draft: &Draft, id: BatchId, storage: Storage, told: Option<Span>) -> KeptView {
    let kinds = draft.kitchen.kinds(draft.kitchen.batch(id));
    let region = draft.kitchen.settings().guidance;
    let chart = chart::keeps(&kinds, storage, region);
    let longer = |chart: &Keeps| told.is_some_and(|told| told.days() > chart.until.days());
    KeptView {
        storage,
        keeps: told.map(Keeps::as_set).or(chart),
        chart: chart.filter(longer),
    }
}

/// What of it stands here.
fn standing(draft: &Draft, component: ComponentId) -> Vec<LotView> {
    let of_it = draft
        .kitchen
        .open_batches()
        .filter(|batch| batch.component == component);
    let lots = of_it.flat_map(|batch| view::lots(&draft.kitchen, batch));
    lots.filter(LotView::holds_any).collect()
}
