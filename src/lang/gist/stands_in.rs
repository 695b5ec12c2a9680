//! All of a dish in a vessel whose tare is known, weighed with it: "moved the dal to the blue pot, whole thing says
//! 2450", "the rest of the barley is sitting in the steel bowl now, 1240 together with the bowl".
//!
//! ```text
//! stands := dish stands in vessel, one reading that holds the vessel
//! ```
//! Somebody, a plate, a part of the dish or another number gives no reading.

use super::evidence::forbids;
use super::mark::Mark;
use super::scale::{SHOWN_GRAMS, foods, is_difference, is_vessel, known_vessel, phrase};
use super::sentence::Sentence;
use super::tale::is_governed;
use crate::lang::lost;
use crate::lang::syntax::{Amount, Command, Weighed, WeighedOf, Weighing};
use crate::lang::words::{at_scale, cues, stands_in};

/// Links between "in" and its vessel: "in my big blue pot".
const BETWEEN_MAX: usize = 2;
const VESSEL_WORDS_MAX: usize = 3;

pub fn read(sentence: &Sentence<'_>) -> Option<Vec<Command>> {
    let all = 0..sentence.marks.len();
    let vessel = known_vessel(sentence, all.clone())?;
    let foods = foods(sentence, all.clone());
    let [(dish, name)] = foods.as_slice() else {
        return None;
    };
    let (at, grams) = shown(sentence)?;
    let ours = matches!(sentence.mark(*dish), Some(Mark::Dish(_)));
    let apart = |mark: &Mark| matches!(mark, Mark::Person(_) | Mark::Meal(_) | Mark::Aside);
    let alone = !sentence.marks.iter().any(|it| apart(&it.mark));
    if !ours || !alone {
        return None;
    }
    let said = |mode: &'static str| all.clone().any(|at| phrase(sentence, at, mode).is_some());
    let other = ["eat", "share", "cooked", "bare", "story"];
    let other = other.iter().any(|key| tells_but_standing(sentence, key));
    let clauses = 0..sentence.clause_count();
    let asked = clauses.into_iter().any(|clause| forbids(sentence, clause));
    if other || asked || said("net") || said("less") || said("deny") || says(sentence, "part") {
        return None;
    }
    if lost::signs(sentence.input).is_some() || is_governed(sentence, &[]) {
        return None;
    }
    let whole = said("gross") || said("shown") || is_told_with(sentence);
    if !whole || !is_in(sentence, &vessel.text) {
        return None;
    }
    let marked = &sentence.marks[at];
    let span = sentence.input.range(marked.from, marked.to).span();
    let weighing = Weighing {
        gross: true,
        net: false,
        container: Some(vessel),
        ..Weighing::net(grams, span)
    };
    let name = name.clone();
    Some(vec![match said("left") {
        true => Command::Count {
            items: vec![Weighed {
                name,
                place: None,
                weighing,
            }],
            rest: None,
            anyway: true,
        },
        false => Command::Weigh {
            batch: name,
            weighing,
            of: WeighedOf::Left,
        },
    }])
}

/// The one number, if a scale shows it; "all", "the rest" is no number.
fn shown(sentence: &Sentence<'_>) -> Option<(usize, f64)> {
    let mut shown = None;
    for (at, marked) in sentence.marks.iter().enumerate() {
        match &marked.mark {
            Mark::Amount(Amount::Share(1.0)) => {}
            Mark::Amount(Amount::Bare(grams) | Amount::Mass(grams)) if shown.is_none() => {
                shown = Some((at, *grams));
            }
            Mark::Amount(_) | Mark::Stray => return None,
            _ => {}
        }
    }
    shown.filter(|(at, grams)| SHOWN_GRAMS.contains(grams) && !is_difference(sentence, *at))
}

/// A cue that tells neither where the dish stands nor what is left: "the soup went into the steel bowl".
fn tells_but_standing(sentence: &Sentence<'_>, key: &'static str) -> bool {
    let input = sentence.input;
    let explained = |at: usize| {
        let stands = stands_in().longest_of(input.after(at).slice, "stands");
        // "the rest"
        let left = (at.saturating_sub(1)..=at)
            .any(|from| at_scale().longest_of(input.after(from).slice, "left") > Some(at - from));
        stands.is_some() || left
    };
    (0..input.len()).any(|at| {
        let told = cues().longest_of(input.after(at).slice, key);
        told.is_some() && !explained(at)
    })
}

fn says(sentence: &Sentence<'_>, key: &'static str) -> bool {
    let input = sentence.input;
    (0..input.len()).any(|at| stands_in().longest_of(input.after(at).slice, key).is_some())
}

/// "is sitting in the steel bowl": what says where it stands, right before the vessel.
fn is_in(sentence: &Sentence<'_>, vessel: &str) -> bool {
    let input = sentence.input;
    let first = vessel.split(' ').next().unwrap_or_default().to_lowercase();
    let begins = (0..input.len()).filter(|&at| input.norm(at) == first);
    let led = |at: usize| {
        (1..=BETWEEN_MAX + 1).any(|back| {
            at >= back
                && stands_in()
                    .longest_of(input.after(at - back).slice, "in")
                    .is_some()
        })
    };
    says(sentence, "stands") && begins.into_iter().any(led)
}

/// "1240 with the bowl": the vessel is told of again.
fn is_told_with(sentence: &Sentence<'_>) -> bool {
    let input = sentence.input;
    (0..input.len()).any(|at| {
        let length = stands_in().longest_of(input.after(at).slice, "with");
        length.is_some_and(|length| {
            let behind = at + length;
            (behind..behind + VESSEL_WORDS_MAX).any(|at| is_vessel(input.norm(at)))
        })
    })
}
