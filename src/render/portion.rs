//! What went on a plate.

use crate::domain::answer::{DayAnswer, DrawnLot, PlateView, PortionAnswer, PortionLine};
use crate::domain::mass::Mass;
use crate::foods::Nutrient;
use crate::lang::syntax::MealName;

use super::clean::{head, name, short_within, the};
use super::date::day as date;
use super::note;
use super::number::{self, about_grams, day_figures, energy, figures, nutrient, short_figures};
use super::page::{Line, Page, joined};
use super::personal;
use super::stock::counted;

/// The longest name of a plain food on a plate, in characters.
const FOOD_CHARS_MAX: usize = 30;

/// A plate of more lines than this leaves their protein to the total, to fit on a screen.
const LINES_IN_FULL_MAX: usize = 5;

/// `text` is what was said: what stands in it is not told again.
pub fn page(answer: &PortionAnswer, text: &str) -> Page {
    let mut page = Page::new();
    for plate in &answer.plates {
        page.gap();
        say_plate(&mut page, plate);
    }
    say_left(&mut page, answer);
    say_beside(&mut page, answer, text, false);
    page
}

/// Everything that somebody ate on a day, plate by plate.
pub fn day(answer: &DayAnswer) -> Page {
    let mut page = Page::new();
    page.say(format!(
        "{}, {}",
        name(&answer.member),
        self::date(answer.day)
    ));
    if answer.plates.is_empty() {
        page.say("Nothing is booked for that day.");
        return page;
    }
    for plate in &answer.plates {
        if let Some(meal) = plate.meal {
            page.say(meal_word(meal));
        }
        for line in &plate.lines {
            page.item(with_figures(line, "", plate.numbers, false));
        }
    }
    if !answer.numbers {
        return page;
    }
    let lines = answer.plates.iter().flat_map(|plate| &plate.lines);
    let estimated = lines.into_iter().any(is_estimated);
    page.say(day_figures("Total", &answer.totals, estimated));
    personal::say_targets(&mut page, &answer.targets);
    page
}

/// "140 g lentil dal: 215 kcal"
fn with_figures(line: &PortionLine, from: &str, numbers: bool, with_protein: bool) -> String {
    let what = format!(
        "{} {}{from}",
        about_grams(line.mass, line.mass_estimated),
        called(line)
    );
    match numbers {
        true => {
            let figures = short_figures(&line.totals, is_estimated(line), with_protein);
            format!("{what}: {figures}")
        }
        false => what,
    }
}

/// All of it on one line, and below it only what would mislead if it were left out.
pub fn brief(answer: &PortionAnswer, text: &str) -> Page {
    let mut page = Page::unwrapped();
    for plate in &answer.plates {
        page.say(brief_plate(plate, answer.plates.len() > 1));
    }
    say_beside(&mut page, answer, text, true);
    page
}

/// Nothing about it needs words.
pub fn is_plain(answer: &PortionAnswer) -> bool {
    let mut lines = answer.plates.iter().flat_map(|plate| &plate.lines);
    answer.notes.is_empty()
        && lines
            .all(|line| !line.batch_estimated && !line.assumptions.iter().any(note::must_be_said))
}

fn say_plate(page: &mut Page, plate: &PlateView) {
    page.say(heading(plate));
    let estimated = plate.lines.iter().any(is_estimated);
    if plate.lines.is_empty() {
        page.say("Nothing is on the plate now.");
        return;
    }
    if let [only] = plate.lines.as_slice() {
        let end = if plate.numbers { ":" } else { "" };
        page.say(
            Line::new()
                .plain(about_grams(only.mass, only.mass_estimated))
                .plain(" ")
                .bold(called(only))
                .plain(format!("{}{}{end}", code_of(only), drawn_from(only))),
        );
        if plate.numbers {
            page.say(figures("", &plate.totals, estimated));
        }
        return;
    }
    let with_protein = plate.lines.len() <= LINES_IN_FULL_MAX;
    for line in &plate.lines {
        page.item(with_figures(
            line,
            &drawn_from(line),
            plate.numbers,
            with_protein,
        ));
    }
    if plate.numbers {
        page.say(figures("Total", &plate.totals, estimated));
    }
}

fn heading(plate: &PlateView) -> String {
    let meal = plate
        .meal
        .map_or(String::new(), |meal| format!(", {}", meal_word(meal)));
    let day = match plate.long_ago {
        true => super::date::date(plate.day),
        false => date(plate.day),
    };
    format!("{}, {day}{meal}", name(&plate.member))
}

pub fn meal_word(meal: MealName) -> &'static str {
    match meal {
        MealName::Breakfast => "breakfast",
        MealName::Lunch => "lunch",
        MealName::Dinner => "dinner",
        MealName::Snack => "snack",
    }
}

fn called(line: &PortionLine) -> String {
    named(&line.name, line.food.is_some())
}

/// A batch or a packet by its name, a food of the table by a short description.
pub fn named(called: &str, is_food: bool) -> String {
    match is_food {
        true => short_within(called, FOOD_CHARS_MAX),
        false => name(called),
    }
}

