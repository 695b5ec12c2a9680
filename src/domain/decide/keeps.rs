//! How long the household itself keeps a component: told, and taken back to what the chart says.

use super::super::answer::{Answer, KeepsAnswer, KeptView};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::{BatchId, ComponentId};
use super::super::keeping::{Keeps, Span, Storage, chart};
use super::super::kitchen::{Component, OwnDays};
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::super::stock::LotView;
use super::super::view;
use super::{Done, Step, Stop, find};
use crate::lang::syntax::{KeepsFor, Words};

pub fn keep(draft: &mut Draft, told: &KeepsFor) -> Step {
    let (id, component, name) = kept_dish(draft, &told.name)?;
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

/// The dish that is meant, with the batch whose foods tell its chart, if there is one. Of what nobody has cooked yet the
/// days are kept until somebody does.
fn kept_dish(
    draft: &mut Draft,
    said: &Words,
) -> Result<(Option<BatchId>, ComponentId, String), Stop> {
    match find::batches(draft, said) {
        Ok(found) => {
            let batch = draft.kitchen.batch(found[0]);
            Ok((Some(batch.id), batch.component, batch.name.clone()))
        }
        Err(Stop::Problem(problem)) if is_unknown(draft, said, &problem.kind) => {
            let called = |known: &&Component| is_called(&known.key, &key(&said.text));
            let known = draft.kitchen.components.iter().find(called).cloned();
            let name = known.map_or_else(|| said.text.trim().to_lowercase(), |known| known.name);
            let component = draft.component(&name);
            Ok((None, component, name))
        }
        Err(stop) => Err(stop),
    }
}

/// No dish that stands here is meant by it, alone or among others.
fn is_unknown(draft: &Draft, said: &Words, problem: &ProblemKind) -> bool {
    let called = |known: &Component| {
        let mut words = known.key.split(' ');
        words.any(|word| word == key(&said.text))
    };
    match problem {
        ProblemKind::UnknownName { .. } => {
            let known = draft.kitchen.components.iter();
            known.filter(|known| called(known)).count() < 2
        }
        ProblemKind::UsedUp { .. } => true,
        _ => false,
    }
}

/// By its whole name, or by the word that it ends in.
fn is_called(component: &str, said: &str) -> bool {
    format!(" {component}").ends_with(&format!(" {said}"))
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
fn view_of(draft: &Draft, id: Option<BatchId>, storage: Storage, told: Option<Span>) -> KeptView {
    let region = draft.kitchen.settings().guidance;
    let chart = id.and_then(|id| {
        let kinds = draft.kitchen.kinds(draft.kitchen.batch(id));
        chart::keeps(&kinds, storage, region)
    });
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
