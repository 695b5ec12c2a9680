//! Batches and lots, in the form that the export has too.

use serde_json::{Value, json};

use crate::domain::allergen::Allergens;
use crate::domain::answer::{
    BatchAnswer, BatchView, LineView, LotView, MoveAnswer, Note, PiecesView,
};
use crate::domain::estimate::Spread;
use crate::render::avoid::found_data;
use crate::render::clean::clean;

use super::{candidates, grams, told};

pub(super) fn answer(answer: &BatchAnswer) -> Value {
    let mut object = json!({"kind": "batch", "batch": batch(&answer.view)});
    if !answer.pending.is_empty() {
        let pending: Vec<Value> = answer
            .pending
            .iter()
            .map(|(line, problem)| {
                json!({
                    "line": line,
                    "code": problem.kind.code(),
                    "candidates": candidates(&problem.kind),
                })
            })
            .collect();
        object["pending"] = Value::Array(pending);
    }
    let mut notes = answer.notes.iter();
    let off = notes.find_map(|note| match note {
        Note::OffPlates(off) => Some(off),
        _ => None,
    });
    if let Some(off) = off {
        let off = off.iter();
        let off = off.map(|(member, mass)| json!({"member": clean(member), "grams": mass.grams()}));
        object["off_plates"] = off.collect();
    }
    object
}

/// A batch as it stands.
pub fn batch(view: &BatchView) -> Value {
    json!({
        "code": clean(&view.code),
        "name": clean(&view.name),
        "origin": view.origin.word(),
        "state": if view.estimated { "estimated" } else { "weighed" },
        "made": view.made_on.to_string(),
        "raw_grams": view.raw_mass.grams(),
        "net_grams": view.net_mass.grams(),
        "yield": view.yield_factor(),
        "expected": view.expected.map(expected),
        "pieces": pieces(view.pieces.as_ref()),
        "ingredients": view.lines.iter().map(ingredient).collect::<Vec<_>>(),
        "totals": told(&view.totals, view.numbers),
        "per_100g": told(&view.per_100g, view.numbers),
        "allergens": terms(&view.allergens),
        "allergens_unknown": unknown(&view.allergens),
        "avoided": found_data(&view.avoided),
        "lots": view.lots.iter().map(lot_of_batch).collect::<Vec<_>>(),
    })
}

/// How far own pots lie apart.
pub(super) fn expected(spread: Spread) -> Value {
    json!({
        "least_grams": spread.least.grams(),
        "most_grams": spread.most.grams(),
        "pots": spread.pots,
    })
}

/// The terms of both lists, each once.
pub(super) fn terms(allergens: &Allergens) -> Vec<&'static str> {
    let mut terms = Vec::new();
    for allergen in &allergens.contains {
        for term in [allergen.us(), allergen.eu()].into_iter().flatten() {
            if !terms.contains(&term) {
                terms.push(term);
            }
        }
    }
    terms
}

/// Ingredients that may carry more.
pub(super) fn unknown(allergens: &Allergens) -> Vec<String> {
    allergens.unknown.iter().map(|name| clean(name)).collect()
}

fn ingredient(line: &LineView) -> Value {
    json!({
        "text": clean(&line.text),
        "food": line.food.map(|code| code.to_string()),
        "batch": line.batch.as_deref().map(clean),
        "packet": line.packet.as_deref().map(clean),
        "grams": grams(line.mass),
        "estimated": line.estimated,
    })
}

fn lot_of_batch(lot: &LotView) -> Value {
    json!({
        "place": lot.place.as_deref().map(clean),
        "vessel": lot.vessel.as_deref().map(clean),
        "grams": grams(lot.mass),
        "pieces": pieces(lot.pieces.as_ref()),
        "use_by": lot.use_by().map(|day| day.to_string()),
    })
}

/// `{"count", "word"}`, null for what is not counted.
pub(super) fn pieces(pieces: Option<&PiecesView>) -> Value {
    pieces.map_or(
        Value::Null,
        |pieces| json!({"count": pieces.count, "word": pieces.word.as_deref().map(clean)}),
    )
}

/// What stands where: lots with what a cook goes by.
pub(super) fn stock(lots: &[LotView]) -> Value {
    let standing = |lot: &LotView| {
        let mut object = self::lot(lot);
        object["frozen"] = json!(lot.frozen);
        object["best_by"] = json!(lot.best_by().map(|day| day.to_string()));
        object["usual_grams"] = grams(lot.usual);
        object["taken_unweighed"] = json!(lot.taken);
        object
    };
    json!({"kind": "stock", "lots": lots.iter().map(standing).collect::<Vec<_>>()})
}

/// What was put where: the new lots, and what of their batches stands elsewhere.
pub(super) fn moved(answer: &MoveAnswer) -> Value {
    let lots = |lots: &[LotView]| lots.iter().map(lot).collect::<Vec<_>>();
    json!({
        "kind": "move",
        "thawed": answer.thawed,
        "packed": answer.packed,
        "lots": lots(&answer.lots),
        "elsewhere": lots(&answer.elsewhere),
    })
}

/// A lot as it stands; `grams` is null until its batch is weighed in.
pub fn lot(lot: &LotView) -> Value {
    json!({
        "batch": lot.batch.as_deref().map(clean),
        "name": clean(&lot.name),
        "place": lot.place.as_deref().map(clean),
        "vessel": lot.vessel.as_deref().map(clean),
        "grams": grams(lot.mass),
        "pieces": pieces(lot.pieces.as_ref()),
        "use_by": lot.use_by().map(|day| day.to_string()),
    })
}
