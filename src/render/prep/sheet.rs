//! The steps of a dish, and the sheet of a prep day.

use chrono::{Duration, NaiveDateTime};

use crate::domain::prep::sheet::{DishStep, SheetRow, WorkSheet};
use crate::domain::prep::work::Uses;
use crate::render::clean::name;
use crate::render::clock::{moment, span};
use crate::render::page::{Line, Page};

pub fn steps(dish: &str, steps: &[DishStep]) -> Page {
    let mut page = Page::new();
    let called = Line::new().bold(name(dish));
    if steps.is_empty() {
        page.say(called.plain(": no steps from here on."));
        return page;
    }
    let all: u32 = steps.iter().map(|known| known.step.minutes).sum();
    let count = match steps.len() {
        1 => "1 step".to_string(),
        count => format!("{count} steps"),
    };
    page.say(called.plain(format!(": {count}, {} in all.", lasts(all))));
    for (known, number) in steps.iter().zip(1..) {
        page.item(format!(
            "{number}. {}, {}{}",
            name(&known.words),
            lasts(known.step.minutes),
            uses(known.step.uses)
        ));
    }
    page
}

fn lasts(minutes: u32) -> String {
    span(Duration::minutes(i64::from(minutes)))
}

fn uses(uses: Uses) -> String {
    match uses {
        Uses::Hands => String::new(),
        Uses::Burner => ", on a burner".to_string(),
        Uses::Oven(None) => ", in the oven".to_string(),
        Uses::Oven(Some(heat)) => format!(", in the oven at {heat} °C"),
        Uses::Nothing => ", by itself".to_string(),
    }
}

pub fn page(sheet: &WorkSheet) -> Page {
    let mut page = Page::new();
    if let Some(asked) = sheet.asked {
        page.say(format!(
            "It cannot all be ready {}: it would have had to begin before now.",
            moment(asked, sheet.now)
        ));
    }
    page.say(
        Line::new()
            .plain("All is ready ")
            .bold(moment(sheet.ready, sheet.now))
            .plain("."),
    );
    if let Some(hands) = sheet
        .hands_from
        .filter(|hands| *hands != sheet.rows[0].begins)
    {
        page.say(format!("Hands are needed from {}.", hands.format("%H:%M")));
    }
    let mut day = sheet.now.date();
    for row in &sheet.rows {
        if row.begins.date() != day {
            day = row.begins.date();
            page.gap();
            page.say(Line::new().bold(crate::render::date::day(day)));
        }
        page.item(self::row(row));
    }
    if !sheet.without.is_empty() {
        page.gap();
        page.say(format!(
            "Without steps, so not on it: {}.",
            super::shop::names(&sheet.without)
        ));
    }
    page
}

/// "17:25 lentil dal: simmer, until 18:00, on a burner"
fn row(row: &SheetRow) -> Line {
    let time = |moment: NaiveDateTime| moment.format("%H:%M").to_string();
    Line::new().bold(time(row.begins)).plain(format!(
        " {}: {}, until {}{}",
        name(&row.dish),
        name(&row.words),
        time(row.ends),
        uses(row.uses)
    ))
}
