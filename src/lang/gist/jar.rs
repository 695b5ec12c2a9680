//! One thing on the scale again and again: what left it was eaten.
//!
//! ```text
//! jar := food { reading { word } }, falling, told of as before and after
//! ```
//! "oil bottle 688 going in, 674 coming out", "yogurt tub 980, after me 835, after ana 700". Of each step
//! somebody may be told who took it; a smaller amount "of that" is somebody's part of it. A jar needs two
//! things that tell it: a vessel or how it was before, and how it was then.

use super::mark::Mark;
use super::scale::{
    Reading, Who, eaten, foods, is_shown, is_vessel, phrase, readings, says, vessel, whose,
};
use super::sentence::Sentence;
use super::tale::{counts_something, is_governed};
use crate::lang::lost;
use crate::lang::syntax::{Command, Portion, Words};
use crate::lang::token::Kind;
use crate::lang::words::{at_scale, losses, places};

/// A jar from which more is taken at once is no jar.
const STEP_SHARE_MAX: f64 = 0.7;

/// Less is a score or a clock.
const SHOWN_GRAMS_MIN: f64 = 20.0;

/// So much left the jar at once.
struct Step {
    grams: f64,
    at: usize,
    /// Who took it, as far as that is told.
    who: Option<Who>,
}

pub fn read(sentence: &Sentence<'_>) -> Option<Vec<Command>> {
    let foods = foods(sentence, 0..sentence.marks.len());
    let food = in_the_jar(sentence, &foods)?;
    // "both with the bowl on" is of the readings.
    let shares = |at| sentence.cue(at, "share").is_some() && sentence.norm(at) != "both";
    let shared = (0..sentence.marks.len()).any(shares);
    if shared || lost::signs(sentence.input).is_some() || is_governed(sentence, &[]) {
        return None;
    }
    let mut readings = readings(sentence)?;
    let parts = parts(sentence, &mut readings);
    let mut steps = match readings.iter().all(|reading| reading.difference) {
        true => differences(sentence, &readings)?,
        false => falls(sentence, readings)?,
    };
    if !parts.is_empty() {
        let [whole] = steps.as_mut_slice() else {
            return None;
        };
        whole.who = Some(None);
        whole.grams -= parts.iter().map(|part| part.grams).sum::<f64>();
    }
    steps.extend(parts);
    let told: Vec<&Who> = steps.iter().filter_map(|step| step.who.as_ref()).collect();
    let only = told
        .first()
        .map(|who| (*who).clone())
        .filter(|_| told.len() == 1);
    // Of several steps one is somebody's, and of the other nobody says whose.
    if steps.len() > 2 && told.len() > 1 && told.len() < steps.len()
        || steps.iter().any(|step| step.grams < 0.0)
    {
        return None;
    }
    let alone = told.len() == steps.len() || only.is_none() || steps.len() == 1;
    let mut sums: Vec<(Who, f64, usize)> = Vec::new();
    for step in &steps {
        let who = step
            .who
            .clone()
            .unwrap_or_else(|| only.clone().filter(|_| !alone).flatten());
        match sums.iter_mut().find(|sum| sum.0 == who) {
            Some(sum) => sum.1 += step.grams,
            None => sums.push((who, step.grams, step.at)),
        }
    }
    // "655 on monday, 540 now": the day is when it was weighed first.
    let now = says(sentence, 0..sentence.marks.len(), "now");
    let day = sentence.day().filter(|_| !now);
    let portions = sums
        .into_iter()
        .filter(|(_, grams, _)| *grams > 0.0)
        .map(|(who, grams, at)| {
            let items = vec![eaten(sentence, &food, grams, at)];
            Command::Portion(Portion {
                items,
                who,
                day: day.clone(),
                ..Portion::default()
            })
        });
    Some(portions.collect())
}

