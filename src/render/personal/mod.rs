//! Days, weeks, targets and what people choose for themselves. Neutral words: no praise, no blame, no streaks.

pub mod data;
mod problem;

use chrono::NaiveDate;

use crate::domain::avoid::answer::Eater;
use crate::domain::nutrients::Sum;
use crate::domain::personal::answer::{
    DayTotals, DistanceAnswer, OwnSettings, PersonalAnswer, TargetEvent, TargetsAnswer, WeekAnswer,
};
use crate::domain::personal::problem::ToDelete;
use crate::domain::personal::target::{Distance, Target};
use crate::lang::syntax::Aimed;

use super::avoid;
use super::chart::sources_page;
use super::clean::{capital, name, short_within};
use super::date::day;
use super::number::{about_grams, day_figures, figure};
use super::page::{Line, Page, joined};
use super::told_in;

pub use problem::problem;

/// The longest name of a dish in a list of a day, in characters.
const DISH_CHARS_MAX: usize = 30;

pub fn page(answer: &PersonalAnswer) -> Page {
    let mut page = Page::new();
    match answer {
        PersonalAnswer::Targets(answer) => targets(&mut page, answer),
        PersonalAnswer::Distance(answer) => distance(&mut page, answer),
        PersonalAnswer::Week(answer) => week(&mut page, answer),
        PersonalAnswer::Sources(answer) => page = sources_page(answer),
        PersonalAnswer::Numbers { told: true, .. } => {
            page.say("Numbers are on for you.");
        }
        PersonalAnswer::Numbers { told: false, .. } => {
            page.say("No numbers for you: grams and what is left, no more. Back with:");
            page.example("numbers on");
        }
        PersonalAnswer::Totals { private: true, .. } => {
            page.say(
                "Your totals are for our private chat. In a group you see grams and what is left.",
            );
        }
        PersonalAnswer::Totals { private: false, .. } => {
            page.say("Your totals are told wherever you ask.");
        }
        PersonalAnswer::TheirOwn { name: theirs } => {
            let theirs = name(theirs);
            page.say(format!("What {theirs} eats is for {theirs} to tell."));
        }
        PersonalAnswer::EachTheirOwn => {
            page.say("What each of you has eaten is for each to ask:");
            page.example("my day");
        }
        PersonalAnswer::InPrivate => {
            page.say("That is for our private chat, as you chose. Ask me there, or:");
            page.example("my totals here");
        }
        PersonalAnswer::Deleted(what) => page.say(match what {
            ToDelete::Asker => {
                "You are deleted here. Copies of the file that were made before still hold what was there."
            }
            ToDelete::Member { .. } => {
                "Deleted. Copies of the file that were made before still hold what was there."
            }
            ToDelete::Household => {
                "This household is deleted. Copies of the file that were made before still hold it."
            }
        }),
    }
    page
}

/// Numbers are off: what brings them back.
pub fn say_off(page: &mut Page) {
    page.say("Numbers are off for you.");
}

fn targets(page: &mut Page, answer: &TargetsAnswer) {
    if answer.targets.is_empty() {
        page.say("You have no targets. For example:");
        page.example("target 2200 kcal, 130 g protein");
        return;
    }
    let told = match answer.numbers {
        true => listed(&answer.targets),
        false => names(&answer.targets),
    };
    match answer.event {
        TargetEvent::Set | TargetEvent::Shown => {
            page.say(format!("{} {told}.", lead(&answer.targets)))
        }
        TargetEvent::Dropped => {
            page.say(format!("No target any more: {}.", names(&answer.targets)))
        }
    }
    if answer.event == TargetEvent::Set && answer.targets.iter().any(Target::is_low) {
        page.say("That is low for a day: talk to a clinician about it.");
    }
    if !answer.numbers && answer.event == TargetEvent::Shown {
        say_off(page);
    }
}

fn lead(targets: &[Target]) -> &'static str {
    match targets.len() {
        1 => "Target a day:",
        _ => "Targets a day:",
    }
}

fn names(targets: &[Target]) -> String {
    let names: Vec<&str> = targets.iter().map(|target| target.of.name()).collect();
    names.join(", ")
}

/// "2200 kcal, protein 120 to 140 g"
fn listed(targets: &[Target]) -> String {
    let each: Vec<String> = targets
        .iter()
        .map(|target| joined(&bounds(target)))
        .collect();
    each.join(", ")
}

/// What somebody has chosen, below the settings of the household.
pub fn say_own(page: &mut Page, own: &OwnSettings) {
    page.gap();
    page.say(format!("For {}:", name(&own.name)));
    page.item(match own.numbers {
        true => "numbers: told",
        false => "numbers: none",
    });
    page.item(match own.private {
        true => "totals: in our private chat",
        false => "totals: wherever you ask",
    });
    if let Some(targets) = &own.targets {
        page.item(match targets.is_empty() {
            true => "targets: none".to_owned(),
            false => format!("targets: {}", listed(targets)),
        });
    }
    if !own.avoids.is_empty() {
        let (name, you) = (own.name.clone(), true);
        page.item(avoid::listed(&Eater { name, you }, &own.avoids));
    }
}

