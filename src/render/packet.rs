//! A packet's label, as it was understood, and a doubt about it.

use crate::domain::answer::{LabelDoubt, PacketAnswer};
use crate::domain::mass::Mass;
use crate::domain::nutrients::Totals;
use crate::foods::Nutrient;

use super::clean::name;
use super::number::{figures, grams, nutrient};
use super::page::{Line, Page};
use super::told_in;

/// What labels are asked by.
const HUNDRED_GRAMS: Mass = Mass::from_mg(100_000);

pub fn page(answer: &PacketAnswer) -> Page {
    let mut page = Page::new();
    page.say(Line::new().plain("Packet kept: ").bold(name(&answer.name)));
    let per_100g = Totals::of(&answer.per_100g, HUNDRED_GRAMS);
    page.say(figures("Per 100 g", &per_100g, false));
    let also: Vec<String> = [
        (Nutrient::SaturatedFat, "saturated fat"),
        (Nutrient::Sugars, "sugars"),
    ]
    .into_iter()
    .map(|(kind, label)| (kind, label, per_100g.get(kind)))
    .filter(|(_, _, sum)| sum.amount.is_some())
    .map(|(kind, label, sum)| nutrient(kind, label, sum, false))
    .collect();
    if !also.is_empty() {
        page.say(also.join(", "));
    }
    if let Some(serving) = answer.serving {
        page.say(format!("1 serving is {}", grams(serving)));
    }
    if answer.by_volume {
        page.say("Printed per ml; kept per 100 g, a ml taken as a gram.");
    }
    if let Some(doubt) = &answer.doubt {
        say_doubt(&mut page, doubt);
    }
    page
}

/// In 100 g.
const PURE_FAT_KCAL: f64 = 900.0;

/// Kept as typed, and asked about: a label may be right and odd.
fn say_doubt(page: &mut Page, doubt: &LabelDoubt) {
    page.gap();
    let mut as_kj = false;
    match *doubt {
        LabelDoubt::Energy {
            printed_kcal,
            low_kcal,
            high_kcal,
            looks_like_kj,
        } => {
            as_kj = looks_like_kj;
            let [low, high] = [low_kcal, high_kcal].map(told_in::energy_figure);
            let range = if low == high {
                low
            } else {
                format!("{low} to {high}")
            };
            page.say(format!(
                "Energy {} does not fit: its protein, fat and carbs give {range} {}.",
                told_in::energy(printed_kcal),
                told_in::unit()
            ));
        }
        LabelDoubt::OverFat {
            printed_kcal,
            looks_like_kj,
        } => {
            as_kj = looks_like_kj;
            page.say(format!(
                "Energy {} in 100 g cannot be: pure fat has {}.",
                told_in::energy(printed_kcal),
                told_in::energy_figure(PURE_FAT_KCAL)
            ));
        }
        LabelDoubt::OverWhole { grams } => {
            page.say(format!("Its figures add up to {grams:.0} g in 100 g."));
        }
        LabelDoubt::OverPart { part, whole } => page.say(format!(
            "More {} than {}: one is part of the other.",
            word(part),
            word(whole)
        )),
    }
    page.say(if as_kj {
        "It would fit as kJ. If so, send the packet again with \"kJ\" after that figure."
    } else {
        "Is it right? If not, send the packet again with the right figures."
    });
}

fn word(nutrient: Nutrient) -> &'static str {
    match nutrient {
        Nutrient::SaturatedFat => "saturated fat",
        Nutrient::Fat => "fat",
        Nutrient::Sugars => "sugars",
        _ => "carbs",
    }
}
