//! What counts found.

use serde_json::{Value, json};

use crate::domain::answer::{CountAnswer, SheetAnswer, TakenAnswer};
use crate::render::clean::clean;

use super::batch::lot;

/// `{"kind":"count","lines":[{"name","batch","place","grams","difference_grams","unweighed_grams"}],"walk","elsewhere":[as in move]}`
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
    json!({"kind": "count", "lines": lines, "walk": answer.walk, "elsewhere": elsewhere})
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

/// `{"kind":"sheet","lots":[{"batch","name","place","grams"}]}`
pub(super) fn sheet(answer: &SheetAnswer) -> Value {
    let lots = answer.lots.iter().map(|lot| {
        json!({
            "batch": lot.batch.as_deref().map(clean),
            "name": clean(&lot.name),
            "place": lot.place.as_deref().map(clean),
            "grams": lot.balance.grams(),
        })
    });
    json!({"kind": "sheet", "lots": lots.collect::<Vec<_>>()})
}
