//! The shopping list: to be read in a shop, and ticked with a thumb.

use crate::domain::answer::{Button, Press};
use crate::domain::mass::Mass;
use crate::domain::prep::answer::{ShoppingAnswer, ShoppingEvent};
use crate::domain::prep::list::ToBuy;
use crate::domain::prep::shop::{ListLineView, ShoppingView};
use crate::render::clean::{cut, name};
use crate::render::date::calendar_day;
use crate::render::number::{decimal, grams};
use crate::render::page::{Line, Page, joined};
use crate::render::report::money;

/// What fits on a button.
const LABEL_CHARS_MAX: usize = 36;

pub fn page(answer: &ShoppingAnswer) -> Page {
    let mut page = Page::new();
    match &answer.event {
        ShoppingEvent::Shown => match &answer.list {
            Some(list) => return whole(list, answer),
            None => nothing(&mut page),
        },
        ShoppingEvent::Needed => {
            page.say(Line::new().bold("To buy for the plan"));
            for needed in answer.list.iter().flat_map(|list| &list.lines) {
                page.item(line(needed));
            }
            if let Some(cost) = answer.list.as_ref().and_then(cost) {
                page.say(cost);
            }
        }
        ShoppingEvent::Begun { left } => {
            page.say("A new shopping list.");
            if !left.is_empty() {
                page.say(format!("Left on the old one: {}.", names(left)));
            }
            left_to_buy(&mut page, answer);
        }
        ShoppingEvent::Put(things) => {
            page.say(
                Line::new()
                    .plain("On the list: ")
                    .bold(names(things))
                    .plain("."),
            );
            page.say(count_of(answer));
        }
        ShoppingEvent::Off(things) => {
            page.say(
                Line::new()
                    .plain("Off the list: ")
                    .bold(names(things))
                    .plain("."),
            );
            page.say(count_of(answer));
        }
        ShoppingEvent::Got(things) => {
            page.say(Line::new().plain("Got ").bold(names(things)).plain("."));
            left_to_buy(&mut page, answer);
        }
        ShoppingEvent::Done { bought } => {
            page.say(format!("Shopping done: {} bought.", things(*bought)));
            match &answer.list {
                Some(list) => {
                    let left: Vec<String> = list
                        .lines
                        .iter()
                        .map(|line| line.buy.good.words.clone())
                        .collect();
                    page.say(format!("Not bought, still on the list: {}.", names(&left)));
                }
                None => page.say("Nothing is left on the list."),
            }
        }
    }
    page
}

fn nothing(page: &mut Page) {
    page.say("Nothing is on the shopping list.");
    page.say("Begin one, or put on it what the plan needs:");
    page.example("new list");
    page.example("shopping list for the plan");
}

fn whole(list: &ShoppingView, answer: &ShoppingAnswer) -> Page {
    let mut page = Page::new();
    let open = list.lines.iter().filter(|line| line.ticked_by.is_none());
    let open: Vec<&ListLineView> = open.collect();
    let title = match open.len() {
        0 if list.lines.is_empty() => "nothing on it yet".to_string(),
        0 => "all bought".to_string(),
        left => format!("{} to buy", things(left)),
    };
    page.say(
        Line::new()
            .bold("Shopping list")
            .plain(format!(": {title}")),
    );
    if let Some((from, until)) = list.days {
        let day = |day| calendar_day(day, answer.today);
        page.say(format!("For {} to {}", day(from), day(until)));
    }
    for line in open {
        page.item(self::line(line));
    }
    let ticked = list.lines.iter().filter(|line| line.ticked_by.is_some());
    let ticked: Vec<String> = ticked.map(|line| line.buy.good.words.clone()).collect();
    if !ticked.is_empty() {
        page.gap();
        page.say(format!("Got: {}.", names(&ticked)));
    }
    if let Some(cost) = cost(list) {
        page.gap();
        page.say(cost);
    }
    page
}

