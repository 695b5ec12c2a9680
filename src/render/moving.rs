//! What was put where, and until when it may be eaten there.

use chrono::NaiveDate;

use crate::domain::answer::{LotView, MoveAnswer};

use super::clean::{name, stands_on, the};
use super::date::use_by;
use super::keeping::dated;
use super::note::say_notes;
use super::page::{Line, Page};
use super::stock::{alike, counted, held, stands};

pub fn page(answer: &MoveAnswer) -> Page {
    let mut page = Page::new();
    let lots: Vec<&LotView> = answer.lots.iter().collect();
    for bags in alike(&lots) {
        page.item(moved(bags, answer.thawed));
        if let Some(due) = &bags[0].due {
            page.say(dated(due, answer.today));
        }
    }
    if answer.lots.is_empty() {
        page.say(match answer.packed {
            true => "Vacuum packed. By the books:",
            false => "Nothing to move. By the books:",
        });
    }
    let first = answer.lots.first().map(|lot| &lot.batch);
    let one_batch = first.is_some() && answer.lots.iter().all(|lot| Some(&lot.batch) == first);
    let others: Vec<&LotView> = answer.elsewhere.iter().collect();
    for bags in alike(&others) {
        let called = match one_batch {
            true => String::new(),
            false => format!(" {}", name(&bags[0].name)),
        };
        page.say(elsewhere(bags, &called, answer.today));
    }
    say_notes(&mut page, &answer.notes, None);
    page
}

/// "Into the freezer: 600 g lentil dal D1", "Into the glass jar, fridge: ...".
fn moved(bags: &[&LotView], thawed: bool) -> Line {
    let lot = bags[0];
    let place = lot.place.as_deref();
    let stands = lot.vessel.as_deref().into_iter().chain(place).map(name);
    let place = stands.collect::<Vec<_>>().join(", ");
    let lead = match thawed {
        true => "Thawing in",
        false if stands_on(&place) => "On",
        false => "Into",
    };
    let code = lot.batch.as_deref().map_or(String::new(), name);
    Line::new()
        .plain(format!("{lead} {}: {} ", the(&place), held(bags)))
        .bold(name(&lot.name))
        .plain(format!(" {code}{}", counted(lot.pieces.as_ref())))
}

pub fn elsewhere(bags: &[&LotView], called: &str, today: NaiveDate) -> String {
    let lot = bags[0];
    let place = stands(lot).map_or("No place said".into(), |stands| {
        let lead = if stands_on(&stands) { "On" } else { "In" };
        format!("{lead} {}", the(&stands))
    });
    let amount = held(bags);
    let due = lot
        .use_by()
        .map_or(String::new(), |on| format!(", {}", use_by(on, today)));
    let pieces = counted(lot.pieces.as_ref());
    format!("{place}: {amount}{called}{pieces}{due}")
}
