//! A plate that was looked for, for machines.

use serde_json::{Value, json};

use super::{clean, grams, nutrients};
use crate::domain::finder::answer::{FinderAnswer, FoundAim, FoundLine};
use crate::render::personal::data::key;

/// `{"kind":"finder","met","lines":[..],"totals":{},"aims":[..],"unknown":[..]}`
pub(super) fn answer(answer: &FinderAnswer) -> Value {
    json!({
        "kind": "finder",
        "met": answer.is_met(),
        "lines": answer.lines.iter().map(|it| line(it, answer.numbers)).collect::<Vec<_>>(),
        "totals": answer.numbers.then(|| nutrients(&answer.totals)),
        "aims": answer.aims.iter().map(|it| aim(it, answer.numbers)).collect::<Vec<_>>(),
        "unknown": answer.unknown.iter().map(|name| clean(name)).collect::<Vec<_>>(),
    })
}

fn line(line: &FoundLine, numbers: bool) -> Value {
    json!({
        "name": clean(&line.name),
        "batch": line.batch.as_deref().map(clean),
        "food": line.food.map(|code| code.to_string()),
        "grams": line.mass.grams(),
        "told": line.told,
        "left_grams": grams(line.left),
        "use_by": line.use_by.map(|day| day.to_string()),
        "frozen": line.frozen,
        "state": if line.estimated { "estimated" } else { "weighed" },
        "nutrients": numbers.then(|| nutrients(&line.totals)),
    })
}

fn aim(aim: &FoundAim, numbers: bool) -> Value {
    json!({
        "of": key(aim.of),
        "least": aim.least,
        "most": aim.most,
        "holds": aim.holds.amount.filter(|_| numbers),
        "off": numbers.then_some(aim.off),
    })
}
