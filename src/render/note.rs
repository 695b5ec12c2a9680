//! What is said beside an answer: notes on the books, and what was assumed of a line.

use crate::domain::answer::Note;
use crate::domain::assumption::{Assumption, FoodState};

use super::avoid;
use super::caution;
use super::clean::{clean, cut, name, quote, short};
use super::date::day;
use super::number::{decimal, grams};
use super::page::{Line, Page, joined};
use super::report;

/// How many other kinds of a food are named.
const KINDS_MAX: usize = 3;

/// Notes on the books, then what is cautioned of.
pub fn say_notes(page: &mut Page, notes: &[Note], code: Option<&str>) {
    say_of_books(page, notes, code);
    say_cautions(page, notes);
}

/// Without what is cautioned of.
pub fn say_of_books(page: &mut Page, notes: &[Note], code: Option<&str>) {
    for note in notes {
        say_note(page, note, code);
    }
}

pub fn say_cautions(page: &mut Page, notes: &[Note]) {
    for note in notes {
        if let Note::Caution(cautioned) = note {
            page.say(caution::says(cautioned.caution));
        }
    }
}

fn say_note(page: &mut Page, note: &Note, code: Option<&str>) {
    let batch = code.unwrap_or("dal");
    match note {
        Note::Avoided(avoided) => page.say(Line::new().bold(avoid::line(avoided))),
        Note::SlightlyMore { name: dish, over } => page.say(format!(
            "{}: {} more than the books held. Recorded.",
            name(dish),
            grams(*over)
        )),
        Note::OddYield { factor } => page.say(format!(
            "Yield {} is unusual: is the tare off? If it is right, leave it.",
            decimal(*factor)
        )),
        Note::WeightStands { net } => {
            page.say(format!(
                "The weighed {} stands. If that changed:",
                grams(*net)
            ));
            page.example(&format!("{batch} weighed {:.0}", net.grams()));
        }
        Note::WholeBatch { drawn } => {
            page.say(format!(
                "Taken for the whole batch, with the {} drawn before. If it was what is left, write \
                 \"{batch} weighed\", the weight and \"left\".",
                grams(*drawn)
            ));
        }
        Note::OnePlaceOnly { places } => {
            let places: Vec<String> = places.iter().map(|place| name(place)).collect();
            page.say(format!(
                "Kept as one batch: several places ({}) for one batch are not there yet.",
                cut(&places.join(", "), 80)
            ));
        }
        Note::MadeLater {
            name: dish,
            made_on,
        } => page.say(format!(
            "{} was made only on {}. Recorded.",
            name(dish),
            day(*made_on)
        )),
        Note::MadeSince { name: dish, at } => page.say(format!(
            "{} is in the books only since {}. Recorded.",
            name(dish),
            at.format("%H:%M")
        )),
        Note::PastDate { name: dish, due_on } => page.say(format!(
            "{} was due on {}. Recorded; a bot cannot see or smell it, so look first.",
            name(dish),
            day(*due_on)
        )),
        Note::CheckScale { less, .. } => page.say(report::check_scale(*less)),
        Note::TakenBefore { name: dish } => page.say(format!(
            "Somebody took of the {0} unweighed, so this may be less: a recount of the {0} tells.",
            name(dish)
        )),
        Note::Finished { name: dish, left } => {
            let dish = name(dish);
            page.say(format!(
                "{dish}: {} left, taken for empty. If not:",
                grams(*left)
            ));
            page.example(&format!("recount: {dish} 40"));
        }
        Note::RunsLow {
            name: good,
            left,
            kept,
        } => page.say(format!(
            "{}: {} at home, {} is to be there. On the shopping list.",
            name(good),
            match left.is_zero() {
                true => "none".to_owned(),
                false => grams(*left),
            },
            grams(*kept)
        )),
        Note::LowStock {
            name: dish,
            left,
            par,
        } => {
            let left = match left.is_zero() {
                true => "none left".to_owned(),
                false => format!("{} left", grams(*left)),
            };
            let kept = par.map(|par| format!(", {} to be kept ready", grams(par)));
            page.say(format!(
                "That was the last usual portion of {}: {left}{}.",
                name(dish),
                kept.unwrap_or_default()
            ));
        }
        Note::OffPlates(off) => {
            let off = off.iter();
            let off: Vec<String> = off
                .map(|(member, mass)| format!("{} {}", name(member), grams(*mass)))
                .collect();
            page.say(format!("Taken off the plates: {}", off.join(", ")));
        }
        Note::NoMeal => {
            page.say("No meal is booked that it could be of: what is in it is unknown.")
        }
        Note::NotCounted { words } => {
            page.say(format!("{} is named and not counted.", quote(words)));
        }
        Note::Caution(_) => {}
        Note::Recomputed { portions: 1 } => page.say("1 earlier portion has new figures."),
        Note::Recomputed { portions } => {
            page.say(format!("{portions} earlier portions have new figures."));
        }
    }
}

