//! What was thrown away.

use crate::domain::answer::DrawAnswer;

use super::clean::{name, quote};
use super::note::say_notes;
use super::number::{grams, left};
use super::page::{Line, Page};

pub fn page(answer: &DrawAnswer) -> Page {
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
