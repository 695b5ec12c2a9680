//! What stood here as a chart, and the same numbers as text.

use chrono::NaiveDate;

use super::palette::FILLS;
use super::words::NAME_CHARS_MAX;
use super::{Body, Chart, Column, Key, Panel};
use crate::domain::course::{CourseAnswer, CourseOf, CoursePart};
use crate::domain::mass::Mass;
use crate::render::clean::{capital, name, short_within};
use crate::render::date::day;
use crate::render::number::about_grams;
use crate::render::page::{Page, joined};

/// So many days are all named; of more every seventh is.
const DAYS_NAMED_MAX: usize = 8;
const DAYS_APART: usize = 7;

/// What stood here at the end of each day. `None`: nothing did.
pub fn course(answer: &CourseAnswer) -> Option<Chart> {
    if answer.parts.is_empty() {
        return None;
    }
    let parts = course_parts(answer);
    let days = answer
        .from
        .iter_days()
        .take_while(|day| *day <= answer.until);
    let days: Vec<NaiveDate> = days.collect();
    // Few columns tell their own; many are measured by lines.
    let few = days.len() <= DAYS_NAMED_MAX;
    let columns: Vec<Column> = days
        .iter()
        .enumerate()
        .map(|(at, day)| Column {
            label: match is_named(at, days.len()) {
                true => day.format("%-d %b").to_string(),
                false => String::new(),
            },
            told: match few {
                true => told_at(answer, at),
                false => String::new(),
            },
            parts: parts.iter().map(|part| part.held[at].grams()).collect(),
        })
        .collect();
    let sums = columns.iter().map(|column| column.parts.iter().sum());
    let key = parts.iter().map(|part| Key {
        name: part.name.clone(),
        figures: format!("{} now", part.now()),
        rest: part.rest,
    });
    Some(Chart {
        title: title(answer),
        below_title: format!(
            "{} now, at the end of each day since {}",
            now(answer),
            day(answer.from)
        ),
        body: Body::Days {
            panels: vec![Panel {
                heading: String::new(),
                aim: None,
                ticks: match few {
                    true => Vec::new(),
                    false => ticks(sums.fold(0.0, f64::max)),
                },
                columns,
            }],
            key: key.collect(),
        },
    })
}

fn title(answer: &CourseAnswer) -> String {
    match &answer.dish {
        Some(dish) => capital(&name(dish)),
        None => "What stood here".to_owned(),
    }
}

struct Part {
    name: String,
    held: Vec<Mass>,
    estimated: bool,
    rest: bool,
}

impl Part {
    fn now(&self) -> String {
        about_grams(
            self.held.last().copied().unwrap_or_default(),
            self.estimated,
        )
    }
}

fn course_parts(answer: &CourseAnswer) -> Vec<Part> {
    let part = |part: &CoursePart| Part {
        name: match &part.of {
            CourseOf::Dish(dish) => short_within(dish, NAME_CHARS_MAX),
            CourseOf::Ready => "ready".to_owned(),
            CourseOf::Frozen => "frozen".to_owned(),
        },
        held: part.held.clone(),
        estimated: part.estimated,
        rest: false,
    };
    let alone = match answer.parts.len() > FILLS {
        true => FILLS - 1,
        false => answer.parts.len(),
    };
    let (own, rest) = answer.parts.split_at(alone);
    let mut parts: Vec<Part> = own.iter().map(part).collect();
    if !rest.is_empty() {
        let at = |at: usize| rest.iter().map(|part| part.held[at]).sum();
        parts.push(Part {
            name: format!("{} others", rest.len()),
            held: (0..rest[0].held.len()).map(at).collect(),
            estimated: rest.iter().any(|part| part.estimated),
            rest: true,
        });
    }
    parts
}

fn held_at(answer: &CourseAnswer, at: usize) -> (Mass, bool) {
    let held = |part: &CoursePart| part.held[at];
    let estimated = answer
        .parts
        .iter()
        .any(|part| part.estimated && part.held[at].mg() > 0);
    (answer.parts.iter().map(held).sum(), estimated)
}

fn told_at(answer: &CourseAnswer, at: usize) -> String {
    let (mass, estimated) = held_at(answer, at);
    about_grams(mass, estimated)
}

fn now(answer: &CourseAnswer) -> String {
    let last = answer.parts.first().map_or(0, |part| part.held.len() - 1);
    told_at(answer, last)
}

/// Every day, or today and every seventh day before it.
fn is_named(at: usize, count: usize) -> bool {
    count <= DAYS_NAMED_MAX || (count - 1 - at).is_multiple_of(DAYS_APART)
}

/// Round amounts up to the first that is not less.
fn ticks(most: f64) -> Vec<(f64, String)> {
    let most = most.max(1.0);
    let power = 10_f64.powf((most / 4.0).log10().floor());
    let steps = [1.0, 2.0, 2.5, 5.0, 10.0].map(|step| step * power);
    let step = steps
        .into_iter()
        .find(|step| most / step <= 4.0)
        .unwrap_or(most);
    let count = (most / step).ceil() as u32;
    let amounts = (1..=count).map(|at| f64::from(at) * step);
    amounts
        .filter_map(|amount| Some((amount, about_grams(Mass::from_grams(amount)?, false))))
        .collect()
}

/// The same in words: the days that are named on it, then what there is of each now.
pub fn course_page(answer: &CourseAnswer) -> Page {
    let mut page = Page::new();
    if answer.parts.is_empty() {
        let what = answer
            .dish
            .as_deref()
            .map_or_else(|| "Nothing".to_owned(), |dish| format!("No {}", name(dish)));
        page.say(format!("{what} stood here in the last four weeks."));
        return page;
    }
    page.say(format!("{}, at the end of the day:", title(answer)));
    let count = answer
        .from
        .iter_days()
        .take_while(|day| *day <= answer.until)
        .count();
    for (at, on) in answer.from.iter_days().take(count).enumerate() {
        let told = told_at(answer, at);
        match at + 1 == count {
            true => page.item(format!("now: {told}")),
            false if is_named(at, count) || at == 0 => page.item(format!("{}: {told}", day(on))),
            false => {}
        }
    }
    let parts = course_parts(answer);
    if answer.dish.is_some() || parts.len() > 1 {
        page.gap();
        for part in &parts {
            page.item(format!(
                "{}: {}",
                part.name,
                joined(&format!("{} now", part.now()))
            ));
        }
    }
    page
}
