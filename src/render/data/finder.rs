//! A plate that was looked for, for machines.

use serde_json::{Value, json};

use super::{clean, grams, nutrients};
use crate::domain::finder::answer::{DaySoFar, FinderAnswer, FoundAim, FoundLine};
use crate::render::personal::data::key;

/// `{"kind":"finder","met","lines":[..],"totals":{},"aims":[..],"day":{},"unknown":[..]}`
pub(super) fn answer(answer: &FinderAnswer) -> Value {
    json!({
        "kind": "finder",
        "met": answer.is_met(),
        "lines": answer.lines.iter().map(|it| line(it, answer.numbers)).collect::<Vec<_>>(),
        "totals": answer.numbers.then(|| nutrients(&answer.totals)),
        "aims": answer.aims.iter().map(|it| aim(it, answer.numbers)).collect::<Vec<_>>(),
        "day": answer.day.as_ref().map(|day| so_far(day, answer.numbers)),
        "unknown": answer.unknown.iter().map(|name| clean(name)).collect::<Vec<_>>(),
    })
}

/// What the day that is filled up has so far.
fn so_far(day: &DaySoFar, numbers: bool) -> Value {
    let told = day.had.iter().filter(|_| numbers);
    let had = told.map(|(of, sum)| json!({"of": key(*of), "had": sum.amount}));
    json!({"had": had.collect::<Vec<_>>(), "low": day.low})
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
