//! What people cannot have or leave out, and where a dish has it. Nothing recorded is never called free of it.

use serde_json::{Value, json};

use crate::domain::avoid::answer::{Asked, AvoidAnswer, Eater, InDish};
use crate::domain::avoid::problem::AvoidProblem;
use crate::domain::avoid::{Avoidance, Avoided};

use super::clean::{capital, clean, name, short_within};
use super::page::{Line, Page};
use super::problem::Wording;

/// The longest name of an ingredient here, in characters.
const NAME_CHARS_MAX: usize = 30;

/// Names that are told before the rest is counted.
const NAMES_SHOWN_MAX: usize = 4;

pub fn page(answer: &AvoidAnswer) -> Page {
    let mut page = Page::new();
    match answer {
        AvoidAnswer::Told { who, told, .. } => {
            facts(&mut page, who, told);
            if told.iter().any(|told| told.holds) {
                page.say("It is said here on dishes, plates and labels that have it.");
            }
        }
        AvoidAnswer::Listed(each) if each.is_empty() => {
            page.say("Nobody here has told of an allergy, or of food that they leave out.");
            page.example("Ana is allergic to peanuts");
        }
        AvoidAnswer::Listed(each) => {
            for (who, avoids) in each {
                page.say(listed(who, avoids));
            }
        }
        AvoidAnswer::Of {
            who,
            dish,
            avoids,
            found,
            ..
        } => of_dish(&mut page, (who, dish), avoids, found),
        AvoidAnswer::Contents {
            name: of,
            things,
            whole,
            allergens,
            ..
        } => contents(&mut page, of, things, *whole, allergens),
        AvoidAnswer::In {
            asked,
            dishes,
            named,
        } => in_dishes(&mut page, asked, dishes, *named),
    }
    page
}

/// "In butter biscuits: wheat, milk."
fn contents(page: &mut Page, of: &str, things: &[String], whole: bool, allergens: &[String]) {
    let listed: Vec<String> = things
        .iter()
        .map(|it| short_within(it, NAME_CHARS_MAX))
        .collect();
    let lead = match whole {
        true => "All that is in",
        false => "In",
    };
    page.say(format!("{lead} {}: {}.", name(of), listed.join(", ")));
    match allergens.is_empty() {
        true => page.say(format!(
            "None of the lists' allergens is recorded. {NOT_FREE}"
        )),
        false => page.say(Line::new().bold(format!("Allergens: {}", allergens.join(", ")))),
    };
}

/// What has any of it, by dish; what nobody can tell; and where none is recorded.
fn in_dishes(page: &mut Page, asked: &Asked, dishes: &[InDish], named: bool) {
    if let Asked::Person(who, avoids) = asked {
        page.say(listed(who, avoids));
        if avoids.is_empty() {
            return;
        }
    }
    if dishes.is_empty() {
        page.say("Nothing stands here.");
    }
    for dish in dishes {
        let lead = capital(&name(&dish.name));
        let has =
            |(what, parts): &(String, Vec<String>)| format!("{} in {}", name(what), names(parts));
        if !dish.found.is_empty() {
            let found: Vec<String> = dish.found.iter().map(has).collect();
            page.say(Line::new().bold(format!("{lead}: {}", found.join("; "))));
        }
        if !dish.unknown.is_empty() {
            page.say(format!("{lead}: not known of {}", names(&dish.unknown)));
        }
    }
    let none = dishes
        .iter()
        .filter(|dish| dish.found.is_empty() && (named || dish.unknown.is_empty()));
    let none: Vec<String> = none.map(|dish| name(&dish.name)).collect();
    if !none.is_empty() {
        let what = match asked {
            Asked::What(what) => format!("{}: ", name(what)),
            Asked::Allergens | Asked::Person(..) => String::new(),
        };
        let said = format!("{what}none recorded of {}. {NOT_FREE}", none.join(", "));
        page.say(capital(&said));
    }
}

/// What is not recorded may be there all the same.
const NOT_FREE: &str = "That is not the same as none: look at the packets, too.";

