//! What counts found.

use serde_json::{Value, json};

use crate::domain::answer::{CountAnswer, TakenAnswer};
use crate::render::clean::clean;

use super::batch::lot;

/// `{"kind":"count","lines":[{"name","batch","place","grams","difference_grams","unweighed_grams"}],"elsewhere":[as in stock]}`
pub(super) fn count(answer: &CountAnswer) -> Value {
    let lines: Vec<Value> = answer
        .lines
        .iter()
        .map(|line| {
            json!({
                "name": clean(&line.name),
                "batch": clean(&line.batch),
                "place": line.place.as_deref().map(clean),
                "grams": line.counted.grams(),
                "difference_grams": line.difference.grams(),
                "unweighed_grams": line.unweighed.grams(),
            })
        })
        .collect();
    let elsewhere: Vec<Value> = answer.elsewhere.iter().map(lot).collect();
    json!({"kind": "count", "lines": lines, "elsewhere": elsewhere})
}

/// `{"kind":"taken","dishes":[names],"amount","member"}`
pub(super) fn taken(answer: &TakenAnswer) -> Value {
    json!({
        "kind": "taken",
        "dishes": answer.dishes.iter().map(|dish| clean(dish)).collect::<Vec<_>>(),
        "amount": clean(&answer.amount),
        "member": answer.taker.as_deref().map(clean),
    })
}
