//! Places: those that the household has, and those that it is asked about before anything stands there.

use super::super::answer::{About, Answer};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::PlaceId;
use super::super::kitchen::{Choice, PlaceKind, kind_of_name};
use super::super::problem::ProblemKind;
use super::{Asking, Done, Step, Stop};
use crate::lang;
use crate::lang::syntax::{Command, Spread, Words};

/// What a place may be like, with the words to choose it by.
const KINDS: [(PlaceKind, &str); 3] = [
    (PlaceKind::Fridge, "like a fridge"),
    (PlaceKind::Freezer, "like a freezer"),
    (PlaceKind::Counter, "not cold, like a counter"),
];

/// The words by which an option offers such a place.
pub fn label(kind: PlaceKind) -> &'static str {
    let known = KINDS.into_iter().find(|(known, _)| *known == kind);
    known.map_or("", |(_, label)| label)
}

pub fn tell(draft: &mut Draft, name: &Words, kind: PlaceKind) -> Step {
    let place = told(draft, name, kind);
    draft.settle();
    let name = draft
        .kitchen
        .place(place)
        .map_or_else(String::new, |place| place.name.clone());
    let message = draft.credit;
    Ok(Done::saying(Answer::PlaceTold {
        name,
        kind,
        message,
    }))
}

fn told(draft: &mut Draft, name: &Words, kind: PlaceKind) -> PlaceId {
    let place = draft.place(&name.text);
    draft.fact(Detail::PlaceKind { place, kind });
    place
}

/// The place of these words. One that nobody has told of is asked about: how cold it is there decides how long food
/// keeps. `as_told` says the same with the answer.
pub fn known(
    draft: &mut Draft,
    words: &Words,
    kind: Option<PlaceKind>,
    as_told: impl Fn(PlaceKind) -> Command,
) -> Result<PlaceId, Stop> {
    if is_known(draft, words) {
        return Ok(draft.place(&words.text));
    }
    match kind {
        Some(kind) => Ok(told(draft, words, kind)),
        None => Err(Stop::Ask(Box::new(asking(words, |kind| {
            as_told(kind).to_string()
        })))),
    }
}

/// The same of one of several places that a command tells: the place is told first, and then the command again.
pub fn known_in(draft: &mut Draft, words: &Words, said: &Spread) -> Result<PlaceId, Stop> {
    if is_known(draft, words) {
        return Ok(draft.place(&words.text));
    }
    Err(Stop::Ask(Box::new(asking(words, |kind| {
        let name = words.clone();
        let place = Command::PlaceIs { name, kind };
        format!("{place}\n{}", Command::Spread(said.clone()))
    }))))
}

/// Every kitchen has it, or the household has told of it. A "garage freezer" tells how cold it is there, and not
/// that there is one.
pub fn is_known(draft: &Draft, words: &Words) -> bool {
    let name = words.text.trim().to_lowercase();
    let name = name.strip_prefix("the ").unwrap_or(&name);
    let mut places = draft.kitchen.places.iter();
    lang::is_common_place(name) || places.any(|place| place.name == name && place.is_known())
}

/// How cold is it there?
pub fn asking(words: &Words, as_told: impl Fn(PlaceKind) -> String) -> Asking {
    let named = kind_of_name(&words.text);
    let offered = KINDS
        .into_iter()
        .filter(|(kind, _)| named.is_none_or(|named| named == *kind));
    let option = |(kind, label): (PlaceKind, &str)| Choice {
        label: label.into(),
        says: as_told(kind),
    };
    let problem = ProblemKind::UnknownPlace {
        name: words.text.clone(),
    };
    Asking {
        about: About::WhichPlace,
        words: words.text.clone(),
        problem: Some(problem),
        options: offered.map(option).collect(),
        pointed: None,
    }
}
