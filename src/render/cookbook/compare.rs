//! Pots of a dish beside each other, newest first.

use crate::domain::cookbook::answer::{ComparedAnswer, PotCompared};
use crate::domain::mass::Mass;
use crate::foods::Nutrient;
use crate::render::clean::name;
use crate::render::date::calendar_day;
use crate::render::number::{about_grams, decimal, energy, figure, grams, nutrient};
use crate::render::page::{Line, Page};
use crate::render::report::sums;

/// So many ingredients are told of.
const RATIOS_MAX: usize = 12;
/// Ratios that differ by less were the same on the scale.
const SAME_RATIO: f64 = 0.02;

pub fn page(answer: &ComparedAnswer) -> Page {
    let mut page = Page::new();
    let pots = &answer.pots;
    let titles: Vec<String> = pots
        .iter()
        .map(|pot| {
            let made = calendar_day(pot.made_on, answer.today);
            format!("{} {made}", name(&pot.code))
        })
        .collect();
    page.say(
        Line::new()
            .bold(name(&answer.name))
            .plain(format!(", newest first: {}", titles.join(" | "))),
    );
    page.gap();
    row(&mut page, "Went in", pots, |pot| grams(pot.raw));
    row(&mut page, "Came out", pots, |pot| {
        about_grams(pot.net, pot.estimated)
    });
    row(&mut page, "Yield", pots, |pot| match pot.raw.mg() > 0 {
        true => decimal(pot.net.grams() / pot.raw.grams()),
        false => "?".into(),
    });
    row(&mut page, "Energy of 100 g", pots, |pot| {
        energy(pot.energy, pot.estimated)
    });
    row(&mut page, "Protein", pots, |pot| {
        let told = nutrient(Nutrient::Protein, "", pot.protein, pot.estimated);
        told.trim().to_owned()
    });
    if pots.iter().any(|pot| !pot.worth.cost.is_empty()) {
        row(&mut page, "Cost", pots, cost);
    }
    row(&mut page, "Lasted", pots, lasted);
    if pots.iter().any(|pot| pot.thrown_away.mg() > 0) {
        row(&mut page, "Thrown away", pots, |pot| grams(pot.thrown_away));
    }
    page.gap();
    say_ratios(&mut page, answer);
    if !answer.unweighed.is_empty() {
        let codes: Vec<String> = answer.unweighed.iter().map(|code| name(code)).collect();
        page.say(format!("Left out, not weighed: {}", codes.join(", ")));
    }
    page
}

fn row(page: &mut Page, lead: &str, pots: &[PotCompared], cell: impl Fn(&PotCompared) -> String) {
    let cells: Vec<String> = pots.iter().map(cell).collect();
    page.say(format!("{lead}: {}", cells.join(" | ")));
}

fn cost(pot: &PotCompared) -> String {
    let cost = sums(&pot.worth.cost);
    match (cost.is_empty(), pot.worth.unpriced.is_zero()) {
        (true, _) => "?".into(),
        (false, true) => cost,
        (false, false) => format!("at least {cost}"),
    }
}

fn lasted(pot: &PotCompared) -> String {
    match pot.lasted_days {
        Some(1) => "1 day".into(),
        Some(days) => format!("{days} days"),
        None => format!("{} left", about_grams(pot.left, pot.estimated)),
    }
}

/// The main ingredient by weight, the others to 100 g of it where they differ.
fn say_ratios(page: &mut Page, answer: &ComparedAnswer) {
    let Some(main) = &answer.main else { return };
    let weight = |mass: Option<Mass>| mass.map_or("?".into(), grams);
    let mains: Vec<String> = answer.pots.iter().map(|pot| weight(pot.main)).collect();
    page.item(
        Line::new()
            .bold(name(main))
            .plain(format!(": {}", mains.join(" | "))),
    );
    let (same, other): (Vec<_>, Vec<_>) = answer.ratios.iter().partition(|(_, row)| is_same(row));
    if !other.is_empty() {
        page.say(format!("To 100 g {}:", name(main)));
    }
    for (of, row) in other.into_iter().take(RATIOS_MAX) {
        let cell = |ratio: &Option<f64>| ratio.map_or("-".into(), |ratio| figure(ratio * 100.0));
        let cells: Vec<String> = row.iter().map(cell).collect();
        page.item(format!("{}: {}", name(of), cells.join(" | ")));
    }
    if !same.is_empty() {
        let same: Vec<String> = same.iter().map(|(of, _)| name(of)).collect();
        page.say(format!("In the same proportion: {}", same.join(", ")));
    }
}

fn is_same(row: &[Option<f64>]) -> bool {
    let known: Vec<f64> = row.iter().copied().flatten().collect();
    let (least, most) = known
        .iter()
        .fold((f64::MAX, f64::MIN), |(least, most), ratio| {
            (least.min(*ratio), most.max(*ratio))
        });
    known.len() == row.len() && most - least <= SAME_RATIO * most
}
