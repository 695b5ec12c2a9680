//! Days, weeks and targets for machines. What is not told in words is not told here.

use serde_json::{Value, json};

use crate::domain::nutrients::{Sum, Totals};
use crate::domain::personal::answer::{
    DistanceAnswer, OwnSettings, PersonalAnswer, TargetEvent, TargetsAnswer, WeekAnswer,
};
use crate::domain::personal::problem::ToDelete;
use crate::domain::personal::target::{Target, salt};
use crate::lang::syntax::Aimed;

use super::super::avoid::avoids_data;
use super::super::clean::clean;
use super::super::data::chart::sources;
use super::super::data::nutrients;

pub fn data(answer: &PersonalAnswer) -> Value {
    match answer {
        PersonalAnswer::Targets(answer) => targets(answer),
        PersonalAnswer::Distance(answer) => distance(answer),
        PersonalAnswer::Week(answer) => week(answer),
        PersonalAnswer::Sources(answer) => sources(answer),
        PersonalAnswer::Numbers { told, .. } => json!({"kind": "numbers", "told": told}),
        PersonalAnswer::Totals { private, .. } => json!({"kind": "totals", "private": private}),
        PersonalAnswer::TheirOwn { name } => {
            json!({"kind": "not_told", "why": "theirs", "member": clean(name)})
        }
        PersonalAnswer::EachTheirOwn => {
            json!({"kind": "not_told", "why": "theirs", "member": null})
        }
        PersonalAnswer::InPrivate => json!({"kind": "not_told", "why": "private", "member": null}),
        PersonalAnswer::Deleted(what) => json!({
            "kind": "deleted",
            "what": match what {
                ToDelete::Asker => "you",
                ToDelete::Member { .. } => "member",
                ToDelete::Household => "household",
            },
        }),
    }
}

/// The nutrients with salt beside them; null where numbers are not told.
pub fn totals(totals: &Totals, numbers: bool) -> Value {
    if !numbers {
        return Value::Null;
    }
    let mut object = nutrients(totals);
    object["salt_g"] = json!(salt(totals).amount);
    object
}

pub fn bounds(targets: &[Target], numbers: bool) -> Vec<Value> {
    let told = targets.iter().filter(|_| numbers);
    told.map(|target| json!({"of": key(target.of), "least": target.least, "most": target.most}))
        .collect()
}

/// What somebody has chosen, beside the settings of the household.
pub fn own(own: &OwnSettings) -> Value {
    json!({
        "member": clean(&own.name),
        "numbers": own.numbers,
        "private": own.private,
        "targets": own.targets.as_ref().map(|targets| bounds(targets, true)),
        "avoids": avoids_data(&own.avoids),
    })
}

pub fn key(of: Aimed) -> &'static str {
    match of {
        Aimed::Energy => "energy_kcal",
        Aimed::Protein => "protein_g",
        Aimed::Fat => "fat_g",
        Aimed::Carbohydrate => "carbohydrate_g",
        Aimed::Fibre => "fibre_g",
        Aimed::Salt => "salt_g",
    }
}

fn targets(answer: &TargetsAnswer) -> Value {
    let event = match answer.event {
        TargetEvent::Set => "set",
        TargetEvent::Dropped => "dropped",
        TargetEvent::Shown => "shown",
    };
    json!({
        "kind": "targets",
        "event": event,
        "targets": bounds(&answer.targets, answer.numbers),
        "low": answer.event == TargetEvent::Set && answer.targets.iter().any(Target::is_low),
    })
}

fn distance(answer: &DistanceAnswer) -> Value {
    let told = answer.lines.iter().filter(|_| answer.numbers);
    let line = |of: Aimed, eaten: &Sum, least: Option<f64>, most: Option<f64>| {
        json!({
            "of": key(of),
            "eaten": eaten.amount,
            "at_least": eaten.at_least,
            "least": least,
            "most": most,
        })
    };
    let mut lines: Vec<Value> = told
        .map(|(target, eaten)| line(target.of, eaten, target.least, target.most))
        .collect();
    let without = answer.without.iter().filter(|_| answer.numbers);
    lines.extend(without.map(|(of, eaten)| line(*of, eaten, None, None)));
    json!({"kind": "to_target", "day": answer.day.to_string(), "lines": lines})
}

fn week(answer: &WeekAnswer) -> Value {
    let days: Vec<Value> = answer
        .days
        .iter()
        .map(|told| json!({"day": told.day.to_string(), "totals": totals(&told.totals, answer.numbers)}))
        .collect();
    json!({
        "kind": "week",
        "member": clean(&answer.member),
        "from": answer.from.to_string(),
        "until": answer.until.to_string(),
        "days": days,
        "mean": answer.mean.as_ref().map(|mean| totals(mean, answer.numbers)),
        "targets": bounds(&answer.targets, answer.numbers),
    })
}
