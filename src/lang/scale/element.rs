//! The elements of talk at the scale: a reading, a food, a vessel, a phrase of `data/at_scale.txt`.

use super::{Food, Vessel};
use crate::foods::spelled_nearly;
use crate::lang::amount::grams;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{Span, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;
use crate::lang::words::{at_scale, containers, pots};

const FOOD_WORDS_MAX: usize = 4;
/// A shorter word that is written nearly may be any other.
const SLIPPED_LETTERS_MIN: usize = 4;
/// What a meal is weighed on.
const PLATES: [&str; 2] = ["plate", "bowl"];
/// A bare number below this is a count or a clock before it is a reading.
const READING_GRAMS_MIN: f64 = 20.0;

#[derive(Debug, Clone)]
pub enum Element {
    Reading {
        grams: f64,
        with_unit: bool,
        span: Span,
    },
    Food(Food),
    Vessel(Vessel),
    Mark(&'static str),
    Break,
    Stray,
}

/// The element at the front; nothing for a number that no scale would show.
pub fn element(input: Tokens<'_>, after_reading: bool) -> Option<(usize, Element)> {
    let first = &input.slice[0];
    let numeric_next = input.get(1).is_some_and(Token::is_numeric);
    match first.kind {
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '/' | '!') => {
            return Some((1, Element::Break));
        }
        Kind::Symbol('→' | '>') => return Some((1, Element::Mark("arrow"))),
        Kind::Symbol('-') if after_reading && numeric_next => {
            return Some((1, Element::Mark("dash")));
        }
        Kind::Symbol('+' | '&') => return Some((1, Element::Mark("join"))),
        Kind::Symbol('-') if first.spaced => return Some((1, Element::Break)),
        Kind::Symbol(':' | '=' | '(' | ')' | '-' | '~' | '@' | '"') => {
            return Some((1, Element::Mark("idle")));
        }
        Kind::Word(_) | Kind::Number(_) => {}
        _ => return Some((1, Element::Stray)),
    }
    // "zero 165 dal": the key, not the number.
    if first.norm() == "zero" {
        return at_scale()
            .longest(input.slice)
            .map(|(length, key)| (length, Element::Mark(key)));
    }
    if let Some(read) = reading(input) {
        return read;
    }
    let known = known_container(input);
    // "soup glass jar": the jar that is known begins behind the soup.
    let within = |length: usize| (1..length).any(|at| known_container(input.after(at)).is_some());
    let looking = looking_vessel(input).filter(|(length, _)| known.is_none() && !within(*length));
    if let Some((length, vessel)) = looking {
        return Some((length, Element::Vessel(vessel)));
    }
    let marked = at_scale()
        .longest(input.slice)
        .filter(|(_, key)| !matches!(*key, "vessel" | "look"));
    let food = food(input);
    let longest = [
        marked.map_or(0, |(length, _)| length),
        food.as_ref().map_or(0, |(length, _)| *length),
        known.as_ref().map_or(0, |(length, _)| *length),
    ]
    .into_iter()
    .max()
    .unwrap_or(0);
    if longest > 0 {
        if let Some((length, vessel)) = known.filter(|(length, _)| *length == longest) {
            return Some((length, Element::Vessel(vessel)));
        }
        if let Some((length, key)) = marked.filter(|(length, _)| *length == longest) {
            return Some((length, Element::Mark(key)));
        }
        return food.map(|(length, food)| (length, Element::Food(food)));
    }
    if let Some((length, vessel)) = vessel(input) {
        return Some((length, Element::Vessel(vessel)));
    }
    Some((1, slipped(input).unwrap_or(Element::Stray)))
}

/// A vessel or a dish that is written nearly, right before its reading: "plte 388, bens 500".
fn slipped(input: Tokens<'_>) -> Option<Element> {
    let said = input.range(0, 1);
    let norm = said.norm(0);
    let strange = norm.len() >= SLIPPED_LETTERS_MIN && said.slice[0].listed().begins_none();
    if !strange || !input.get(1).is_some_and(Token::is_numeric) {
        return None;
    }
    if let Some(name) = said.vocabulary.nearly(&[norm]) {
        return Some(Element::Food(Food {
            name: Words::new(name, said.span()),
            household: true,
            linked: false,
        }));
    }
    let vessel = PLATES.iter().find(|plate| spelled_nearly(norm, plate))?;
    Some(Element::Vessel(Vessel {
        name: Words::new(*vessel, said.span()),
        known: false,
    }))
}

/// A number as a scale shows it: `Some(None)` when it is a number of something else.
#[allow(clippy::option_option)]
fn reading(input: Tokens<'_>) -> Option<Option<(usize, Element)>> {
    let (rest, said) = number(input).ok()?;
    if said.article {
        return None;
    }
    let worded = said.worded;
    let (length, value, with_unit) = match grams(input) {
        Ok((after, value)) => {
            let unit = after.len() < rest.len();
            (input.len() - after.len(), value, unit)
        }
        Err(_) => (input.len() - rest.len(), said.value, false),
    };
    let shown = value >= READING_GRAMS_MIN || with_unit;
    if !shown || said.other.is_some() {
        return if worded && value < READING_GRAMS_MIN {
            Some(Some((length, Element::Stray)))
        } else {
            Some(None)
        };
    }
    let span = input.range(0, length).span();
    Some(Some((
        length,
        Element::Reading {
            grams: value,
            with_unit,
            span,
        },
    )))
}

/// The longest known food at the front.
pub fn food(input: Tokens<'_>) -> Option<(usize, Food)> {
    input.longest_run(FOOD_WORDS_MAX, |said| {
        let last = said.norm(said.len() - 1);
        let ends = containers().has(last) || is_mark(last);
        if is_mark(said.norm(0)) || opens_with_mark(said) {
            return None;
        }
        let known = familiarity(&said.words().text, input);
        let household = known == Familiarity::Household;
        (household || known == Familiarity::Food && !ends).then(|| Food {
            name: owned(said),
            household,
            linked: false,
        })
    })
}

/// A word that tells a mode or nothing, and stands in no name.
fn is_mark(word: &str) -> bool {
    at_scale()
        .get(word)
        .is_some_and(|key| !matches!(key, "look" | "vessel"))
}

/// "topped with beans"
fn opens_with_mark(said: Tokens<'_>) -> bool {
    at_scale()
        .longest(said.slice)
        .is_some_and(|(length, key)| length > 1 && key == "top")
}

fn known_container(input: Tokens<'_>) -> Option<(usize, Vessel)> {
    let norms: Vec<&str> = input.slice.iter().take(4).map(Token::norm).collect();
    let mut ending = norms.clone();
    let known = (1..=norms.len()).rev().find(|&length| {
        // "blue pot's got the soup in it"
        ending[..length].clone_from_slice(&norms[..length]);
        ending[length - 1] = norms[length - 1]
            .strip_suffix('s')
            .unwrap_or(norms[length - 1]);
        input.vocabulary.is(Sense::Container, &norms[..length])
            || input.vocabulary.is(Sense::Container, &ending[..length])
    })?;
    let name = owned(input.range(0, known));
    Some((known, Vessel { name, known: true }))
}

/// "the big red pan": what it looks like stands before the noun, and may be a food's word as well.
fn looking_vessel(input: Tokens<'_>) -> Option<(usize, Vessel)> {
    let mut looks = 0;
    while let Some((length, "look")) = at_scale().longest(input.after(looks).slice) {
        looks += length;
    }
    let noun = looks > 0 && vessel_noun(input.after(looks));
    // "soup pot was 2900": the soup in its pot.
    let dish = || input.vocabulary.is_batch(&[input.norm(0)]) && pots().has(input.norm(looks));
    let noun = noun && !(looks == 1 && dish());
    noun.then(|| (looks + 1, unknown_vessel(input.range(0, looks + 1))))
}

/// "tub", "the red pan": a word of a vessel, with at most one word before it.
pub fn vessel(input: Tokens<'_>) -> Option<(usize, Vessel)> {
    let length = if vessel_noun(input) {
        1
    } else if !input.norm(0).is_empty() && vessel_noun(input.after(1)) && !is_somebody(input) {
        2
    } else {
        return None;
    };
    Some((length, unknown_vessel(input.range(0, length))))
}

/// "tom plate" is Tom's.
fn is_somebody(input: Tokens<'_>) -> bool {
    let pronoun = matches!(
        input.norm(0),
        "me" | "i" | "mine" | "her" | "his" | "their" | "your"
    );
    pronoun || person(input.range(0, 1)).is_some()
}

fn vessel_noun(input: Tokens<'_>) -> bool {
    let word = input.norm(0);
    // "can you set the rice to 640"
    if word == "can" && matches!(input.norm(1), "you" | "u" | "ya" | "i" | "we" | "someone") {
        return false;
    }
    containers().has(word)
        || containers().has(word.strip_suffix('s').unwrap_or(word))
        || at_scale().get(word) == Some("vessel")
}

fn unknown_vessel(said: Tokens<'_>) -> Vessel {
    Vessel {
        name: owned(said),
        known: false,
    }
}

/// The words without the ending of "soup's", "pot's".
fn owned(said: Tokens<'_>) -> Words {
    let mut name = said.words();
    for ending in ["'s", "’s"] {
        name.text = name.text.trim_end_matches(ending).to_owned();
    }
    name
}
