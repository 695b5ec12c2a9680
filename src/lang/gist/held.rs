//! One dish in one vessel whose tare is known, weighed once and eaten: "my lunchbox is the glass jar 495 w
//! rice in", "ate my salsa straight out of the glass jar, 395 jar included".

use super::mark::Mark;
use super::scale::{eaten, foods, is_shown, known_vessel, readings, whose};
use super::sentence::Sentence;
use super::tale::{is_governed, phrase};
use crate::lang::lost;
use crate::lang::syntax::{Command, Portion};

pub fn read(sentence: &Sentence<'_>) -> Option<Vec<Command>> {
    let all = 0..sentence.marks.len();
    let vessel = known_vessel(sentence, all.clone())?;
    let foods = foods(sentence, all.clone());
    let readings = readings(sentence)?;
    let ([(_, food)], [reading]) = (foods.as_slice(), readings.as_slice()) else {
        return None;
    };
    let says = |key: &'static str| all.clone().any(|at| sentence.cue(at, key).is_some());
    let counted = ["left", "recount", "books"]
        .iter()
        .any(|key| all.clone().any(|at| phrase(sentence, at, key).is_some()));
    let bare = says("bare") || reading.difference || !is_shown(reading);
    if counted
        || bare
        || says("share")
        || says("cooked")
        || lost::signs(sentence.input).is_some()
        || is_governed(sentence, &[])
    {
        return None;
    }
    let who = whose(sentence, reading)?;
    let meal = sentence.marks.iter().find_map(|it| match &it.mark {
        Mark::Meal(meal) => Some(*meal),
        _ => None,
    });
    if !says("eat") && who.is_none() && meal.is_none() && !says("me") {
        return None;
    }
    let mut item = eaten(sentence, food, reading.grams, reading.at);
    item.container = Some(vessel);
    let portion = Portion {
        items: vec![item],
        who: who.flatten(),
        day: sentence.day(),
        meal,
        ..Portion::default()
    };
    Some(vec![Command::Portion(portion)])
}

/// What the scale goes on showing, where the reading is told of a scale: more may go on top.
pub fn shown(sentence: &Sentence<'_>) -> Option<f64> {
    let all = 0..sentence.marks.len();
    let readings = readings(sentence)?;
    let [reading] = readings.as_slice() else {
        return None;
    };
    super::scale::says(sentence, all, "shown").then_some(reading.grams)
}
