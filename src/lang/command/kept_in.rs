//! A dish in a jar, with what the jar weighs empty: "sauce in a jar, 612, jar is 212". Nobody eats from a jar, so it may be
//! what is left of the dish as well as a plate of it: the books tell.

use crate::lang::scale::{Food, Group};
use crate::lang::syntax::{Command, Portion, Tare, WeighedOf, Weighing};

/// Food is kept in these, and not eaten from them.
pub const KEPT_IN: [&str; 7] = ["jar", "tub", "container", "bottle", "jug", "tin", "crock"];

pub fn read(portion: &Portion, food: &Food, gross: &Group, empty: &Group) -> Option<Command> {
    let whose = portion.who.is_some() || portion.meal.is_some() || portion.day.is_some();
    let eaten = whose || gross.said("ate") || gross.said("mine") || empty.said("mine");
    let mut vessels = gross.vessels.iter().chain(&empty.vessels);
    let kept = vessels.find(|vessel| KEPT_IN.contains(&vessel.noun().as_str()))?;
    let tare = Tare {
        count: 1.0,
        each_grams: Some(empty.grams),
        name: Some(kept.name.clone()),
    };
    (food.household && !eaten).then(|| Command::Weigh {
        batch: food.name.clone(),
        weighing: Weighing {
            readings_grams: vec![gross.grams],
            tares: vec![tare],
            gross: true,
            span: gross.span.clone(),
            ..Weighing::default()
        },
        of: WeighedOf::LeftOrEaten,
    })
}
