//! What is left: the board, and what stands where.

use chrono::NaiveDate;

use crate::domain::answer::{
    HowMuchAnswer, LotView, PiecesView, PortionsAnswer, StockAnswer, StockAsked,
};
use crate::domain::board::{Board, Mark, Standing};
use crate::domain::mass::Mass;
use crate::domain::origin::Origin;

use super::clean::{name, quote, the};
use super::date::{calendar_day, day, use_by};
use super::keeping::why;
use super::number;
use super::page::{Line, Page, joined};

/// How many unanswered questions are listed.
const NOT_BOOKED_MAX: usize = 5;

pub fn page(answer: &StockAnswer) -> Page {
    let mut page = Page::new();
    let board = Board::of(&answer.lots, answer.today);
    match (&answer.asked, board.is_empty()) {
        (StockAsked::All, true) => say_empty(&mut page),
        (StockAsked::All, false) => {
            page.say(format!("In stock, {}", day(answer.today)));
            say_board(&mut page, &board, answer.today);
        }
        (StockAsked::Place(place), true) => {
            page.say(format!("Nothing in {} by the books.", the(&name(place))));
        }
        (StockAsked::Place(place), false) => {
            page.say(format!("In {}, {}", the(&name(place)), day(answer.today)));
            for standing in board.ready.iter().chain(&board.frozen) {
                let known = standing.lot.place.as_ref() == Some(place);
                say_standing(&mut page, standing, !known, answer.today);
            }
        }
        (StockAsked::PastDate, true) => page.say("Nothing is past its date by the books."),
        (StockAsked::PastDate, false) => {
            page.say(format!("Past its date, {}", day(answer.today)));
            for standing in board.ready.iter().chain(&board.frozen) {
                say_due(&mut page, standing, answer.today);
            }
        }
        (StockAsked::Thawing, true) => page.say("Nothing is thawing by the books."),
        (StockAsked::Thawing, false) => {
            page.say(format!("Thawed or thawing, {}", day(answer.today)));
            for standing in board.ready.iter().chain(&board.frozen) {
                say_standing(&mut page, standing, true, answer.today);
            }
        }
        (StockAsked::Due, true) => page.say("Nothing is due soon by the books."),
        (StockAsked::Due, false) => {
            page.say(format!("Eat first, {}", day(answer.today)));
            for standing in board.ready.iter().chain(&board.frozen) {
                say_due(&mut page, standing, answer.today);
            }
        }
    }
    say_not_booked(&mut page, &answer.not_booked);
    page
}

/// The board by itself, as it hangs in a chat: its days are those of the calendar, so that it stays true.
pub fn board(lots: &[LotView], today: NaiveDate) -> Page {
    let mut page = Page::new();
    let board = Board::of(lots, today);
    page.say(Line::new().bold(BOARD_HEAD));
    match board.is_empty() {
        true => page.say("Nothing is in stock."),
        false => say_board(&mut page, &board, today),
    }
    page.limit(BOARD_CHARS_MAX);
    page
}

const BOARD_HEAD: &str = "On the board";

/// It is one message of a chat, and no scroll: what it has no room for, a question still finds.
const BOARD_CHARS_MAX: usize = 3_000;

fn say_empty(page: &mut Page) {
    page.say("Nothing in stock by the books. A batch begins with its name:");
    page.example("batch lentil dal");
}

fn say_board(page: &mut Page, board: &Board, today: NaiveDate) {
    for (lead, standing) in [("Ready:", &board.ready), ("Frozen:", &board.frozen)] {
        if standing.is_empty() {
            continue;
        }
        page.gap();
        page.say(lead);
        for standing in standing {
            say_standing(page, standing, true, today);
        }
    }
}

/// "beef chilli C1: eat first", and below it "900 g, 4 portions, by Fri 16 Oct".
fn say_standing(page: &mut Page, standing: &Standing, placed: bool, today: NaiveDate) {
    page.item(called(standing, placed));
    page.below(facts(standing, vec![by(standing.lot, today)]));
}