/// The targets on a line below what was eaten.
pub fn say_targets(page: &mut Page, targets: &[Target]) {
    if !targets.is_empty() {
        page.say(format!("{} {}", lead(targets), listed(targets)));
    }
}

fn bounds(target: &Target) -> String {
    let amounts = amounts(target);
    match target.of {
        Aimed::Energy => amounts,
        of => format!("{} {amounts}", of.name()),
    }
}

/// "120 to 140 g", "at most 6 g"
pub fn amounts(target: &Target) -> String {
    let of = target.of;
    match (target.least, target.most) {
        (Some(least), Some(most)) if least == most => counted(of, least),
        (Some(least), Some(most)) => format!("{} to {}", shown(of, least), counted(of, most)),
        (Some(least), None) => format!("at least {}", counted(of, least)),
        (None, Some(most)) => format!("at most {}", counted(of, most)),
        (None, None) => String::new(),
    }
}

pub fn shown(of: Aimed, amount: f64) -> String {
    match of {
        Aimed::Energy => told_in::energy_figure(amount),
        _ => figure(amount),
    }
}

/// With its unit.
fn counted(of: Aimed, amount: f64) -> String {
    match of {
        Aimed::Energy => told_in::energy(amount),
        _ => format!("{} g", shown(of, amount)),
    }
}

fn distance(page: &mut Page, answer: &DistanceAnswer) {
    if !answer.numbers {
        say_off(page);
        page.example("numbers on");
        return;
    }
    if answer.lines.is_empty() && answer.without.is_empty() {
        page.say("You have no targets, so there is no distance to tell. What stands here:");
        page.example("what's left");
        return;
    }
    for (of, eaten) in &answer.without {
        page.say(format!(
            "No target for {}. Today: {}.",
            of.name(),
            had(*of, *eaten, answer.estimated)
        ));
    }
    for (target, eaten) in &answer.lines {
        page.item(to_target(target, *eaten, answer.estimated));
    }
}

/// "Protein: 85 g so far, 45 g left of 130 g"
fn to_target(target: &Target, eaten: Sum, estimated: bool) -> Line {
    let of = target.of;
    let about = if estimated { "~" } else { "" };
    // What is not known of the day makes the way shorter than it looks.
    let (most, least) = match eaten.at_least {
        true => ("at most ", "at least "),
        false => ("", ""),
    };
    let aim = amounts(target);
    let way = match target.distance(eaten) {
        Distance::Below {
            least,
            most: Some(further),
        } if further > least => format!(
            "{most}{about}{} to {} left of {aim}",
            shown(of, least),
            counted(of, further)
        ),
        Distance::Below { least, .. } => {
            format!("{most}{about}{} left of {aim}", counted(of, least))
        }
        Distance::Within(Some(room)) if target.least.is_none() => {
            format!("{most}{about}{} left of {aim}", counted(of, room))
        }
        Distance::Within(Some(room)) if room > 0.0 => {
            format!("within {aim}, {most}{about}{} left", counted(of, room))
        }
        Distance::Within(_) => format!("{aim} is there"),
        Distance::Above(over) => format!("{least}{about}{} above {aim}", counted(of, over)),
    };
    let name = capital(of.name());
    Line::new()
        .plain(format!("{name}: {} so far, ", had(of, eaten, estimated)))
        .bold(way)
}

/// "at least ~85 g"
pub fn had(of: Aimed, eaten: Sum, estimated: bool) -> String {
    let Some(amount) = eaten.amount else {
        return "not known".to_owned();
    };
    let least = if eaten.at_least { "at least " } else { "" };
    let about = if estimated && amount > 0.0 { "~" } else { "" };
    format!("{least}{about}{}", counted(of, amount))
}

fn week(page: &mut Page, answer: &WeekAnswer) {
    page.say(format!(
        "{}, {}",
        name(&answer.member),
        days(answer.from, answer.until)
    ));
    if answer.days.is_empty() {
        page.say("Nothing is booked for these days.");
        return;
    }
    for told in &answer.days {
        page.item(match answer.numbers {
            true => day_figures(&day(told.day), &told.totals, told.estimated),
            false => Line::from(format!("{}: {}", day(told.day), dishes(told))),
        });
    }
    if !answer.numbers {
        say_off(page);
        return;
    }
    let estimated = answer.days.iter().any(|told| told.estimated);
    if let Some(mean) = &answer.mean {
        let lead = match answer.days.len() {
            1 => "Mean of 1 day with entries".to_owned(),
            days => format!("Mean of {days} days with entries"),
        };
        page.say(day_figures(&lead, mean, estimated));
    }
    say_targets(page, &answer.targets);
}

pub fn days(from: NaiveDate, until: NaiveDate) -> String {
    match from == until {
        true => day(from),
        false => format!("{} to {}", day(from), day(until)),
    }
}

fn dishes(told: &DayTotals) -> String {
    let each: Vec<String> = told
        .dishes
        .iter()
        .map(|dish| {
            let mass = joined(&about_grams(dish.mass, false));
            mass + " " + &short_within(&dish.name, DISH_CHARS_MAX)
        })
        .collect();
    each.join(", ")
}
