//! What was eaten, thrown away, and what is in something.

use serde_json::{Value, json};

use crate::domain::answer::{
    DayAnswer, DrawAnswer, DrawnLot, FoodAnswer, Note, PlateView, PortionAnswer, PortionLine,
    PortionsAnswer,
};
use crate::foods;
use crate::render::avoid::found_data;
use crate::render::clean::clean;
use crate::render::personal::data::{bounds, totals};
use crate::render::portion::meal_word;

use super::batch::pieces;
use super::{grams, nutrients, told};

pub(super) fn portion(answer: &PortionAnswer) -> Value {
    let avoided = answer.notes.iter().filter_map(|note| match note {
        Note::Avoided(avoided) => Some(avoided.clone()),
        _ => None,
    });
    json!({
        "kind": "portion",
        "plates": answer.plates.iter().map(plate).collect::<Vec<_>>(),
        "avoided": found_data(&avoided.collect::<Vec<_>>()),
    })
}

/// `{"kind":"day","member","day","plates":[as in portion],"totals":{}}`
pub(super) fn day(answer: &DayAnswer) -> Value {
    json!({
        "kind": "day",
        "member": clean(&answer.member),
        "day": answer.day.to_string(),
        "plates": answer.plates.iter().map(plate).collect::<Vec<_>>(),
        "totals": totals(&answer.totals, answer.numbers),
        "targets": bounds(&answer.targets, answer.numbers),
    })
}

/// `{"kind":"portions","name","batch","left_grams","usual_grams":null if none}`
pub(super) fn portions(answer: &PortionsAnswer) -> Value {
    json!({
        "kind": "portions",
        "name": clean(&answer.name),
        "batch": clean(&answer.batch),
        "left_grams": answer.left.grams(),
        "usual_grams": grams(answer.usual),
    })
}

/// A plate as it stands.
pub fn plate(plate: &PlateView) -> Value {
    json!({
        "member": clean(&plate.member),
        "day": plate.day.to_string(),
        "meal": plate.meal.map(meal_word),
        "lines": plate.lines.iter().map(|it| line(it, plate.numbers)).collect::<Vec<_>>(),
        "totals": told(&plate.totals, plate.numbers),
    })
}

fn line(line: &PortionLine, numbers: bool) -> Value {
    json!({
        "name": clean(&line.name),
        "batch": line.batch.as_deref().map(clean),
        "food": line.food.map(|code| code.to_string()),
        "grams": line.mass.grams(),
        "left_grams": grams(line.left),
        "left_pieces": pieces(line.left_pieces.as_ref()),
        "nutrients": told(&line.totals, numbers),
        "lots": line.lots.iter().map(drawn).collect::<Vec<_>>(),
    })
}

fn drawn(lot: &DrawnLot) -> Value {
    json!({"place": lot.place.as_deref().map(clean), "grams": lot.mass.grams()})
}

pub(super) fn waste(answer: &DrawAnswer) -> Value {
    let lines: Vec<Value> = answer
        .lines
        .iter()
        .map(|line| {
            json!({
                "name": clean(&line.name),
                "batch": clean(&line.batch),
                "grams": line.mass.grams(),
                "left_grams": line.left.grams(),
            })
        })
        .collect();
    json!({"kind": "waste", "lines": lines, "reason": answer.reason.as_deref().map(clean)})
}

pub(super) fn food(answer: &FoodAnswer) -> Value {
    let of_table = answer.food.and_then(|code| foods::table().get(code));
    let description =
        of_table.map_or_else(|| clean(&answer.name), |food| food.description.to_string());
    let mut object = json!({
        "kind": "food",
        "food": answer.food.map(|code| code.to_string()),
        "description": description,
        "grams": answer.mass.grams(),
        "nutrients": nutrients(&answer.totals),
    });
    for (key, name) in [("batch", &answer.batch), ("packet", &answer.packet)] {
        if let Some(name) = name {
            object[key] = json!(clean(name));
        }
    }
    object
}