/// "salsa in the glass jar 760, poured the top down the sink, 640 now": what left it was lost, if nobody ate of it.
pub fn lost(sentence: &Sentence<'_>) -> Option<Vec<Command>> {
    let all = 0..sentence.marks.len();
    let foods = foods(sentence, all.clone());
    let food = in_the_jar(sentence, &foods)?;
    let signs = lost::signs(sentence.input)?;
    let eaten = |at: usize| {
        let token = sentence.marks[at].from;
        let of_loss = signs
            .iter()
            .any(|sign| (sign.from..sign.to).contains(&token));
        let somebody = matches!(sentence.mark(at), Some(Mark::Person(_)));
        let rest = sentence.input.after(token);
        let thrown = losses().longest_of(rest.slice, "thrown").is_some();
        !of_loss && !thrown && (somebody || phrase(sentence, at, "ate").is_some())
    };
    let ours = matches!(sentence.mark(foods.first()?.0), Some(Mark::Dish(_)));
    if !ours || all.clone().any(eaten) || is_governed(sentence, &signs) {
        return None;
    }
    let readings = readings(sentence)?;
    let [_, last] = readings.as_slice() else {
        return None;
    };
    let at = last.at;
    let whole = readings.iter().all(|reading| !reading.difference);
    let steps = whole.then(|| falls(sentence, readings)).flatten()?;
    let items = steps
        .iter()
        .map(|step| super::scale::eaten(sentence, &food, step.grams, at));
    Some(vec![Command::Waste {
        items: items.collect(),
        reason: lost::reason(sentence.input),
        anyway: false,
    }])
}

/// "288→271": what left it is told in one.
fn differences(sentence: &Sentence<'_>, readings: &[Reading]) -> Option<Vec<Step>> {
    let several = readings.len() > 1;
    // "the final is 24-17": no scale shows so little of a jar.
    let little = |reading: &Reading| {
        let marked = &sentence.marks[reading.at];
        let said = &sentence.input.slice[marked.from..marked.to];
        said.iter().any(
            |token| matches!(token.kind, Kind::Number(numeral) if numeral.value < SHOWN_GRAMS_MIN),
        )
    };
    if readings.iter().any(little) {
        return None;
    }
    let told = several || !readings.is_empty() && vessel(sentence, 0..sentence.marks.len());
    let steps = readings.iter().map(|reading| {
        let who = whose(sentence, reading)?;
        Some(Step {
            grams: reading.grams,
            at: reading.at,
            who,
        })
    });
    told.then(|| steps.collect()).flatten()
}

/// Readings that fall, one after another.
fn falls(sentence: &Sentence<'_>, mut readings: Vec<Reading>) -> Option<Vec<Step>> {
    if readings.len() < 2 || !readings.iter().all(is_shown) || !is_told(sentence, &readings) {
        return None;
    }
    turn_round(sentence, &mut readings);
    readings
        .windows(2)
        .map(|two| {
            let grams = two[0].grams - two[1].grams;
            let who = whose(sentence, &two[1])?;
            let falls = grams > 0.0 && grams <= two[0].grams * STEP_SHARE_MAX;
            falls.then_some(Step {
                grams,
                at: two[1].at,
                who,
            })
        })
        .collect()
}

/// What is in the jar is told first; other food is only why it was opened: "most of it on the salad".
fn in_the_jar(sentence: &Sentence<'_>, foods: &[(usize, Words)]) -> Option<Words> {
    let amount = |at: usize| matches!(sentence.mark(at), Some(Mark::Amount(_)));
    let ours = |(at, _): &&(usize, Words)| matches!(sentence.mark(*at), Some(Mark::Dish(_)));
    // "tahini jar 402 before the dal"
    let held = foods
        .iter()
        .position(|(at, _)| vessel(sentence, *at..(*at + 2).min(sentence.marks.len())));
    let dish = held.or_else(|| foods.iter().position(|food| ours(&food)));
    let dish = dish.unwrap_or(0);
    let (first, rest) = foods.get(dish..)?.split_first()?;
    let other = |at: usize| match sentence.mark(at) {
        Some(Mark::Dish(name) | Mark::Food(name)) => name.text != first.1.text,
        _ => false,
    };
    let mut named = (0..sentence.marks.len()).filter(|&at| at != first.0 && other(at));
    let weighed = |at: usize| at > 0 && amount(at - 1) || amount(sentence.after_links(at + 1));
    let told_first = (0..first.0).all(|at| !amount(at));
    if stands_elsewhere(sentence, first.0) || counts_something(sentence, &[], first.0 + 1) {
        return None;
    }
    (rest.is_empty() || told_first && !named.any(weighed)).then(|| first.1.clone())
}