/// The same with the day from which it should be eaten before others.
fn say_due(page: &mut Page, standing: &Standing, today: NaiveDate) {
    let lot = standing.lot;
    let best = lot.best_by().filter(|first| *first >= today);
    let dates = match best {
        Some(first) => vec![
            format!("best by {}", calendar_day(first, today)),
            format!("use {}", by(lot, today)),
        ],
        None => vec![by(lot, today)],
    };
    page.item(called(standing, true));
    page.below(facts(standing, dates));
}

/// By name and code, where it stands if that is not where anybody looks first, and what a cook should know.
fn called(standing: &Standing, placed: bool) -> Line {
    let lot = standing.lot;
    let code = lot.batch.as_deref();
    let code = code.map_or(String::new(), |code| format!(" {}", name(code)));
    let place = lot.place.as_deref();
    let place = place.filter(|place| placed && !PLAIN_PLACES.contains(place));
    let vessel = lot.vessel.as_deref();
    let place: String = place
        .into_iter()
        .chain(vessel)
        .map(|stands| format!(", {}", name(stands)))
        .collect();
    let mark = match standing.mark {
        Some(Mark::PastDate) => ": past its date",
        Some(Mark::EatFirst) => ": eat first",
        Some(Mark::UseSoon) => ": use soon",
        None => "",
    };
    Line::new()
        .bold(name(&lot.name))
        .plain(format!("{code}{place}{mark}"))
}

/// Of what somebody took unweighed since the last count.
const TAKEN: &str = "less what was taken";

/// Where anybody looks first.
const PLAIN_PLACES: [&str; 2] = ["fridge", "freezer"];

fn facts(standing: &Standing, dates: Vec<String>) -> String {
    let estimated = standing.lot.mass.is_none();
    let bags: Vec<String> = standing
        .parts
        .iter()
        .map(|part| number::figure(part.grams()))
        .collect();
    let mass = match bags.len() {
        1 => number::left(standing.mass(), estimated),
        _ => format!("{} g", bags.join(" + ")),
    };
    // What is counted is eaten by the piece.
    let pieces = standing.pieces().map(|pieces| number::pieces(&pieces));
    let portions = standing.portions().map(portions_of);
    let weighed = estimated.then(|| "not weighed in".to_owned());
    let taken = standing.lot.taken.then(|| TAKEN.to_owned());
    let facts = [mass].into_iter().chain(pieces.or(portions));
    let facts = facts.chain(weighed).chain(taken);
    let facts: Vec<String> = facts.chain(dates).map(|fact| joined(&fact)).collect();
    facts.join(", ")
}

fn portions_of(count: u32) -> String {
    match count {
        0 => "under a portion".to_owned(),
        1 => "1 portion".to_owned(),
        count => format!("{count} portions"),
    }
}

fn by(lot: &LotView, today: NaiveDate) -> String {
    match lot.use_by() {
        Some(on) if on < today => format!("was due {}", calendar_day(on, today)),
        Some(on) => format!("by {}", calendar_day(on, today)),
        None => since(lot, calendar_day(lot.made_on, today)),
    }
}

pub fn how_much(answer: &HowMuchAnswer) -> Page {
    let mut page = Page::new();
    let estimated = answer.lots.iter().any(|lot| lot.mass.is_none());
    let all: Option<Vec<&PiecesView>> = answer.lots.iter().map(|lot| lot.pieces.as_ref()).collect();
    let pieces = all.filter(|all| !all.is_empty()).map(|all| PiecesView {
        count: all.iter().map(|pieces| pieces.count).sum(),
        word: all[0].word.clone(),
    });
    // What is counted is eaten by the piece.
    let portions = answer.portions().filter(|_| pieces.is_none());
    let portions = portions.map_or(String::new(), |count| format!(", {}", portions_of(count)));
    page.say(Line::new().bold(name(&answer.name)).plain(format!(
        ": {} left{}{portions}",
        number::left(answer.left(), estimated),
        counted(pieces.as_ref())
    )));
    let lots: Vec<&LotView> = answer.lots.iter().filter(|lot| lot.holds_any()).collect();
    for bags in alike(&lots) {
        let lot = bags[0];
        let unsaid = match (answer.places, lot.frozen) {
            (true, false) => "no place said, reckoned as in the fridge: ",
            _ => "",
        };
        let place = stands(lot).map_or(unsaid.to_owned(), |stands| format!("{stands}: "));
        let called = if lot.name == answer.name {
            ""
        } else {
            &lot.name
        };
        let why = lot.due.as_ref().filter(|_| answer.dates).map(why);
        let why = why.map_or(String::new(), |why| format!(" ({why})"));
        let words = lot_words(bags, called, answer.dates, answer.today);
        page.item(format!("{place}{words}{why}"));
    }
    let past = |lot: &LotView| lot.use_by().is_some_and(|on| on < answer.today);
    if answer.dates && answer.lots.iter().any(past) {
        page.say("A bot cannot see or smell it, so look first.");
    }
    page
}

