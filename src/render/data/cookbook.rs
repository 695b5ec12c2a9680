//! Of dishes that were cooked before, for machines.

use serde_json::{Value, json};

use super::batch::expected;
use super::clean;
use super::report::money;
use crate::domain::answer::CookbookAnswer;
use crate::domain::cookbook::answer::{
    Changed, ComparedAnswer, CostAnswer, PaceAnswer, RecipeAnswer, RecipeRow, SpentAnswer,
};
use crate::domain::mass::Mass;
use crate::domain::worth::Worth;

pub(super) fn answer(answer: &CookbookAnswer) -> Value {
    match answer {
        CookbookAnswer::Recipe(answer) => recipe(answer),
        CookbookAnswer::Compared(answer) => compared(answer),
        CookbookAnswer::Pace(answer) => pace(answer),
        CookbookAnswer::Share(answer) => json!({
            "kind": "share",
            "dish": clean(&answer.name),
            "since": answer.since.to_string(),
            "own_grams": answer.own.grams(),
            "guests": guests(&answer.guests),
            "grams": answer.all.grams(),
        }),
        CookbookAnswer::Cost(answer) => cost(answer),
        CookbookAnswer::Spent(answer) => spent(answer),
    }
}

fn guests(guests: &[(String, Mass)]) -> Vec<Value> {
    let guest =
        |(name, mass): &(String, Mass)| json!({"member": clean(name), "grams": mass.grams()});
    guests.iter().map(guest).collect()
}

fn recipe(answer: &RecipeAnswer) -> Value {
    json!({
        "kind": "recipe",
        "dish": clean(&answer.name),
        "as": clean(&answer.code),
        "made": answer.made_on.to_string(),
        "factor": answer.factor,
        "lines": answer.lines.iter().map(row).collect::<Vec<_>>(),
        "without": answer.without.iter().map(|gone| clean(gone)).collect::<Vec<_>>(),
        "poured_grams": answer.poured.grams(),
        "cooked_grams": answer.comes_to.mass.grams(),
        "expected": answer.comes_to.spread.map(expected),
        "batch": answer.opened.as_ref().map(|(code, _)| clean(code)),
    })
}

fn row(row: &RecipeRow) -> Value {
    let instead = match &row.changed {
        Changed::Instead(old) => Some(clean(old)),
        Changed::No | Changed::Amount | Changed::Added => None,
    };
    json!({
        "name": clean(&row.name),
        "grams": row.mass.map(Mass::grams),
        "estimated": row.estimated,
        "ratio": row.ratio,
        "added": row.changed == Changed::Added,
        "instead_of": instead,
    })
}

fn compared(answer: &ComparedAnswer) -> Value {
    let pots = answer.pots.iter().map(|pot| {
        json!({
            "batch": clean(&pot.code),
            "made": pot.made_on.to_string(),
            "raw_grams": pot.raw.grams(),
            "main_grams": pot.main.map(Mass::grams),
            "net_grams": pot.net.grams(),
            "state": if pot.estimated { "estimated" } else { "weighed" },
            "kcal_per_100g": pot.energy.amount,
            "protein_per_100g": pot.protein.amount,
            "worth": worth(&pot.worth),
            "lasted_days": pot.lasted_days,
            "left_grams": pot.left.grams(),
            "thrown_away_grams": pot.thrown_away.grams(),
        })
    });
    let ratios = answer.ratios.iter();
    let ratios = ratios.map(|(name, row)| json!({"name": clean(name), "ratios": row}));
    json!({
        "kind": "compared",
        "dish": clean(&answer.name),
        "pots": pots.collect::<Vec<_>>(),
        "unweighed": answer.unweighed.iter().map(|code| clean(code)).collect::<Vec<_>>(),
        "main": answer.main.as_deref().map(clean),
        "ratios": ratios.collect::<Vec<_>>(),
    })
}

fn pace(answer: &PaceAnswer) -> Value {
    let dishes = answer.dishes.iter().map(|dish| {
        let passes = dish.cover.passes;
        json!({
            "dish": clean(&dish.name),
            "grams_a_day": dish.per_day.map(Mass::grams),
            "days_known": dish.known_days,
            "left_grams": dish.left.grams(),
            "days_of_cover": dish.cover.days,
            "out_on": dish.cover.out_on.map(|day| day.to_string()),
            "date_passes": passes.map(|(day, mass)| json!({"last_day": day.to_string(), "grams": mass.grams()})),
        })
    });
    json!({"kind": "pace", "dishes": dishes.collect::<Vec<_>>()})
}

fn cost(answer: &CostAnswer) -> Value {
    let part = |part: &Option<(Mass, Worth)>| {
        let part = part.as_ref();
        part.map(|(mass, of)| json!({"grams": mass.grams(), "worth": worth(of)}))
    };
    json!({
        "kind": "cost",
        "dish": clean(&answer.name),
        "batch": clean(&answer.code),
        "net_grams": answer.net.grams(),
        "worth": worth(&answer.worth),
        "unpriced": answer.unpriced.iter().map(|name| clean(name)).collect::<Vec<_>>(),
        "portion": part(&answer.portion),
        "week": part(&answer.week),
    })
}

fn spent(answer: &SpentAnswer) -> Value {
    let dishes = answer.dishes.iter();
    let dishes = dishes.map(|(name, of)| json!({"dish": clean(name), "worth": worth(of)}));
    json!({
        "kind": "spent",
        "from": answer.from.to_string(),
        "until": answer.until.to_string(),
        "worth": worth(&answer.worth),
        "dishes": dishes.collect::<Vec<_>>(),
    })
}

/// What has no price is not in the sums.
pub(super) fn worth(worth: &Worth) -> Value {
    json!({
        "cost": worth.cost.iter().map(money).collect::<Vec<_>>(),
        "unpriced_grams": worth.unpriced.grams(),
    })
}
