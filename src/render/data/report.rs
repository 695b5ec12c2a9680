//! Drift, waste and prices.

use serde_json::{Value, json};

use crate::domain::answer::{DriftAnswer, PricedAnswer, WastedAnswer};
use crate::domain::batch::Money;
use crate::render::clean::clean;

/// `{"kind":"drift","since","dishes":[{"name","recounts","difference_grams","unweighed_grams","booked_grams"}],
/// "leans":"less"|"more"|null}`
pub(super) fn drift(answer: &DriftAnswer) -> Value {
    let dishes = answer.lines.iter().map(|line| {
        json!({
            "name": clean(&line.name),
            "recounts": line.recounts,
            "difference_grams": line.difference.grams(),
            "unweighed_grams": line.unweighed.grams(),
            "booked_grams": line.booked.grams(),
        })
    });
    let leans = answer.leans_to_less;
    json!({
        "kind": "drift",
        "since": answer.since.to_string(),
        "dishes": dishes.collect::<Vec<_>>(),
        "leans": leans.map(|less| if less { "less" } else { "more" }),
    })
}

/// `{"kind":"wasted","from","until","grams","made_grams","cost":[],"unpriced_grams","dishes":[],"reasons":[]}`
pub(super) fn wasted(answer: &WastedAnswer) -> Value {
    let dishes = answer.dishes.iter().map(|line| {
        json!({
            "name": clean(&line.name),
            "grams": line.mass.grams(),
            "cost": line.cost.iter().map(money).collect::<Vec<_>>(),
            "unpriced_grams": line.unpriced.grams(),
        })
    });
    let reasons = answer.reasons.iter();
    let reasons = reasons.map(
        |(reason, mass)| json!({"reason": reason.as_deref().map(clean), "grams": mass.grams()}),
    );
    json!({
        "kind": "wasted",
        "from": answer.from.to_string(),
        "until": answer.until.to_string(),
        "grams": answer.mass().grams(),
        "made_grams": answer.made.grams(),
        "cost": answer.cost().iter().map(money).collect::<Vec<_>>(),
        "unpriced_grams": answer.unpriced().grams(),
        "dishes": dishes.collect::<Vec<_>>(),
        "reasons": reasons.collect::<Vec<_>>(),
    })
}

/// `{"kind":"price","name","batch","hundredths","currency"}`
pub(super) fn priced(answer: &PricedAnswer) -> Value {
    json!({
        "kind": "price",
        "name": clean(&answer.name),
        "batch": clean(&answer.batch),
        "hundredths": answer.price.hundredths,
        "currency": clean(&answer.price.currency),
    })
}

pub(super) fn money(money: &Money) -> Value {
    json!({"hundredths": money.hundredths, "currency": clean(&money.currency)})
}