/// "the oil in the car was 604", "the rice cooker on the website is 45": on what is neither vessel nor a place for
/// food, it is not to be eaten.
fn stands_elsewhere(sentence: &Sentence<'_>, food: usize) -> bool {
    let vessels = (food + 1..sentence.marks.len()).filter(|&at| vessel(sentence, at..at + 1));
    std::iter::once(food)
        .chain(vessels)
        .any(|at| is_somewhere_strange(sentence, at + 1))
}

/// "in the car"
fn is_somewhere_strange(sentence: &Sentence<'_>, at: usize) -> bool {
    if !matches!(sentence.norm(at), "in" | "inside" | "on" | "under") {
        return false;
    }
    let articles = ["the", "my", "our", "your", "his", "her", "a"];
    let at = at + 1 + usize::from(articles.contains(&sentence.norm(at + 1)));
    let plain = sentence.mark(at) == Some(&Mark::Word) && !sentence.norm(at).is_empty();
    // "some oil on mine"
    let plate = ["mine", "it", "top", "that"].contains(&sentence.norm(at));
    let plain = plain && !plate;
    plain
        && !is_vessel(sentence.norm(at))
        && !places().has(sentence.norm(at))
        && !at_scale().has(sentence.norm(at))
}

/// "5 of that was ana": somebody's part of what was taken; no reading.
fn parts(sentence: &Sentence<'_>, readings: &mut Vec<Reading>) -> Vec<Step> {
    let mut parts = Vec::new();
    readings.retain(|reading| {
        let behind = sentence.input.after(sentence.marks[reading.at].from);
        let of_that = (0..3).any(|at| {
            behind.norm(at) == "of" && matches!(behind.norm(at + 1), "that" | "it" | "which")
        });
        match whose(sentence, reading).flatten().filter(|_| of_that) {
            Some(who) => {
                let (grams, at) = (reading.grams, reading.at);
                parts.push(Step {
                    grams,
                    at,
                    who: Some(who),
                });
                false
            }
            None => true,
        }
    });
    parts
}

/// Whether it is told as a jar: how it was, and how it was then.
fn is_told(sentence: &Sentence<'_>, readings: &[Reading]) -> bool {
    let all = 0..sentence.marks.len();
    let (first, second) = (&readings[0], &readings[1]);
    let any = |mode| says(sentence, all.clone(), mode);
    let between = || first.at + 1..second.at;
    let arrow = between().any(|at| {
        let kind = &sentence.input.slice[sentence.marks[at].from].kind;
        matches!(kind, Kind::Symbol('→' | '>'))
            || phrase(sentence, at, "to").is_some() && sentence.norm(at + 1).is_empty()
            || sentence.norm(at) == "then" && vessel(sentence, all.clone())
    });
    let later = ["after", "now", "down"].iter().any(|mode| any(mode)) || arrow || any("less");
    let since = between().any(|at| matches!(sentence.mark(at), Some(Mark::Meal(_) | Mark::Day(_))));
    let held = vessel(sentence, all.clone()) || any("before") || since;
    let steps = readings.len() > 2 || any("ate");
    // "no lid 418": not the same vessel.
    let bare = |at: usize| {
        matches!(sentence.norm(at), "no" | "without")
            && vessel(sentence, at + 1..(at + 3).min(all.end))
    };
    if all.clone().any(bare) {
        return false;
    }
    held && (later || steps && vessel(sentence, all.clone()))
}

/// "655 now, 702 before": the later reading is told first.
fn turn_round(sentence: &Sentence<'_>, readings: &mut [Reading]) {
    let [one, other] = readings else {
        return;
    };
    let then = |reading: &Reading, mode| says(sentence, reading.region.clone(), mode);
    let now = then(one, "now") || then(one, "after");
    if now && !then(one, "before") && then(other, "before") {
        readings.swap(0, 1);
    }
}