/// "Noted: Ana cannot have peanuts, milk."
fn facts(page: &mut Page, who: &Eater, told: &[Avoidance]) {
    let of = |holds: bool, cannot: bool| {
        let such = told.iter();
        let such = such.filter(|told| (told.holds, told.cannot) == (holds, cannot));
        let names: Vec<String> = such.map(|told| name(&told.what)).collect();
        names.join(", ")
    };
    let (whose, s) = match who.you {
        true => ("you".to_owned(), ""),
        false => (name(&who.name), "s"),
    };
    for (what, does, again) in [
        (of(true, true), "cannot have".to_owned(), ""),
        (of(true, false), format!("leave{s} out"), ""),
        (of(false, true), "can have".to_owned(), " again"),
        (of(false, false), format!("eat{s}"), " again"),
    ] {
        if !what.is_empty() {
            page.say(format!("Noted: {whose} {does} {what}{again}."));
        }
    }
}

pub fn listed(who: &Eater, avoids: &[Avoidance]) -> String {
    let who = capital(&name(&who.name));
    let of = |cannot: bool| {
        let told = avoids.iter().filter(|told| told.cannot == cannot);
        let names: Vec<String> = told.map(|told| name(&told.what)).collect();
        names.join(", ")
    };
    let (cannot, leaves_out) = (of(true), of(false));
    match (cannot.is_empty(), leaves_out.is_empty()) {
        (true, true) => format!("{who}: nothing was told. That is not the same as no allergy."),
        (false, true) => format!("{who} cannot have {cannot}."),
        (true, false) => format!("{who} leaves out {leaves_out}."),
        (false, false) => format!("{who} cannot have {cannot}, and leaves out {leaves_out}."),
    }
}

fn of_dish(page: &mut Page, (who, dish): (&Eater, &str), avoids: &[Avoidance], found: &[Avoided]) {
    if avoids.is_empty() {
        page.say(listed(who, avoids));
        return;
    }
    say(page, found);
    let told = |told: &&Avoidance| found.iter().all(|found| found.what != told.what);
    let rest: Vec<String> = avoids
        .iter()
        .filter(told)
        .map(|it| name(&it.what))
        .collect();
    if !rest.is_empty() {
        page.say(format!(
            "{}: none recorded of {}. {NOT_FREE}",
            capital(&name(dish)),
            rest.join(", ")
        ));
    }
}

/// One line for each person and thing: what it is in, or what nobody can tell.
pub fn say(page: &mut Page, found: &[Avoided]) {
    let mut told: Vec<Avoided> = Vec::new();
    for avoided in found {
        // Of one ingredient that nobody knows, all that somebody cannot have is one line.
        let alike = told.iter_mut().find(|other| {
            !avoided.is_in() && other.member == avoided.member && other.has == avoided.has
        });
        match alike {
            Some(other) => other.what = format!("{}, {}", other.what, avoided.what),
            None => told.push(avoided.clone()),
        }
    }
    for avoided in &told {
        page.say(Line::new().bold(line(avoided)));
    }
}

/// "Ana, peanuts: in peanut butter", "Ana, peanuts: not known of stock cube".
pub fn line(avoided: &Avoided) -> String {
    let lead = format!(
        "{}, {}",
        capital(&name(&avoided.member)),
        name(&avoided.what)
    );
    match avoided.is_in() {
        true => format!("{lead}: in {}", names(&avoided.has.in_what)),
        false => format!("{lead}: not known of {}", names(&avoided.has.unknown)),
    }
}

/// For a label: those for whom it has something, and what.
pub fn on_label(found: &[Avoided]) -> Option<String> {
    let known = found.iter().filter(|avoided| avoided.is_in());
    let told: Vec<String> = known
        .map(|avoided| format!("{} ({})", name(&avoided.member), name(&avoided.what)))
        .collect();
    (!told.is_empty()).then(|| format!("Not for {}", told.join(", ")))
}

