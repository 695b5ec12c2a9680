//! What is left, by place.

use chrono::NaiveDate;

use crate::domain::answer::{HowMuchAnswer, LotView, PortionsAnswer, StockAnswer};
use crate::domain::mass::Mass;

use super::clean::{name, quote};
use super::date::{day, use_by};
use super::number;
use super::page::{Line, Page};

/// How many unanswered questions are listed.
const NOT_BOOKED_MAX: usize = 5;

pub fn page(answer: &StockAnswer) -> Page {
    let mut page = Page::new();
    let place = answer.place.as_deref().map(name);
    let lots: Vec<&LotView> = answer.lots.iter().filter(|lot| holds_any(lot)).collect();
    if lots.is_empty() {
        match place {
            Some(place) => page.say(format!("Nothing in the {place} by the books.")),
            None if answer.due_only => page.say("Nothing stands unfrozen by the books."),
            None => {
                page.say("Nothing in stock by the books. A batch begins with its name:");
                page.example("batch lentil dal");
            }
        }
    } else {
        let lead = if answer.due_only {
            "Eat first"
        } else {
            "In stock"
        };
        page.say(format!("{lead}, {}", day(answer.today)));
        for (place, lots) in by_place(&lots) {
            page.say(Line::new().bold(place.map_or("no place said".to_string(), name)));
            for lot in lots {
                page.item(lot_words(lot, &lot.name, answer.today));
            }
        }
    }
    say_not_booked(&mut page, &answer.not_booked);
    page
}

pub fn how_much(answer: &HowMuchAnswer) -> Page {
    let mut page = Page::new();
    let left: Mass = answer.lots.iter().map(|lot| lot.balance).sum();
    let estimated = answer.lots.iter().any(|lot| lot.mass.is_none());
    page.say(
        Line::new()
            .bold(name(&answer.name))
            .plain(format!(": {} left", number::left(left, estimated))),
    );
    for lot in answer.lots.iter().filter(|lot| holds_any(lot)) {
        let place = lot
            .place
            .as_deref()
            .map_or(String::new(), |place| format!("{}: ", name(place)));
        let called = if lot.name == answer.name {
            ""
        } else {
            &lot.name
        };
        page.item(format!("{place}{}", lot_words(lot, called, answer.today)));
    }
    page
}

/// "lentil dal: 8 portions of about 210 g left".
pub fn portions(answer: &PortionsAnswer) -> Page {
    let mut page = Page::new();
    let dish = Line::new().bold(name(&answer.name));
    let left = number::grams(answer.left);
    page.say(match answer.usual {
        Some(usual) if usual > Mass::ZERO => {
            let count = (answer.left.grams() / usual.grams()).max(0.0);
            let portion = number::grams(usual);
            dish.plain(format!(": {count:.1} portions of {portion}, {left} left"))
        }
        _ => dish.plain(format!(": {left} left. No portion of it is booked yet.")),
    });
    page
}

/// An emptied place is not listed; what is not weighed in may hold anything.
fn holds_any(lot: &LotView) -> bool {
    lot.mass.is_none() || lot.balance > Mass::ZERO
}

/// Places in the order of their first lot.
fn by_place<'a>(lots: &[&'a LotView]) -> Vec<(Option<&'a str>, Vec<&'a LotView>)> {
    let mut places: Vec<(Option<&str>, Vec<&LotView>)> = Vec::new();
    for lot in lots.iter().copied() {
        let place = lot.place.as_deref();
        match places.iter_mut().find(|(known, _)| *known == place) {
            Some((_, members)) => members.push(lot),
            None => places.push((place, vec![lot])),
        }
    }
    places
}

/// "1700 g lentil dal D7, use by 14 Jan 2027"; nothing is called by an empty name.
fn lot_words(lot: &LotView, called: &str, today: NaiveDate) -> String {
    let names: String = [called, lot.batch.as_deref().unwrap_or("")]
        .iter()
        .filter(|name| !name.is_empty())
        .map(|name| format!(" {}", self::name(name)))
        .collect();
    let when = match lot.use_by() {
        Some(by) => use_by(by, today),
        None => format!("made {}", day(lot.made_on)),
    };
    let estimated = lot.mass.is_none();
    let estimate = if estimated { ", not weighed in" } else { "" };
    format!(
        "{}{names}, {when}{estimate}",
        number::left(lot.balance, estimated)
    )
}

fn say_not_booked(page: &mut Page, not_booked: &[String]) {
    if not_booked.is_empty() {
        return;
    }
    page.gap();
    page.say("Asked and not booked yet:");
    for words in not_booked.iter().take(NOT_BOOKED_MAX) {
        page.item(quote(words));
    }
    if not_booked.len() > NOT_BOOKED_MAX {
        page.say(format!("and {} more", not_booked.len() - NOT_BOOKED_MAX));
    }
}