/// "red lentils: 2 bags (1000 g), 4.80"
fn line(line: &ListLineView) -> Line {
    let mut told = amounts(line);
    if let Some(cost) = &line.buy.cost {
        told.push(money(cost));
    }
    let called = Line::new().bold(name(&line.buy.good.words));
    match told.is_empty() {
        true => called,
        false => called.plain(format!(": {}", told.join(", "))),
    }
}

/// How much of it, in the units of a shop.
fn amounts(line: &ListLineView) -> Vec<String> {
    let bought = line.buy.buy.map(|mass| packed(&line.buy, mass));
    let said = line.said.iter().map(|said| name(said));
    bought.into_iter().chain(said).collect()
}

fn packed(buy: &ToBuy, mass: Mass) -> String {
    match &buy.packs {
        Some(packs) => {
            let word = name(&packs.word);
            let called = match packs.count {
                1 => format!("1 {word}"),
                count => format!("{count} {}", crate::render::number::plural(&word)),
            };
            joined(&format!("{called} ({})", weight(mass)))
        }
        None => weight(mass),
    }
}

/// "800 g", "1.2 kg": as it stands on a shelf.
pub fn weight(mass: Mass) -> String {
    match mass.grams() {
        kilos if kilos >= 1000.0 => format!("{} kg", decimal(kilos / 1000.0)),
        _ => grams(mass),
    }
}

/// What all of it costs, and how much of it has no price.
fn cost(list: &ShoppingView) -> Option<String> {
    if list.total.is_empty() {
        return None;
    }
    let sums: Vec<String> = list.total.iter().map(money).collect();
    let sum = format!("Together {}", sums.join(" and "));
    Some(match list.unpriced {
        0 => format!("{sum}."),
        1 => format!("{sum}, and 1 without a price."),
        more => format!("{sum}, and {more} without a price."),
    })
}

fn count_of(answer: &ShoppingAnswer) -> String {
    let lines = answer.list.iter().flat_map(|list| &list.lines);
    let open = lines.filter(|line| line.ticked_by.is_none()).count();
    match open {
        0 => "Nothing is left on it.".to_string(),
        open => format!("{} to buy.", things(open)),
    }
}

fn left_to_buy(page: &mut Page, answer: &ShoppingAnswer) {
    let lines = answer.list.iter().flat_map(|list| &list.lines);
    let open = lines.filter(|line| line.ticked_by.is_none());
    let open: Vec<String> = open.map(|line| line.buy.good.words.clone()).collect();
    match (open.is_empty(), &answer.event) {
        (true, ShoppingEvent::Begun { .. }) => {}
        (true, _) => page.say("That is all of it."),
        (false, ShoppingEvent::Begun { .. }) => page.say(format!("On it: {}.", names(&open))),
        (false, _) => page.say(format!("Left: {}.", names(&open))),
    }
}

fn things(count: usize) -> String {
    match count {
        1 => "1 thing".to_string(),
        count => format!("{count} things"),
    }
}

pub fn names(words: &[String]) -> String {
    let names: Vec<String> = words.iter().map(|words| name(words)).collect();
    names.join(", ")
}

/// A button for each line: what is not bought yet in the order of the shop, then what is.
pub fn buttons(answer: &ShoppingAnswer) -> Vec<Vec<Button>> {
    if answer.event == ShoppingEvent::Needed {
        return vec![vec![Button {
            label: "Put it on the shopping list".to_string(),
            press: Press::ListPlan,
        }]];
    }
    let shown = answer.event == ShoppingEvent::Shown;
    let lines = answer.list.iter().filter(|_| shown);
    let button = |line: &ListLineView| {
        let bought = line.ticked_by.is_some();
        let mark = if bought { "✓ " } else { "" };
        let called = name(&line.buy.good.words);
        let amounts = amounts(line).join(", ").replace('\u{a0}', " ");
        let label = match amounts.is_empty() || bought {
            true => format!("{mark}{called}"),
            false => format!("{called} {amounts}"),
        };
        let press = Press::Tick {
            line: line.id,
            bought: !bought,
        };
        vec![Button {
            label: cut(&label, LABEL_CHARS_MAX),
            press,
        }]
    };
    lines.flat_map(|list| &list.lines).map(button).collect()
}