fn code_of(line: &PortionLine) -> String {
    line.batch
        .as_ref()
        .map_or(String::new(), |code| format!(" {}", name(code)))
}

/// ", from the freezer": where it stands in more places than one, so that nobody looks in the wrong one.
fn drawn_from(line: &PortionLine) -> String {
    let place = |lot: &DrawnLot| match &lot.place {
        Some(place) => format!("from {}", the(&name(place))),
        None => "not frozen".to_owned(),
    };
    let mut places: Vec<(String, Mass)> = Vec::new();
    for lot in line.lots.iter().filter(|_| line.of_several) {
        let place = place(lot);
        match places.iter_mut().find(|(known, _)| *known == place) {
            Some((_, mass)) => *mass += lot.mass,
            None => places.push((place, lot.mass)),
        }
    }
    match places.as_slice() {
        [] => String::new(),
        [(only, _)] => format!(", {only}"),
        several => {
            let told = several.iter();
            let told: Vec<String> = told
                .map(|(place, mass)| format!("{} {place}", number::grams(*mass)))
                .collect();
            format!(" ({})", told.join(", "))
        }
    }
}

fn is_estimated(line: &PortionLine) -> bool {
    line.mass_estimated || line.batch_estimated
}

/// "Left: lentil dal 1700 g, barley ~640 g"; of a batch drawn twice, what the second draw left.
fn say_left(page: &mut Page, answer: &PortionAnswer) {
    let left = left_of(answer);
    match left.as_slice() {
        [] => {}
        [(_, grams)] if answer.plates.iter().all(|plate| plate.lines.len() == 1) => {
            page.say(format!("Left: {grams}"));
        }
        several => {
            let each: Vec<String> = several
                .iter()
                .map(|(dish, grams)| joined(&format!("{dish} {grams}")))
                .collect();
            page.say(format!("Left: {}", each.join(", ")));
        }
    }
}

fn left_of(answer: &PortionAnswer) -> Vec<(String, String)> {
    let mut left: Vec<(&str, String, String)> = Vec::new();
    for line in answer.plates.iter().flat_map(|plate| &plate.lines) {
        let (Some(code), Some(mass)) = (&line.batch, line.left) else {
            continue;
        };
        let grams = number::left(mass, line.batch_estimated);
        let pieces = line.left_pieces.as_ref().filter(|_| mass.mg() > 0);
        let grams = format!("{grams}{}", counted(pieces));
        match left.iter_mut().find(|(known, _, _)| known == code) {
            Some(known) => known.2 = grams,
            None => left.push((code, name(&line.name), grams)),
        }
    }
    let alike = |dish: &str| left.iter().filter(|(_, other, _)| other == dish).count() > 1;
    left.iter()
        .map(|(code, dish, grams)| {
            let called = if alike(dish) {
                format!("{dish} {}", name(code))
            } else {
                dish.clone()
            };
            (called, grams.clone())
        })
        .collect()
}

/// Estimates, assumptions and notes.
fn say_beside(page: &mut Page, answer: &PortionAnswer, text: &str, brief: bool) {
    let mut said: Vec<String> = Vec::new();
    for line in answer.plates.iter().flat_map(|plate| &plate.lines) {
        if line.batch_estimated {
            say_once(
                page,
                &mut said,
                format!("{} is not weighed in: an estimate.", name(&line.name)),
            );
        }
        for assumption in &line.assumptions {
            if brief && !note::must_be_said(assumption) {
                continue;
            }
            if let Some(words) = note::assumed(assumption, text) {
                say_once(page, &mut said, format!("{}: {words}", head(&line.name)));
            }
        }
    }
    note::say_notes(page, &answer.notes, None);
}

fn say_once(page: &mut Page, said: &mut Vec<String>, words: String) {
    if !said.contains(&words) {
        page.say(words.clone());
        said.push(words);
    }
}

fn brief_plate(plate: &PlateView, named: bool) -> Line {
    let estimated = plate.lines.iter().any(is_estimated);
    let items: Vec<String> = plate
        .lines
        .iter()
        .map(|line| {
            let left = line.left.map_or(String::new(), |left| {
                format!(" ({} left)", number::left(left, line.batch_estimated))
            });
            format!(
                "{} {}{}{left}",
                about_grams(line.mass, line.mass_estimated),
                called(line),
                drawn_from(line)
            )
        })
        .collect();
    let who = if named {
        format!("{}: ", name(&plate.member))
    } else {
        String::new()
    };
    if !plate.numbers {
        return Line::from(format!("{who}{}", items.join("; ")));
    }
    let protein = plate.totals.get(Nutrient::Protein);
    Line::new()
        .plain(format!("{who}{}: ", items.join("; ")))
        .bold(energy(plate.totals.get(Nutrient::EnergyKcal), estimated))
        .plain(format!(
            ", {}",
            nutrient(Nutrient::Protein, "protein", protein, estimated)
        ))
}
