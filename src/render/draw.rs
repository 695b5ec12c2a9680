//! What was thrown away, and what a count found.

use crate::domain::answer::{CountAnswer, CountLine, DrawAnswer};

use super::clean::{name, quote};
use super::note::say_notes;
use super::number::{grams, left};
use super::page::{Line, Page};

pub fn waste(answer: &DrawAnswer) -> Page {
    let mut page = Page::new();
    for line in &answer.lines {
        page.item(
            Line::new()
                .plain(format!("Thrown away: {} ", grams(line.mass)))
                .bold(name(&line.name))
                .plain(format!(
                    " {}, {} left",
                    name(&line.batch),
                    left(line.left, false)
                )),
        );
    }
    if let Some(reason) = &answer.reason {
        page.say(format!("Reason: {}", quote(reason)));
    }
    say_notes(&mut page, &answer.notes, None);
    page
}

pub fn count(answer: &CountAnswer) -> Page {
    let mut page = Page::new();
    for line in &answer.lines {
        page.item(
            Line::new()
                .plain("Counted: ")
                .bold(name(&line.name))
                .plain(format!(
                    " {}, {}, {}",
                    name(&line.batch),
                    grams(line.counted),
                    difference(line)
                )),
        );
    }
    say_notes(&mut page, &answer.notes, None);
    page
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
