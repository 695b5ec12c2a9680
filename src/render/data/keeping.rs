//! What came to stand here, how long it keeps, and where.

use serde_json::{Value, json};

use crate::domain::answer::{KeepsAnswer, KeptView, ReceiveAnswer, UseByAnswer};
use crate::domain::keeping::{Keeps, Span, Storage};
use crate::domain::kitchen::PlaceKind;
use crate::render::clean::clean;

use super::{candidates, lot};

pub(super) fn received(answer: &ReceiveAnswer) -> Value {
    let mut object = json!({
        "kind": "receive",
        "origin": answer.origin.word(),
        "lots": answer.lots.iter().map(|received| lot(&received.lot)).collect::<Vec<_>>(),
    });
    let unclear = answer.lots.iter().filter_map(|received| {
        let problem = received.pending.as_ref()?;
        Some(json!({
            "batch": received.lot.batch.as_deref().map(clean),
            "code": problem.kind.code(),
            "candidates": candidates(&problem.kind),
        }))
    });
    let unclear: Vec<Value> = unclear.collect();
    if !unclear.is_empty() {
        object["pending"] = Value::Array(unclear);
    }
    object
}

pub(super) fn keeps(answer: &KeepsAnswer) -> Value {
    json!({
        "kind": "keeps",
        "name": clean(&answer.name),
        "kept": answer.kept.iter().map(kept).collect::<Vec<_>>(),
        "lots": answer.lots.iter().map(lot).collect::<Vec<_>>(),
    })
}

fn kept(kept: &KeptView) -> Value {
    let storage = match kept.storage {
        Storage::Fridge => "fridge",
        Storage::Thawed => "thawed",
        Storage::Freezer => "freezer",
    };
    json!({
        "storage": storage,
        "keeps": kept.keeps.as_ref().map(time),
        "chart": kept.chart.as_ref().map(time),
    })
}

fn time(keeps: &Keeps) -> Value {
    let (days, months) = match keeps.until {
        Span::Days(days) => (Some(days), None),
        Span::Months(months) => (None, Some(months)),
    };
    json!({"days": days, "months": months, "source": keeps.source})
}

pub(super) fn told(answer: &UseByAnswer) -> Value {
    json!({
        "kind": "use_by",
        "told": answer.told.to_string(),
        "lots": answer.lots.iter().map(lot).collect::<Vec<_>>(),
    })
}

pub(super) fn place(name: &str, kind: PlaceKind) -> Value {
    let kind = match kind {
        PlaceKind::Fridge => "fridge",
        PlaceKind::Freezer => "freezer",
        PlaceKind::Counter => "counter",
    };
    json!({"kind": "place", "name": clean(name), "storage": kind})
}
