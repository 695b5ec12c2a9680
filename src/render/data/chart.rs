//! Charts: what they show, day by day and dish by dish.

use serde_json::{Value, json};

use crate::domain::course::{CourseAnswer, CourseOf};
use crate::domain::nutrients::Totals;
use crate::domain::personal::answer::{DishEaten, SourcesAnswer, WeekAnswer};
use crate::domain::personal::target::amount;
use crate::lang::syntax::Aimed;
use crate::render::clean::clean;
use crate::render::personal::data::{bounds, key};

/// What the panels of a week are of.
const OF_WEEK: [Aimed; 2] = [Aimed::Energy, Aimed::Protein];

pub fn week(answer: &WeekAnswer) -> Value {
    let days: Vec<Value> = answer
        .days
        .iter()
        .map(|told| {
            let dishes: Vec<Value> = told.dishes.iter().map(dish).collect();
            let mut object = of_week(&told.totals);
            object["day"] = json!(told.day.to_string());
            object["dishes"] = dishes.into();
            object
        })
        .collect();
    let targets = answer
        .targets
        .iter()
        .filter(|target| OF_WEEK.contains(&target.of));
    let targets: Vec<_> = targets.copied().collect();
    json!({
        "kind": "chart",
        "chart": "week",
        "member": clean(&answer.member),
        "from": answer.from.to_string(),
        "until": answer.until.to_string(),
        "days": days,
        "targets": bounds(&targets, answer.numbers),
    })
}

fn dish(dish: &DishEaten) -> Value {
    let mut object = of_week(&dish.totals);
    object["name"] = json!(clean(&dish.name));
    object["grams"] = json!(dish.mass.grams());
    object
}

fn of_week(totals: &Totals) -> Value {
    let mut object = json!({});
    for of in OF_WEEK {
        object[key(of)] = json!(amount(of, totals).amount);
    }
    object
}

pub fn sources(answer: &SourcesAnswer) -> Value {
    let told = |totals: &Totals| {
        let sum = amount(answer.of, totals);
        (sum.amount.filter(|_| answer.numbers), sum.at_least)
    };
    let dish = |dish: &DishEaten| {
        let (amount, at_least) = told(&dish.totals);
        json!({"name": clean(&dish.name), "grams": dish.mass.grams(), "amount": amount, "at_least": at_least})
    };
    let (amount, at_least) = told(&answer.totals);
    json!({
        "kind": "chart",
        "chart": "sources",
        "of": key(answer.of),
        "member": clean(&answer.member),
        "from": answer.from.to_string(),
        "until": answer.until.to_string(),
        "amount": amount,
        "at_least": at_least,
        "dishes": answer.dishes.iter().map(dish).collect::<Vec<Value>>(),
    })
}

pub fn course(answer: &CourseAnswer) -> Value {
    let days = answer
        .from
        .iter_days()
        .take_while(|day| *day <= answer.until);
    let days: Vec<String> = days.map(|day| day.to_string()).collect();
    let parts: Vec<Value> = answer
        .parts
        .iter()
        .map(|part| {
            let held: Vec<f64> = part.held.iter().map(|mass| mass.grams()).collect();
            let (name, place) = match &part.of {
                CourseOf::Dish(name) => (Some(name.as_str()), None),
                CourseOf::Ready => (answer.dish.as_deref(), Some("ready")),
                CourseOf::Frozen => (answer.dish.as_deref(), Some("frozen")),
            };
            json!({"name": name.map(clean), "stands": place, "grams": held, "estimated": part.estimated})
        })
        .collect();
    json!({
        "kind": "chart",
        "chart": "stock",
        "dish": answer.dish.as_deref().map(clean),
        "days": days,
        "parts": parts,
    })
}
