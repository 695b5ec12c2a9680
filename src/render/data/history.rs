//! What became of a batch.

use serde_json::{Value, json};

use crate::domain::history::{Happened, HistoryAnswer, What};
use crate::render::clean::clean;

pub(super) fn answer(answer: &HistoryAnswer) -> Value {
    json!({
        "kind": "history",
        "name": clean(&answer.name),
        "batch": clean(&answer.batch),
        "others": answer.others.iter().map(|code| clean(code)).collect::<Vec<_>>(),
        "lines": answer.lines.iter().map(line).collect::<Vec<_>>(),
        "left_grams": answer.left.grams(),
    })
}

fn line(line: &Happened) -> Value {
    let mut object = json!({
        "at": line.at.format("%Y-%m-%dT%H:%M:%S").to_string(),
        "what": word(&line.what),
        "grams": line.mass.grams(),
        "left_grams": line.left.grams(),
        "member": line.by.as_deref().map(clean),
    });
    match &line.what {
        What::Used { batch, .. } => object["batch"] = json!(clean(batch)),
        What::Moved { to } => object["place"] = json!(to.as_deref().map(clean)),
        What::ThrownAway { reason } => object["reason"] = json!(reason.as_deref().map(clean)),
        What::Counted { counted } => object["counted_grams"] = json!(counted.grams()),
        _ => {}
    }
    object
}

fn word(what: &What) -> &'static str {
    match what {
        What::Made => "made",
        What::Eaten { own: true } => "eaten_by_you",
        What::Eaten { own: false } => "eaten",
        What::EatenUnweighed => "eaten_unweighed",
        What::ThrownAway { .. } => "thrown_away",
        What::Used { .. } => "used",
        What::Moved { .. } => "moved",
        What::Counted { .. } => "counted",
        What::Difference => "difference",
    }
}
