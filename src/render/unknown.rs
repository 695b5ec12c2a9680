//! Words that stand for nothing known here: foods, names, people, units, measures, vessels.

use super::clean::{name, quote};
use super::food::described;
use super::problem::{NEAR_MAX, Wording, packet_of};
use crate::foods;

pub fn unknown_food(words: &str, near: &[foods::Code]) -> Wording {
    let mut wording = Wording::new(format!(
        "{} is no batch, packet or food known here.",
        quote(words)
    ));
    wording.near = near
        .iter()
        .take(NEAR_MAX)
        .map(|code| format!("{} ({code})", described(*code)))
        .collect();
    let wording = match near.first() {
        Some(code) => wording
            .lead("By its number, or from its packet:")
            .example(format!("120 g {code}")),
        None => wording.lead("From its packet:"),
    };
    wording.example(packet_of(words)).booking()
}

pub fn unknown_name(words: &str, near: &[String]) -> Wording {
    let mut wording = Wording::new(format!("Nothing here is called {}.", quote(words)));
    wording.near = near.iter().map(|near| name(near)).collect();
    // Two batches of one name are one name.
    wording.near.dedup();
    wording.near.truncate(NEAR_MAX);
    if wording.near.is_empty() {
        wording.lead("What there is:").example("what's left")
    } else {
        wording
    }
}

pub fn several_called(person: &str) -> Wording {
    Wording::new(format!("Several here are called {}.", name(person)))
        .lead("Whoever ate it can send it without the name:")
        .example("140 dal")
        .booking()
}

pub fn unknown_unit(word: &str) -> Wording {
    Wording::new(format!("{} is not a unit.", quote(word)))
        .lead("Use grams, or teach the measure:")
        .example(format!("1 {} dal = 180 g", name(word)))
        .booking()
}

pub fn unknown_measure(measure: &str, food: &str) -> Wording {
    let (measure, food) = (name(measure), name(food));
    Wording::new(format!(
        "How heavy is 1 {measure} of {food}? That is not known yet."
    ))
    .lead("Use grams, or teach it:")
    .example(taught(&measure, &food))
    .booking()
}

/// How a measure is taught. One millilitre is too little for a kitchen's scale.
pub fn taught(measure: &str, food: &str) -> String {
    match measure {
        "ml" => format!("100 ml {food} = 103 g"),
        _ => format!("1 {measure} {food} = 180 g"),
    }
}

pub fn unknown_tare(vessel: &str) -> Wording {
    Wording::new(format!("How heavy is the empty {}?", quote(vessel)))
        .lead("Teach it and weigh again, or give the tare:")
        .example(format!("{} is 812 g empty", name(vessel)))
        .booking()
}