/// What was assumed, as a few words after the line or its name; `None` where "~" says it all, or where
/// `text`, what was said, has the table's measure itself.
pub fn assumed(assumption: &Assumption, text: &str) -> Option<String> {
    match assumption {
        Assumption::State { taken, other } => {
            let other_state = other_state(*other, taken.word());
            let other = joined(&other.to_string());
            Some(format!("taken {}; {other_state} is {other}", taken.word()))
        }
        Assumption::Kinds(codes) if codes.is_empty() => None,
        Assumption::Kinds(codes) => {
            let others: Vec<String> = codes
                .iter()
                .take(KINDS_MAX)
                .map(|code| joined(&code.to_string()))
                .collect();
            Some(format!("other kinds: {}", others.join(", ")))
        }
        Assumption::Measure(row) if has_words(text, &short_row(row)) => None,
        Assumption::Measure(row) => Some(format!("weighed as \"{}\"", cut(&short_row(row), 30))),
        Assumption::Volume => None,
        Assumption::TypicalDensity => Some("by a typical density".to_string()),
        Assumption::Spelling(_) => Some("taken for this by a near spelling".to_string()),
        Assumption::DrainedShare => Some("drained, about 60 % of the tin".to_string()),
        Assumption::Piece(each) => Some(format!("{} each", grams(*each))),
        Assumption::WeighedWins => Some("by its weight, not its measure".to_string()),
        Assumption::Planned => None,
    }
}

/// As [`assumed`], after a description: what that says already is left out.
pub fn assumed_of(description: &str, assumption: &Assumption, text: &str) -> Option<String> {
    let words = assumed(assumption, text)?;
    let Assumption::State { taken, .. } = assumption else {
        return Some(words);
    };
    // The table calls what is dry "raw" or "dry".
    let is_said = description
        .split([',', ' '])
        .any(|word| word == taken.word() || (word == "raw" && *taken == FoodState::Dry));
    let taken = format!("taken {}; ", taken.word());
    match words.strip_prefix(&taken) {
        Some(other) if is_said => Some(other.to_string()),
        _ => Some(words),
    }
}

/// Whether the answer would be misleading without it.
pub fn must_be_said(assumption: &Assumption) -> bool {
    match assumption {
        Assumption::State { .. }
        | Assumption::Spelling(_)
        | Assumption::TypicalDensity
        | Assumption::DrainedShare => true,
        Assumption::Kinds(codes) => !codes.is_empty(),
        Assumption::Measure(_)
        | Assumption::Volume
        | Assumption::Piece(_)
        | Assumption::WeighedWins
        | Assumption::Planned => false,
    }
}

/// The state of the food beside the one taken, as its description has it.
fn other_state(other: crate::foods::Code, taken: &str) -> &'static str {
    let description = crate::foods::table()
        .get(other)
        .map_or(String::new(), |food| food.description.to_lowercase());
    let cooked = ["cooked", "boiled", "roasted", "baked", "braised", "fried"]
        .iter()
        .any(|word| description.contains(word));
    match (taken, cooked) {
        ("cooked", true) => "the other",
        (_, true) => "cooked",
        ("cooked", false) if description.contains("dry") => "dry",
        ("cooked", false) => "raw",
        _ => "the other",
    }
}

/// A row of the table without its brackets: `medium (2-1/2" dia)` is "medium".
fn short_row(row: &str) -> String {
    let plain = short(row);
    if plain.is_empty() { clean(row) } else { plain }.replace('"', "'")
}

/// Every word of the row stands in the text; spoons go by several names.
fn has_words(text: &str, row: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        text.to_lowercase()
            .split(|character: char| !character.is_alphanumeric())
            .filter(|word| !word.is_empty())
            .map(|word| match word.strip_suffix('s').unwrap_or(word) {
                "tablespoon" => "tbsp".to_string(),
                "teaspoon" => "tsp".to_string(),
                word => word.to_string(),
            })
            .collect()
    };
    let said = words(text);
    words(row).iter().all(|word| said.contains(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_measure_is_told_only_if_it_was_not_said() {
        let row = |row: &str| Assumption::Measure(row.into());
        let medium = "medium (2-1/2\" dia)";
        assert_eq!(assumed(&row(medium), "2 medium onions"), None);
        assert_eq!(assumed(&row("tbsp"), "2 tablespoons oil"), None);
        assert_eq!(
            assumed(&row(medium), "2 onions"),
            Some("weighed as \"medium\"".into())
        );
        assert_eq!(
            assumed(&row("cup, sliced"), "1 cup carrots"),
            Some("weighed as \"cup, sliced\"".into())
        );
    }
}
