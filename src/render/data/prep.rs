//! What is said ahead of cooking, for machines.

use serde_json::{Value, json};

use super::clean;
use crate::domain::answer::PrepAnswer;
use crate::domain::prep::answer::GoodAnswer;
use crate::domain::prep::goods::{Cupboard, GoodFact};

pub(super) fn answer(answer: &PrepAnswer) -> Value {
    match answer {
        PrepAnswer::Good(answer) => good(answer),
        PrepAnswer::Par { dish, mass, .. } => {
            json!({"kind": "par", "dish": clean(dish), "grams": mass.map(|mass| mass.grams())})
        }
        PrepAnswer::PotHolds { dish, mass, .. } => {
            json!({"kind": "pot", "dish": dish.as_deref().map(clean), "grams": mass.grams()})
        }
        PrepAnswer::Limit { what, count, .. } => {
            json!({"kind": "limit", "what": what.word(), "count": count})
        }
    }
}

fn good(answer: &GoodAnswer) -> Value {
    let mut object = json!({
        "kind": "good",
        "name": clean(&answer.good.words),
        "food": answer.good.food.map(|code| code.to_string()),
    });
    match &answer.fact {
        GoodFact::Trimmed { bought, trimmed } => {
            object["bought_grams"] = json!(bought.grams());
            object["trimmed_grams"] = json!(trimmed.grams());
            object["refuse"] = json!(answer.refuse.share);
            object["refuse_by_table"] = json!(answer.by_table);
        }
        GoodFact::Pack { mass, word } => {
            object["pack"] = json!({"word": clean(word), "grams": mass.grams()});
        }
        GoodFact::Price { money, mass } => {
            object["price"] = json!({
                "amount": money.hundredths as f64 / 100.0,
                "currency": clean(&money.currency),
                "grams": mass.grams(),
            });
        }
        GoodFact::Cupboard(cupboard) => {
            let grams = match cupboard {
                Cupboard::Holds(mass) => Some(mass.grams()),
                Cupboard::Always | Cupboard::Out => None,
            };
            let always = *cupboard == Cupboard::Always;
            object["cupboard"] = json!({"grams": grams, "always": always});
        }
    }
    object
}
