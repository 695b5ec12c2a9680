//! Notes that nobody asked for at that moment: what is due, and that it is prep day.

use chrono::NaiveDateTime;

use crate::domain::answer::{LotView, NoteView};
use crate::domain::clock::occurrence::NoteKind;

use super::super::clean::name;
use super::super::date::day;
use super::super::number;
use super::super::page::{Line, Page};
use super::{moment, span};

pub fn page(note: &NoteView) -> Page {
    let mut page = Page::new();
    page.say(Line::new().bold(match note.kind {
        NoteKind::Prep if note.on == note.today => format!("Prep day, {}", day(note.on)),
        NoteKind::Prep => format!("Prep day was {}", day(note.on)),
        NoteKind::Morning => day(note.today),
        NoteKind::Evening if note.about == note.today => "For today".to_string(),
        NoteKind::Evening => "For tomorrow".to_string(),
    }));
    for (lead, lots) in [
        ("Past its date:", &note.past),
        ("Due today:", &note.due_today),
        ("Due tomorrow:", &note.due_tomorrow),
    ] {
        if !lots.is_empty() {
            page.say(lead);
            lots.iter().for_each(|lot| page.item(standing(lot)));
        }
    }
    for (lead, taken) in [
        ("Out of the freezer, into the fridge:", &note.take_out),
        ("Out of the freezer on the day itself:", &note.on_the_day),
    ] {
        if !taken.is_empty() {
            page.say(lead);
        }
        for (dish, mass) in taken {
            page.item(format!("{}, {}", name(dish), number::grams(*mass)));
        }
    }
    for (lead, lots) in [
        ("Away from tomorrow. Freeze:", &note.leaving.freeze),
        ("Finish before you go:", &note.leaving.finish),
    ] {
        if !lots.is_empty() {
            page.say(lead);
            lots.iter().for_each(|lot| page.item(standing(lot)));
        }
    }
    if let Some(late) = note.late {
        let when = moment(note.wall, note.now);
        page.say(format!("Late: it was due {when}, {} ago.", span(late)));
    }
    match note.also_for.as_slice() {
        // What those evenings would have told is over.
        _ if note.kind == NoteKind::Evening => {}
        [] => {}
        [only] => page.say(format!("Late: none was sent for {}.", day(*only))),
        [first, .., last] => page.say(format!(
            "Late: none was sent from {} to {}.",
            day(*first),
            day(*last)
        )),
    }
    page
}

/// "Still out, to be put away now:"; how soon it has to be cold was said of it as it was cooked.
pub fn put_away(out: &[LotView], unplaced: &[LotView], by: NaiveDateTime, over: bool) -> Page {
    let mut page = Page::new();
    let by = by.format("%H:%M");
    let by = match over {
        true => format!("Put away? The two hours were over at {by}:"),
        false => format!("Put away yet? By {by} at the latest, if it is still out:"),
    };
    for (lead, lots) in [("Still out, to be put away now:", out), (&by, unplaced)] {
        if !lots.is_empty() {
            page.say(lead);
            lots.iter().for_each(|lot| page.item(standing(lot)));
        }
    }
    page
}

/// "rice R2, 640 g, freezer"
pub fn standing(lot: &LotView) -> String {
    let mut said = name(&lot.name);
    if let Some(code) = &lot.batch {
        said = format!("{said} {code}");
    }
    if lot.mass.is_some() {
        said = format!("{said}, {}", number::grams(lot.balance));
    }
    match &lot.place {
        Some(place) if place != "fridge" => format!("{said}, {}", name(place)),
        _ => said,
    }
}
