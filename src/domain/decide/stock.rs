//! What is left, and one batch shown whole.

use chrono::TimeDelta;

use super::super::answer::{Answer, BatchEvent, HowMuchAnswer, StockAnswer};
use super::super::draft::Draft;
use super::super::resolve::key;
use super::super::view;
use super::{Done, Step, batch, find};
use crate::lang::syntax::Words;

pub fn stock(draft: &mut Draft, place: Option<&Words>) -> Step {
    let mut lots = view::stock(&draft.kitchen);
    if let Some(place) = place {
        let wanted = key(&place.text);
        lots.retain(|lot| {
            lot.place
                .as_deref()
                .is_some_and(|known| key(known) == wanted)
        });
    }
    let not_booked = draft
        .kitchen
        .questions
        .iter()
        .filter(|question| question.holds_back())
        .map(|question| question.waits().to_owned())
        .collect();
    Ok(Done::saying(Answer::Stock(StockAnswer {
        lots,
        place: place.map(|place| place.text.clone()),
        due_only: false,
        not_booked,
        today: draft.today(),
    })))
}

/// A frozen lot is asked about with what is due first so many days before its date.
const FROZEN_DUE_DAYS: i64 = 7;

/// What is due first: what stands unfrozen by its dates, and what has been frozen for long.
pub fn due(draft: &mut Draft) -> Step {
    let mut lots = view::stock(&draft.kitchen);
    let soon = draft.today() + TimeDelta::days(FROZEN_DUE_DAYS);
    lots.retain(|lot| !lot.frozen || lot.use_by().is_some_and(|on| on <= soon));
    Ok(Done::saying(Answer::Stock(StockAnswer {
        lots,
        place: None,
        due_only: true,
        not_booked: Vec::new(),
        today: draft.today(),
    })))
}

pub fn how_much(draft: &mut Draft, name: &Words) -> Step {
    let found = find::batches(draft, name)?;
    let lots = found
        .iter()
        .map(|id| draft.kitchen.batch(*id))
        .flat_map(|batch| view::lots(&draft.kitchen, batch))
        .collect();
    Ok(Done::saying(Answer::HowMuch(HowMuchAnswer {
        name: draft.kitchen.batch(found[0]).name.clone(),
        lots,
        today: draft.today(),
    })))
}

pub fn show(draft: &mut Draft, name: &Words) -> Step {
    let id = find::batch_to_change(draft, name)?;
    Ok(batch::answer(
        draft,
        id,
        BatchEvent::Shown,
        Vec::new(),
        Vec::new(),
    ))
}
