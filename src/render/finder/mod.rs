//! A plate that was looked for: what to weigh, what it holds, and what it lacks.

mod problem;

use crate::domain::answer::{Button, Press};
use crate::domain::finder::answer::{DaySoFar, FinderAnswer, FoundAim, FoundLine};
use crate::lang::syntax::Aimed;
use crate::render::clean::name;
use crate::render::date::calendar_day;
use crate::render::number::{about_grams, figure, figures, grams};
use crate::render::page::{Line, Page};
use crate::render::portion::named;
use crate::render::told_in;

pub use problem::wording;

pub fn page(answer: &FinderAnswer) -> Page {
    let mut page = Page::new();
    if let Some(day) = answer.day.as_ref().filter(|_| answer.numbers) {
        so_far(&mut page, day);
    }
    if answer.lines.is_empty() {
        page.say("Nothing here comes near that.");
    } else {
        page.say(match answer.is_met() {
            true => "This would do:",
            false => "As near as it gets:",
        });
    }
    for line in &answer.lines {
        let mut said = Line::new().bold(about_grams(line.mass, false));
        said = said.plain(format!(" {}", named(&line.name, line.food.is_some())));
        page.item(said.plain(beside(line, answer)));
    }
    if answer.numbers && !answer.lines.is_empty() {
        let estimated = answer.lines.iter().any(|line| line.estimated);
        page.say(figures("Together", &answer.totals, estimated));
    }
    for aim in answer
        .aims
        .iter()
        .filter(|aim| answer.numbers && aim.off != 0.0)
    {
        page.say(off(aim));
    }
    if answer.day.as_ref().is_some_and(|day| day.low) {
        page.say("That is low for a day: talk to a clinician about it.");
    }
    if !answer.unknown.is_empty() {
        let names: Vec<String> = answer.unknown.iter().map(|unknown| name(unknown)).collect();
        page.say(format!("Not all is known of: {}", names.join(", ")));
    }
    page
}

/// "Today so far: 640 kcal, protein 31 g"
fn so_far(page: &mut Page, day: &DaySoFar) {
    let had = day.had.iter();
    let had: Vec<String> = had
        .map(|(of, sum)| of_it(*of, sum.amount.unwrap_or(0.0)))
        .collect();
    page.say(format!("Today so far: {}", had.join(", ")));
}

/// "640 kcal", "protein 31 g"
fn of_it(of: Aimed, amount: f64) -> String {
    match of {
        Aimed::Energy => told_in::energy(amount),
        of => format!("{} {} g", of.name(), figure(amount)),
    }
}

/// Books the plate.
pub fn button(answer: &FinderAnswer) -> Option<Button> {
    let question = answer.question?;
    Some(Button {
        label: "Book it".to_owned(),
        press: Press::Choose {
            question,
            option: 0,
        },
    })
}

/// "salt: 1.2 g more than was asked for"
fn off(aim: &FoundAim) -> String {
    let way = if aim.off < 0.0 { "less" } else { "more" };
    let by = aim.off.abs();
    match aim.of {
        Aimed::Energy => format!("energy: {} {way} than asked for", told_in::energy(by)),
        of => format!("{}: {} g {way} than asked for", of.name(), figure(by)),
    }
}

/// What to know of it at the stove.
fn beside(line: &FoundLine, answer: &FinderAnswer) -> String {
    let due = line.use_by.map(|day| match day < answer.today {
        true => format!("past its date, {}", calendar_day(day, answer.today)),
        false => format!("use by {}", calendar_day(day, answer.today)),
    });
    let frozen = line.frozen.then(|| "frozen: thaw it first".to_owned());
    let left = line
        .left
        .filter(|_| !line.told)
        .map(|mass| format!("{} stay", grams(mass)));
    let elsewhere = line.batch.is_none() && !line.told;
    let elsewhere = elsewhere.then(|| "not in stock".to_owned());
    let known: Vec<String> = [frozen, due, left, elsewhere]
        .into_iter()
        .flatten()
        .collect();
    match known.is_empty() {
        true => String::new(),
        false => format!(" ({})", known.join(", ")),
    }
}
