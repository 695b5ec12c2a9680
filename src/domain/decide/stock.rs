//! What is left, and one batch shown whole.

use super::super::answer::{Answer, BatchEvent, HowMuchAnswer, LotView, StockAnswer, StockAsked};
use super::super::board::is_soon;
use super::super::draft::Draft;
use super::super::kitchen::{Kitchen, PlaceKind};
use super::super::resolve::key;
use super::super::view;
use super::{Done, Step, batch, find};
use crate::lang::syntax::Words;

pub fn stock(draft: &mut Draft, place: Option<&Words>) -> Step {
    let mut lots = view::stock(&draft.kitchen);
    let asked = match place {
        Some(place) => {
            lots.retain(|lot| stands_in(&draft.kitchen, lot, &place.text));
            StockAsked::Place(place.text.clone())
        }
        None => StockAsked::All,
    };
    let not_booked = draft
        .kitchen
        .questions
        .iter()
        .filter(|question| question.holds_back())
        .map(|question| question.waits().to_owned())
        .collect();
    Ok(Done::saying(Answer::Stock(StockAnswer {
        lots,
        asked,
        not_booked,
        today: draft.today(),
    })))
}

/// "freezer" and "fridge" by themselves mean all of that kind, and what nobody has put anywhere is kept in
/// the fridge.
fn stands_in(kitchen: &Kitchen, lot: &LotView, place: &str) -> bool {
    let known = |kind| {
        let mut places = kitchen.places.iter().filter(|place| place.kind() == kind);
        places.any(|place| Some(&place.name) == lot.place.as_ref())
    };
    match key(place).as_str() {
        "freezer" => lot.frozen,
        "fridge" => !lot.frozen && (lot.place.is_none() || known(PlaceKind::Fridge)),
        named => lot.place.as_deref().is_some_and(|own| key(own) == named),
    }
}

/// What is due first: what stands unfrozen by its dates, and what has been frozen for long.
pub fn due(draft: &mut Draft) -> Step {
    let mut lots = view::stock(&draft.kitchen);
    let today = draft.today();
    lots.retain(|lot| !lot.frozen || lot.use_by().is_some_and(|on| is_soon(on, today)));
    Ok(Done::saying(Answer::Stock(StockAnswer {
        lots,
        asked: StockAsked::Due,
        not_booked: Vec::new(),
        today,
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

/// A label that was scanned opens the chat with the code of its batch; any other start gets help.
pub fn start(draft: &mut Draft, code: Option<&str>) -> Step {
    let of_batch = |code: &&str| {
        let digits = code.strip_prefix(|first: char| first.is_ascii_alphabetic());
        digits.is_some_and(|digits| {
            (1..=9).contains(&digits.len()) && digits.bytes().all(|it| it.is_ascii_digit())
        })
    };
    match code.filter(of_batch) {
        Some(code) => show(draft, &Words::plain(code)),
        None => Ok(Done::saying(Answer::Help { topic: None })),
    }
}
