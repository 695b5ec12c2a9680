//! The plan for machines.

use serde_json::{Value, json};

use super::clean;
use super::cookbook::worth;
use crate::domain::cookbook::RecipeLine;
use crate::domain::mass::Mass;
use crate::domain::prep::answer::{WhyAnswer, WhyOf};
use crate::domain::prep::horizon::Why;
use crate::domain::prep::planned::{Cooking, DishPlan, Planned, Thaw};

pub(super) fn answer(planned: &Planned) -> Value {
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
        "people": planned.people,
        "only": planned.only.iter().map(|name| clean(name)).collect::<Vec<_>>(),
        "eaters": planned.eaters,
        "pots_a_day": planned.pots_a_day,
        "dishes": planned.dishes.iter().map(dish).collect::<Vec<_>>(),
        "unknown": unknown.collect::<Vec<_>>(),
        "worth": worth(&planned.worth()),
    })
}

pub(super) fn why(answer: &WhyAnswer) -> Value {
    let of = match &answer.of {
        WhyOf::Dish(dish) => json!({"plan": self::dish(dish), "goes_into": null}),
        WhyOf::GoesIn {
            name,
            mass,
            dish,
            cooked,
            code,
        } => json!({"plan": null, "goes_into": {
            "name": clean(name),
            "grams": mass.map(Mass::grams),
            "dish": clean(dish),
            "cooked_grams": cooked.grams(),
            "as": clean(code),
        }}),
    };
    json!({
        "kind": "plan_reason",
        "from": answer.horizon.from.to_string(),
        "until": answer.horizon.until.to_string(),
        "eaters": answer.eaters,
        "asked_grams": answer.asked.map(Mass::grams),
        "of": of,
    })
}

fn dish(dish: &DishPlan) -> Value {
    let dated = |list: &[(chrono::NaiveDate, Mass)]| -> Vec<Value> {
        let on = |(on, mass): &(chrono::NaiveDate, Mass)| json!({"on": on.to_string(), "grams": mass.grams()});
        list.iter().map(on).collect()
    };
    let thaw = |thaw: &Thaw| json!({"on": thaw.on.to_string(), "grams": thaw.mass.grams(), "overnight": thaw.overnight});
    json!({
        "dish": clean(&dish.name),
        "grams_a_day": dish.pace.map(|pace| pace.a_day),
        "days_told": dish.pace.map(|pace| pace.days),
        "demand_grams": dish.demand.iter().map(|mass| mass.grams()).collect::<Vec<_>>(),
        "wished": dish.wished,
        "taken_grams": dish.taken.grams(),
        "par_grams": dish.par.grams(),
        "there_grams": dish.there.grams(),
        "past_grams": dish.past.grams(),
        "eaten_before_grams": dish.eaten_before.grams(),
        "pot_grams": dish.pot.mass().grams(),
        "keeps_days": dish.keeps.0,
        "keeps_frozen_days": dish.keeps.1,
        "cook": dish.cook.iter().map(|cooked| cooking(cooked, dish.portion)).collect::<Vec<_>>(),
        "freeze": dated(&dish.freeze),
        "thaw": dish.thaw.iter().map(thaw).collect::<Vec<_>>(),
        "unmet": dated(&dish.unmet),
        "short_grams": dish.short.grams(),
        "spoils_grams": dish.spoils.grams(),
        "left_grams": dish.left.grams(),
    })
}

fn cooking(cooking: &Cooking, portion: Option<Mass>) -> Value {
    let portion = portion.map(|mass| {
        let share = mass.grams() / cooking.mass.grams();
        json!({"grams": mass.grams(), "worth": worth(&cooking.worth.share(share))})
    });
    let line =
        |line: &RecipeLine| json!({"name": clean(&line.name), "grams": line.mass.map(Mass::grams)});
    let recipe = cooking.recipe.as_ref();
    json!({
        "on": cooking.on.to_string(),
        "grams": cooking.mass.grams(),
        "pots": cooking.pots,
        "freeze_grams": cooking.frozen.grams(),
        "worth": worth(&cooking.worth),
        "portion": portion,
        "ingredients": recipe.map(|recipe| recipe.lines.iter().map(line).collect::<Vec<_>>()),
    })
}
