//! What a count found, and what is unclear about one.

use crate::domain::answer::{CountAnswer, CountLine};
use crate::domain::problem::FarCount;

use super::clean::name;
use super::moving::elsewhere;
use super::note::say_notes;
use super::number::grams;
use super::page::{Line, Page};
use super::problem::Wording;

pub fn page(answer: &CountAnswer) -> Page {
    let mut page = Page::new();
    for line in &answer.lines {
        page.item(counted(line));
    }
    let one = answer.lines.len() == 1;
    for lot in &answer.elsewhere {
        let called = match one {
            true => String::new(),
            false => format!(" {}", name(&lot.name)),
        };
        page.say(elsewhere(lot, &called, answer.today));
    }
    say_notes(&mut page, &answer.notes, None);
    page
}

fn counted(line: &CountLine) -> Line {
    let place = place(line.place.as_deref());
    let (lead, counted) = match line.counted.is_zero() {
        true => ("Finished", String::new()),
        false => ("Counted", format!(" {},", grams(line.counted))),
    };
    Line::new()
        .plain(format!("{lead}{place}: "))
        .bold(name(&line.name))
        .plain(format!(
            " {},{counted} {}",
            name(&line.batch),
            difference(line)
        ))
}

/// " in the freezer"
fn place(place: Option<&str>) -> String {
    place.map_or(String::new(), |place| format!(" in the {}", name(place)))
}

fn difference(line: &CountLine) -> String {
    if line.difference.is_zero() {
        return "as the books said".to_string();
    }
    let than = if line.difference.is_negative() {
        "less"
    } else {
        "more"
    };
    format!("{} {than} than the books", grams(line.difference.abs()))
}

pub fn far_from_books(dishes: &[FarCount]) -> Wording {
    let said = dishes.iter().map(|dish| {
        format!(
            "{}{}: {} counted, {} by the books.",
            name(&dish.name),
            place(dish.place.as_deref()),
            grams(dish.counted),
            grams(dish.booked)
        )
    });
    let said: Vec<String> = said.collect();
    Wording::new(said.join("\n")).booking()
}

pub fn not_there(dish: &str, at: &str) -> Wording {
    Wording::new(format!(
        "No {} stands{} by the books.",
        name(dish),
        place(Some(at))
    ))
    .booking()
}
