//! What was put where, and until when it may be eaten there.

use chrono::NaiveDate;

use crate::domain::answer::{LotView, MoveAnswer, MoveLine};

use super::clean::name;
use super::date::use_by;
use super::keeping::why;
use super::note::say_notes;
use super::number::left;
use super::page::{Line, Page};

pub fn page(answer: &MoveAnswer) -> Page {
    let mut page = Page::new();
    for line in &answer.lines {
        page.item(moved(line, answer));
        if let Some(due) = &line.lot.due {
            let on = use_by(due.on, answer.today);
            page.say(format!(
                "{}{} ({})",
                on[..1].to_uppercase(),
                &on[1..],
                why(due)
            ));
        }
    }
    // What stands elsewhere is said once for several bags of one batch.
    let last = |line: &&MoveLine| {
        let same = |other: &&MoveLine| other.lot.batch == line.lot.batch;
        answer.lines.iter().rev().find(same) == Some(line)
    };
    let own = |lot: &&LotView| !answer.lines.iter().any(|line| line.lot == **lot);
    let first = answer.lines.first().map(|line| &line.lot.batch);
    let one_batch = answer
        .lines
        .iter()
        .all(|line| Some(&line.lot.batch) == first);
    for line in answer.lines.iter().filter(last) {
        for lot in line.elsewhere.iter().filter(own) {
            let called = match one_batch {
                true => String::new(),
                false => format!(" {}", name(&lot.name)),
            };
            page.say(elsewhere(lot, &called, answer.today));
        }
    }
    say_notes(&mut page, &answer.notes, None);
    page
}

/// "Into the freezer: 600 g lentil dal D1".
fn moved(line: &MoveLine, answer: &MoveAnswer) -> Line {
    let lot = &line.lot;
    let place = lot.place.as_deref().map_or(String::new(), name);
    let lead = if answer.thawed {
        "Thawing in the"
    } else {
        "Into the"
    };
    Line::new()
        .plain(format!(
            "{lead} {place}: {} ",
            left(lot.balance, lot.mass.is_none())
        ))
        .bold(name(&lot.name))
        .plain(
            lot.batch
                .as_deref()
                .map_or(String::new(), |code| format!(" {}", name(code))),
        )
}

fn elsewhere(lot: &LotView, called: &str, today: NaiveDate) -> String {
    let place = lot
        .place
        .as_deref()
        .map_or("No place said".into(), |place| {
            format!("In the {}", name(place))
        });
    let amount = left(lot.balance, lot.mass.is_none());
    let due = lot
        .use_by()
        .map_or(String::new(), |on| format!(", {}", use_by(on, today)));
    format!("{place}: {amount}{called}{due}")
}
