//! What is left, and one batch shown whole.

use super::super::answer::{Answer, BatchEvent, HowMuchAnswer, LotView, StockAnswer, StockAsked};
use super::super::batch::Lot;
use super::super::board::is_soon;
use super::super::draft::Draft;
use super::super::keeping::Why;
use super::super::kitchen::{Kitchen, PlaceKind};
use super::super::resolve::key;
use super::super::view;
use super::{Done, Step, batch, find, set_up};
use crate::lang::syntax::{SetUp, Words};

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

/// What stands past its date, wherever it stands.
pub fn past_date(draft: &mut Draft) -> Step {
    let mut lots = view::stock(&draft.kitchen);
    let today = draft.today();
    lots.retain(|lot| lot.use_by().is_some_and(|on| on < today));
    Ok(Done::saying(Answer::Stock(StockAnswer {
        lots,
        asked: StockAsked::PastDate,
        not_booked: Vec::new(),
        today,
    })))
}

/// What was frozen and is not any more.
pub fn thawing(draft: &mut Draft) -> Step {
    let mut lots = view::stock(&draft.kitchen);
    let thawed = |why: Why| matches!(why, Why::Thawed(_) | Why::LeftOver { .. });
    lots.retain(|lot| !lot.frozen && lot.due.is_some_and(|due| thawed(due.why)));
    Ok(Done::saying(Answer::Stock(StockAnswer {
        lots,
        asked: StockAsked::Thawing,
        not_booked: Vec::new(),
        today: draft.today(),
    })))
}

/// How much there is of a dish, or of what of it stands in one place.
pub fn how_much(draft: &mut Draft, name: &Words) -> Step {
    standing(draft, name, false)
}

/// Where a dish stands.
pub fn whereabouts(draft: &mut Draft, name: &Words) -> Step {
    standing(draft, name, true)
}

fn standing(draft: &mut Draft, name: &Words, places: bool) -> Step {
    let (found, meant) = find::standing(draft, name)?;
    let kitchen = &draft.kitchen;
    let batches = found.iter().map(|id| kitchen.batch(*id));
    let lots = batches.flat_map(|batch| match &meant {
        None => view::lots(kitchen, batch),
        Some(meant) => {
            let there = batch.lots.iter().filter(|lot| meant.hold(lot));
            let standing = there.filter(|lot| lot.balance > batch.crumbs());
            standing.map(|lot| view::lot(kitchen, batch, lot)).collect()
        }
    });
    Ok(Done::saying(Answer::HowMuch(HowMuchAnswer {
        name: kitchen.batch(found[0]).name.clone(),
        dates: false,
        places,
        lots: lots.collect(),
        today: draft.today(),
    })))
}

/// Until when a dish may be eaten where it stands, and why.
pub fn dates(draft: &mut Draft, name: &Words) -> Step {
    let (found, places) = find::standing(draft, name)?;
    let kitchen = &draft.kitchen;
    let batches = found.iter().map(|id| kitchen.batch(*id));
    let lots = batches.flat_map(|batch| batch.lots.iter().map(move |lot| (batch, lot)));
    let meant = |lot: &Lot| places.as_ref().is_none_or(|places| places.hold(lot));
    let lots = lots.filter(|(batch, lot)| lot.balance > batch.crumbs() && meant(lot));
    let lots: Vec<LotView> = lots
        .map(|(batch, lot)| view::lot(kitchen, batch, lot))
        .collect();
    // When it was made can be told of what is eaten up, too.
    if lots.is_empty() {
        return show(draft, name);
    }
    Ok(Done::saying(Answer::HowMuch(HowMuchAnswer {
        name: kitchen.batch(found[0]).name.clone(),
        dates: true,
        places: false,
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

/// A label that was scanned opens the chat with the code of its batch, and the number of the household, which was
/// looked at before; the first start else begins the set-up.
pub fn start(draft: &mut Draft, code: Option<&str>) -> Step {
    let of_household = |said: &str| said.bytes().all(|it| it.is_ascii_digit());
    let code = code.map(|code| match code.rsplit_once('-') {
        Some((batch, household)) if of_household(household) => batch,
        _ => code,
    });
    let of_batch = |code: &&str| {
        let digits = code.strip_prefix(|first: char| first.is_ascii_alphabetic());
        digits.is_some_and(|digits| {
            (1..=9).contains(&digits.len()) && digits.bytes().all(|it| it.is_ascii_digit())
        })
    };
    match code.filter(of_batch) {
        Some(code) => show(draft, &Words::plain(code)),
        // Asked once: who has been through it, or left it, gets help.
        None if !draft.kitchen.settings().set_up => set_up::set_up(draft, &SetUp::Begin),
        None => Ok(Done::saying(Answer::Help { topic: None })),
    }
}