fn names(all: &[String]) -> String {
    let shown = all.iter().take(NAMES_SHOWN_MAX);
    let mut told: Vec<String> = shown.map(|it| short_within(it, NAME_CHARS_MAX)).collect();
    let more = all.len() - told.len();
    if more > 0 {
        told.push(format!("{more} more"));
    }
    told.join(", ")
}

pub fn found_data(found: &[Avoided]) -> Vec<Value> {
    let each = found.iter();
    let one = |avoided: &Avoided| {
        let clean_all = |names: &[String]| names.iter().map(|it| clean(it)).collect::<Vec<_>>();
        json!({
            "member": clean(&avoided.member),
            "what": clean(&avoided.what),
            "cannot": avoided.cannot,
            "in": clean_all(&avoided.has.in_what),
            "unknown": clean_all(&avoided.has.unknown),
        })
    };
    each.map(one).collect()
}

pub fn avoids_data(avoids: &[Avoidance]) -> Vec<Value> {
    let each = avoids.iter();
    let one = |told: &Avoidance| json!({"what": clean(&told.what), "cannot": told.cannot});
    each.map(one).collect()
}

pub fn data(answer: &AvoidAnswer) -> Value {
    let person = |who: &Eater, avoids: &[Avoidance]| json!({"member": clean(&who.name), "avoids": avoids_data(avoids)});
    match answer {
        AvoidAnswer::Told { who, told, .. } => {
            let event = match told.iter().any(|told| told.holds) {
                true => "told",
                false => "dropped",
            };
            json!({"kind": "avoids", "event": event, "people": [person(who, told)]})
        }
        AvoidAnswer::Listed(each) => {
            let people: Vec<Value> = each
                .iter()
                .map(|(who, avoids)| person(who, avoids))
                .collect();
            json!({"kind": "avoids", "event": "listed", "people": people})
        }
        AvoidAnswer::Of {
            who,
            dish,
            batch,
            avoids,
            found,
        } => json!({
            "kind": "avoided_in",
            "name": clean(dish),
            "batch": batch.as_deref().map(clean),
            "people": [person(who, avoids)],
            "found": found_data(found),
        }),
        AvoidAnswer::Contents {
            name: of,
            things,
            whole,
            allergens,
            ..
        } => {
            let things: Vec<String> = things.iter().map(|it| clean(it)).collect();
            json!({"kind": "contents", "name": clean(of), "things": things, "whole": whole, "allergens": allergens})
        }
        AvoidAnswer::In { asked, dishes, .. } => {
            let (people, what) = match asked {
                Asked::Allergens => (Vec::new(), None),
                Asked::What(what) => (Vec::new(), Some(clean(what))),
                Asked::Person(who, avoids) => (vec![person(who, avoids)], None),
            };
            let dishes: Vec<Value> = dishes.iter().map(dish_data).collect();
            json!({"kind": "in_dishes", "what": what, "people": people, "dishes": dishes})
        }
    }
}

fn dish_data(dish: &InDish) -> Value {
    let all = |names: &[String]| names.iter().map(|it| clean(it)).collect::<Vec<_>>();
    let found = dish.found.iter();
    let found = found.map(|(what, parts)| json!({"what": clean(what), "in": all(parts)}));
    json!({
        "name": clean(&dish.name),
        "batch": dish.batch.as_deref().map(clean),
        "found": found.collect::<Vec<_>>(),
        "unknown": all(&dish.unknown),
    })
}

pub fn problem(problem: &AvoidProblem) -> Wording {
    match problem {
        AvoidProblem::NotTold { who, what } => {
            let who = name(who);
            let what = what.as_deref().map_or("anything".to_owned(), name);
            Wording::new(format!("Of {who} nothing was told about {what}."))
        }
        AvoidProblem::CookedHere { dish, batch } => {
            let said = format!("What is in {}, its ingredients tell.", name(dish));
            Wording::new(said).example(format!("add 20 g butter to {batch}"))
        }
        AvoidProblem::TheirsToSay { who } => {
            let who = name(who);
            Wording::new(format!(
                "That {who} may have it after all is for {who} to say."
            ))
        }
    }
}
