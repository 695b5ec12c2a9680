//! What became of a batch, day by day, with what was left each time.

use crate::domain::history::{Happened, HistoryAnswer, What};
use crate::domain::mass::Mass;

use super::clean::{name, the};
use super::date::day;
use super::number::{about_grams, grams, left};
use super::page::{Line, Page};

/// A story is told from its beginning, and of a long one the end.
const LINES_MAX: usize = 40;

pub fn page(answer: &HistoryAnswer) -> Page {
    let mut page = Page::new();
    page.say(Line::new().bold(name(&answer.name)).plain(format!(
        " {}: {} left",
        name(&answer.batch),
        left(answer.left, answer.estimated)
    )));
    let left_out = answer.lines.len().saturating_sub(LINES_MAX);
    let mut today = None;
    for (at, line) in answer.lines.iter().enumerate() {
        if at > 0 && at <= left_out {
            continue;
        }
        if left_out > 0 && at == left_out + 1 {
            page.say(format!("… {left_out} lines between"));
        }
        if today != Some(line.at.date()) {
            today = Some(line.at.date());
            page.gap();
            page.say(day(line.at.date()));
        }
        page.item(told(line, answer.estimated));
    }
    if !answer.others.is_empty() {
        let others: Vec<String> = answer.others.iter().map(|code| name(code)).collect();
        page.gap();
        page.say(format!("More of it: {}", others.join(", ")));
    }
    page
}

/// "19:00 you ate 180 g, left 1220 g".
fn told(line: &Happened, estimated: bool) -> String {
    let mass = grams(line.mass);
    let what = match &line.what {
        What::Made => format!("made: {}", about_grams(line.mass, estimated)),
        What::Eaten { own: true } => format!("you ate {mass}"),
        What::Eaten { own: false } => format!("eaten {mass}"),
        What::EatenUnweighed => format!("eaten unweighed {mass}"),
        What::ThrownAway { reason: None } => format!("thrown away {mass}"),
        What::ThrownAway {
            reason: Some(reason),
        } => format!("thrown away {mass}, \"{}\"", name(reason)),
        What::Used { name: dish, batch } => format!("{mass} into {} {}", name(dish), name(batch)),
        What::Moved { to: Some(place) } => format!("{mass} to {}", the(&name(place))),
        What::Moved { to: None } => format!("{mass} put elsewhere"),
        What::Counted { counted } => format!("counted {}{}", grams(*counted), beside(line.mass)),
        What::Difference => {
            let more = if line.mass.is_negative() {
                "less"
            } else {
                "more"
            };
            format!("{} {more} was there than booked", grams(line.mass.abs()))
        }
    };
    let by = line.by.as_deref().filter(|_| line.what != What::Made);
    let by = by.map_or(String::new(), |member| format!(" ({})", name(member)));
    let left = match line.what {
        What::Made | What::Moved { .. } => String::new(),
        _ => format!(", left {}", left(line.left, estimated)),
    };
    format!("{} {what}{by}{left}", line.at.format("%H:%M"))
}

/// How far the scale was from the books.
fn beside(difference: Mass) -> String {
    match difference.mg() {
        0 => ", as booked".to_owned(),
        less if less < 0 => format!(", {} less", grams(difference.abs())),
        _ => format!(", {} more", grams(difference)),
    }
}
