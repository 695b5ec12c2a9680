//! How fast dishes go, and how long they last.

use chrono::NaiveDate;

use crate::domain::cookbook::Cover;
use crate::domain::cookbook::answer::{PaceAnswer, PaceLine, ShareAnswer};
use crate::domain::mass::Mass;
use crate::render::clean::name;
use crate::render::date::calendar_day;
use crate::render::number::{figure, grams, left};
use crate::render::page::{Line, Page, joined};

/// So many dishes are listed.
const LISTED_MAX: usize = 12;
/// By fewer days it is said that they are few.
const FEW_DAYS: u32 = 7;

pub fn page(answer: &PaceAnswer) -> Page {
    let mut page = Page::new();
    match answer.dishes.as_slice() {
        [] => page.say("Nothing stands here."),
        [dish] if answer.one => one(&mut page, dish, answer),
        dishes => {
            page.say(match answer.runs_out {
                true => "What runs out when, first things first:",
                false => "How fast things go:",
            });
            for dish in dishes.iter().take(LISTED_MAX) {
                page.item(
                    Line::new()
                        .bold(name(&dish.name))
                        .plain(format!(": {}", in_short(dish, answer.today))),
                );
            }
        }
    }
    page
}

fn one(page: &mut Page, dish: &PaceLine, answer: &PaceAnswer) {
    let called = Line::new().bold(name(&dish.name));
    let stands = format!("{} left", left(dish.left, dish.estimated));
    match dish.per_day.filter(|mass| mass.mg() > 0) {
        Some(per_day) => {
            let few = if dish.known_days < FEW_DAYS {
                "only "
            } else {
                ""
            };
            let pace = format!(
                "{} a day, {} a week (over {few}{})",
                grams(per_day),
                grams(per_day.share(7.0)),
                days(dish.known_days)
            );
            match answer.runs_out {
                true => {
                    page.say(called.plain(format!(": {}", ends(&dish.cover, answer.today))));
                    page.say(format!("{stands}, {pace}"));
                }
                false => {
                    page.say(called.plain(format!(": {pace}")));
                    page.say(format!("{stands}: {}", ends(&dish.cover, answer.today)));
                }
            }
        }
        None => {
            page.say(called.plain(format!(": {stands}; too few days tell how fast it goes.")));
            if let Some((last, _)) = dish.cover.passes {
                page.say(format!("Use by {}", calendar_day(last, answer.today)));
            }
        }
    }
}

fn in_short(dish: &PaceLine, today: NaiveDate) -> String {
    let stands = left(dish.left, dish.estimated);
    match (dish.per_day, dish.cover.passes) {
        (Some(per_day), _) if per_day > Mass::ZERO => {
            let ends = ends(&dish.cover, today);
            format!("{ends} ({stands}, {} a day)", grams(per_day))
        }
        (_, Some((last, _))) => format!("{stands}, use by {}", calendar_day(last, today)),
        (_, None) => format!("{stands}, nobody eats of it yet"),
    }
}

/// "6.9 days' worth, out on Thu 15 Oct", or which date comes before that.
fn ends(cover: &Cover, today: NaiveDate) -> String {
    let lasts = cover.days.map_or(String::new(), |days| {
        format!("{} days' worth", figure(days))
    });
    match (cover.passes, cover.out_on) {
        (Some((last, mass)), _) if last < today => format!(
            "{lasts}, but {} of it passed its date on {}",
            grams(mass),
            calendar_day(last, today)
        ),
        (Some((last, mass)), _) => format!(
            "{lasts}, but {} of it would pass the date on {}",
            grams(mass),
            calendar_day(last, today)
        ),
        (None, Some(on)) => format!("{lasts}, out on {}", calendar_day(on, today)),
        (None, None) => lasts,
    }
}

fn days(count: u32) -> String {
    match count {
        1 => "1 day".into(),
        count => format!("{count} days"),
    }
}

pub fn share(answer: &ShareAnswer) -> Page {
    let mut page = Page::new();
    let since = calendar_day(answer.since, answer.today);
    let called = Line::new().bold(name(&answer.name));
    if answer.all.mg() <= 0 {
        page.say(called.plain(format!(": nobody has eaten of it since {since}.")));
        return page;
    }
    let share = answer.own.grams() / answer.all.grams() * 100.0;
    page.say(called.plain(format!(
        ": {} were eaten since {since}, {} of it by you ({share:.0} %).",
        grams(answer.all),
        grams(answer.own)
    )));
    if !answer.guests.is_empty() {
        let guests = answer.guests.iter();
        let guests: Vec<String> = guests
            .map(|(guest, mass)| joined(&format!("{} {}", name(guest), grams(*mass))))
            .collect();
        page.say(format!(
            "Of those who do not write here: {}.",
            guests.join(", ")
        ));
    }
    page.say("What others who write here ate is theirs to tell: each is told their own.");
    page
}
