//! The plan for machines.

use serde_json::{Value, json};

use super::clean;
use crate::domain::cookbook::RecipeLine;
use crate::domain::mass::Mass;
use crate::domain::prep::answer::PlanAnswer;
use crate::domain::prep::horizon::{Cooking, DishPlan, Why};

pub(super) fn answer(answer: &PlanAnswer) -> Value {
    let planned = &answer.planned;
    let unknown = planned.unknown.iter();
    let unknown = unknown.map(|(name, mass)| json!({"dish": clean(name), "grams": mass.grams()}));
    json!({
        "kind": "plan",
        "from": planned.horizon.from.to_string(),
        "until": planned.horizon.until.to_string(),
        "by": match planned.horizon.why {
            Why::PrepDay => "prep_day",
            Why::Usual => "usual",
            Why::Told => "told",
        },
        "eaters": planned.eaters,
        "pots_a_day": planned.pots_a_day,
        "dishes": planned.dishes.iter().map(dish).collect::<Vec<_>>(),
        "unknown": unknown.collect::<Vec<_>>(),
    })
}

fn dish(dish: &DishPlan) -> Value {
    let dated = |list: &[(chrono::NaiveDate, Mass)]| -> Vec<Value> {
        let on = |(on, mass): &(chrono::NaiveDate, Mass)| json!({"on": on.to_string(), "grams": mass.grams()});
        list.iter().map(on).collect()
    };
    json!({
        "dish": clean(&dish.name),
        "grams_a_day": dish.pace.map(|pace| pace.a_day),
        "days_told": dish.pace.map(|pace| pace.days),
        "demand_grams": dish.demand.iter().map(|mass| mass.grams()).collect::<Vec<_>>(),
        "wished": dish.wished,
        "par_grams": dish.par.grams(),
        "there_grams": dish.there.grams(),
        "past_grams": dish.past.grams(),
        "cook": dish.cook.iter().map(cooking).collect::<Vec<_>>(),
        "freeze": dated(&dish.freeze),
        "thaw": dated(&dish.thaw),
        "unmet": dated(&dish.unmet),
        "short_grams": dish.short.grams(),
        "spoils_grams": dish.spoils.grams(),
        "left_grams": dish.left.grams(),
    })
}

fn cooking(cooking: &Cooking) -> Value {
    let line =
        |line: &RecipeLine| json!({"name": clean(&line.name), "grams": line.mass.map(Mass::grams)});
    let recipe = cooking.recipe.as_ref();
    json!({
        "on": cooking.on.to_string(),
        "grams": cooking.mass.grams(),
        "pots": cooking.pots,
        "freeze_grams": cooking.frozen.grams(),
        "ingredients": recipe.map(|recipe| recipe.lines.iter().map(line).collect::<Vec<_>>()),
    })
}