/// "fridge, glass jar": its place and its vessel, as far as they are known.
pub fn stands(lot: &LotView) -> Option<String> {
    let known = [lot.place.as_deref(), lot.vessel.as_deref()];
    let known: Vec<String> = known.into_iter().flatten().map(name).collect();
    (!known.is_empty()).then(|| known.join(", "))
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

/// Lots that differ in nothing but what they hold, one behind the other.
pub fn alike<'a, 'l>(lots: &'a [&'l LotView]) -> impl Iterator<Item = &'a [&'l LotView]> {
    lots.chunk_by(|one, next| {
        let place = one.place == next.place && one.vessel == next.vessel;
        let weighed = one.mass.is_some() && next.mass.is_some();
        let counted = one.pieces.is_some() || next.pieces.is_some() || one.taken || next.taken;
        one.batch == next.batch && place && one.due == next.due && weighed && !counted
    })
}

/// "640 + 400 g", of bags that are alike.
pub fn held(bags: &[&LotView]) -> String {
    match bags {
        [lot] => number::left(lot.balance, lot.mass.is_none()),
        bags => {
            let figures = bags.iter().map(|lot| number::figure(lot.balance.grams()));
            format!("{} g", figures.collect::<Vec<String>>().join(" + "))
        }
    }
}

/// "1700 g lentil dal D7, use by 14 Jan 2027"; nothing is called by an empty name.
fn lot_words(bags: &[&LotView], called: &str, dates: bool, today: NaiveDate) -> String {
    let lot = bags[0];
    let names: String = [called, lot.batch.as_deref().unwrap_or("")]
        .iter()
        .filter(|name| !name.is_empty())
        .map(|name| format!(" {}", self::name(name)))
        .collect();
    let when = match lot.use_by() {
        Some(by) if dates => {
            let frozen = lot.frozen_on.filter(|on| *on != lot.made_on);
            let frozen = frozen.map_or(String::new(), |on| format!(", frozen {}", day(on)));
            let made = since(lot, day(lot.made_on));
            format!("{made}{frozen}, {}", use_by(by, today))
        }
        Some(by) => use_by(by, today),
        None => since(lot, day(lot.made_on)),
    };
    let estimated = lot.mass.is_none();
    let estimate = if estimated { ", not weighed in" } else { "" };
    let pieces = counted(lot.pieces.as_ref());
    let taken = match lot.taken {
        true => format!(", {TAKEN}"),
        false => String::new(),
    };
    format!("{}{names}{pieces}{taken}, {when}{estimate}", held(bags))
}

/// "made Wed 14 Oct", "bought Wed 14 Oct", "of unknown age".
fn since(lot: &LotView, day: String) -> String {
    match (lot.dated, lot.origin) {
        (false, _) => "of unknown age".into(),
        (true, Origin::Bought) => format!("bought {day}"),
        (true, _) => format!("made {day}"),
    }
}

/// ", 9 pieces", of what is counted.
pub fn counted(pieces: Option<&PiecesView>) -> String {
    pieces.map_or(String::new(), |pieces| {
        format!(", {}", number::pieces(pieces))
    })
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
