//! What is in so much of something, and what a food is called.

use crate::domain::answer::FoodAnswer;
use crate::foods::{self, Nutrient};

use super::amount;
use super::clean::{head, name, short};
use super::note;
use super::number::{about_grams, figures, nutrient};
use super::page::{Line, Page};

/// The short description of a food of the table, or its number if this table has none such.
pub fn described(code: foods::Code) -> String {
    foods::table()
        .get(code)
        .map_or_else(|| code.to_string(), |food| short(&food.description))
}

pub fn page(answer: &FoodAnswer, text: &str) -> Page {
    let mut page = Page::new();
    if answer.weight_only {
        say_weight(&mut page, answer);
    } else {
        say_figures(&mut page, answer);
    }
    for assumption in &answer.assumptions {
        if let Some(words) = note::assumed(assumption, text) {
            page.say(format!("{}: {words}", head(&answer.name)));
        }
    }
    page
}

fn say_weight(page: &mut Page, answer: &FoodAnswer) {
    let asked = answer.asked.as_ref().map(amount::words);
    page.say(
        Line::new()
            .bold(called(answer))
            .plain(format!(
                ": {}",
                asked.map_or(String::new(), |asked| asked + " weighs ")
            ))
            .bold(about_grams(answer.mass, answer.mass_estimated)),
    );
    say_what(page, answer);
}

fn say_figures(page: &mut Page, answer: &FoodAnswer) {
    let asked = answer.asked.as_ref().map(amount::words);
    page.say(Line::new().bold(called(answer)).plain(format!(
        ", {}{}",
        asked.map_or(String::new(), |asked| asked + ", "),
        about_grams(answer.mass, answer.mass_estimated)
    )));
    say_what(page, answer);
    let estimated = answer.mass_estimated || answer.batch_estimated;
    page.say(figures("", &answer.totals, estimated));
    say_more(page, answer, estimated);
    if answer.batch_estimated {
        page.say("Not weighed in: an estimate.");
    }
}

fn called(answer: &FoodAnswer) -> String {
    match answer.food {
        Some(code) => described(code),
        None => name(&answer.name),
    }
}

/// Which food, batch or packet the words stand for.
fn say_what(page: &mut Page, answer: &FoodAnswer) {
    match (answer.food, &answer.batch, &answer.packet) {
        (Some(code), _, _) => page.say(code.to_string()),
        (None, Some(batch), _) => page.say(format!("batch {}", name(batch))),
        (None, None, Some(_)) => page.say("from its packet"),
        (None, None, None) => {}
    }
}

/// Saturated fat and sugars, where they are known, and what was asked for beside the usual figures.
fn say_more(page: &mut Page, answer: &FoodAnswer, estimated: bool) {
    let usual = [Nutrient::SaturatedFat, Nutrient::Sugars];
    let in_figures = [
        Nutrient::EnergyKcal,
        Nutrient::Protein,
        Nutrient::Fat,
        Nutrient::Carbohydrate,
        Nutrient::Fibre,
        Nutrient::Sodium,
    ];
    let asked = answer.nutrient;
    let asked = asked.filter(|asked| !usual.contains(asked) && !in_figures.contains(asked));
    let known = |kind: &Nutrient| answer.totals.get(*kind).amount.is_some();
    let said: Vec<String> = asked
        .into_iter()
        .chain(usual.into_iter().filter(known))
        .map(|kind| nutrient(kind, kind.name(), answer.totals.get(kind), estimated))
        .collect();
    if !said.is_empty() {
        page.say(said.join(", "));
    }
}
