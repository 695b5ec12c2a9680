//! A recipe by weight, to cook by.

use crate::domain::cookbook::answer::{Changed, RecipeAnswer, RecipeRow};
use crate::render::batch::by_own_pots;
use crate::render::clean::name;
use crate::render::date::calendar_day;
use crate::render::number::{about_grams, decimal, figure, grams};
use crate::render::page::{Line, Page};

pub fn page(answer: &RecipeAnswer) -> Page {
    let mut page = Page::new();
    let made = calendar_day(answer.made_on, answer.today);
    let times = match decimal(answer.factor).as_str() {
        "1" => String::new(),
        times => format!(", {times} times"),
    };
    let opened = answer.opened.as_ref();
    let code = opened.map_or(String::new(), |(code, _)| format!(" {}", name(code)));
    page.say(Line::new().bold(name(&answer.name)).plain(format!(
        "{code}, as {} of {made}{times}",
        name(&answer.code)
    )));
    page.gap();
    for row in &answer.lines {
        page.item(line(row));
    }
    if !answer.without.is_empty() {
        let without: Vec<String> = answer.without.iter().map(|gone| name(gone)).collect();
        page.item(format!("without {}", without.join(", ")));
    }
    let main = answer.lines.iter().find(|row| row.ratio == Some(1.0));
    let others = answer
        .lines
        .iter()
        .filter(|row| row.ratio.is_some())
        .count();
    if let Some(main) = main.filter(|_| others > 1) {
        page.say(format!("In brackets: to 100 g {}", name(&main.name)));
    }
    page.gap();
    say_whole(&mut page, answer);
    page
}

fn say_whole(page: &mut Page, answer: &RecipeAnswer) {
    let whole = answer.comes_to.mass;
    if answer.poured.mg() > 0 {
        let poured = grams(answer.poured);
        page.say(format!("To pour off, as last time: {poured}"));
    }
    match (&answer.comes_to.spread, answer.raw) {
        (_, true) => page.say(format!("{} in all", grams(whole))),
        (Some(spread), false) => {
            page.say(format!("Cooked: {}", about_grams(whole, true)));
            page.say(by_own_pots(spread));
        }
        (None, false) => page.say(format!(
            "Cooked: {}, by the table",
            about_grams(whole, true)
        )),
    }
    match &answer.opened {
        Some((code, _)) => {
            page.say("It is in the books by this weight. When it is done:");
            page.example(&format!(
                "{} weighed {:.0}",
                name(code),
                round(whole.grams())
            ));
        }
        None => {
            page.say("To cook it by this:");
            page.example(&format!("{} again", name(&answer.name)));
        }
    }
}

/// A figure like those that will be typed.
fn round(grams: f64) -> f64 {
    ((grams / 10.0).round() * 10.0).max(10.0)
}

/// "210 g onion (28)"
fn line(row: &RecipeRow) -> Line {
    let part = row
        .part
        .as_ref()
        .map_or(String::new(), |part| format!(", {}", name(part)));
    let ratio = match row.ratio {
        Some(ratio) if ratio != 1.0 => format!(" ({})", figure(ratio * 100.0)),
        _ => String::new(),
    };
    let changed = match &row.changed {
        Changed::No => String::new(),
        Changed::Amount => ", changed".into(),
        Changed::Added => ", new".into(),
        Changed::Instead(old) => format!(", not {}", name(old)),
    };
    let rest = format!("{}{part}{ratio}{changed}", name(&row.name));
    match row.mass {
        Some(mass) => Line::new()
            .bold(about_grams(mass, row.estimated))
            .plain(format!(" {rest}")),
        None => Line::new().plain(format!("{rest}, unweighed")),
    }
}
