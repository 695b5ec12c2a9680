//! Labels: what a picture shows.

use serde_json::{Value, json};

use crate::domain::answer::{LabelAnswer, LabelView};
use crate::render::avoid::found_data;
use crate::render::clean::clean;
use crate::render::label::{Labels, pictures};
use crate::render::picture::{DPI, Paper, millimetres};

use super::batch::{terms, unknown};
use super::{grams, nutrients};

/// What the first picture shows; each further one is sent with its own.
pub(super) fn answer(answer: &LabelAnswer) -> Value {
    let first = pictures(answer).into_iter().next();
    first.map_or(Value::Null, |(picture, views)| shown(&picture, &views))
}

/// What one picture shows.
pub fn shown(picture: &Labels, views: &[&LabelView]) -> Value {
    let labels: Vec<Value> = views.iter().map(|view| label(view)).collect();
    let mut object = json!({"kind": "label", "labels": labels});
    let (width, height) = sides(picture.paper);
    object["width_mm"] = width;
    object["height_mm"] = height;
    object["page"] = picture.page.map_or(Value::Null, |page| {
        let (width, height) = sides(page);
        json!({"width_mm": width, "height_mm": height})
    });
    object["dpi"] = json!(DPI as u32);
    object
}

fn sides(paper: Paper) -> (Value, Value) {
    (
        json!(millimetres(paper.width)),
        json!(millimetres(paper.height)),
    )
}

fn label(view: &LabelView) -> Value {
    json!({
        "batch": clean(&view.code),
        "name": clean(&view.name),
        "place": view.place.as_deref().map(clean),
        "grams": grams(view.mass),
        "made": view.made_on.to_string(),
        "frozen": view.frozen_on.map(|day| day.to_string()),
        "use_by": view.due.map(|due| due.on.to_string()),
        "per_100g": nutrients(&view.per_100g),
        "allergens": terms(&view.allergens),
        "allergens_unknown": unknown(&view.allergens),
        "avoided": found_data(&view.avoided),
    })
}
