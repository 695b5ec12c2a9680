//! Where food goes: a place, one that nobody has told of, or a vessel.

use crate::lang::command::on_scale::is_plate;
use crate::lang::command::spoken_of;
use crate::lang::lexicon::is_food_word;
use crate::lang::person::person;
use crate::lang::place::{is_place, place_kind};
use crate::lang::syntax::{Destination, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;
use crate::lang::words::{containers, fillers, moves, pots, talk, waste_tails};

/// "in the wine cave".
const STRANGE_WORDS_MAX: usize = 2;
/// Words that lead to a place.
pub const LEADS: [&str; 6] = ["in", "into", "to", "at", "on", "inside"];
/// "the big green tub".
const VESSEL_WORDS_MAX: usize = 3;

/// Where food is taken from, where it goes, and into what.
pub struct Places {
    pub to: Option<Words>,
    pub from: Option<Words>,
    pub vessel: Option<Words>,
    /// Words that lead somewhere stand before it.
    pub led: bool,
}

impl Places {
    /// What stands before them, and the places.
    pub fn told<'a>(rest: Tokens<'a>, verb: &str, listed: Option<Words>) -> (Tokens<'a>, Self) {
        let leads = ["to", "into", "in", "inside", "on"];
        let (rest, vessel) = into_vessel(rest);
        let led = vessel.is_some() || place(rest, &["to", "into"]).1.is_some();
        let (rest, to) = match listed {
            None => place(rest, &leads),
            listed => (rest, listed),
        };
        let (rest, from) = place(rest, &["from", "of", "out", "outta", "outa"]);
        let (rest, to) = match to {
            // "from the freezer to the fridge", in either order
            None => place(rest, &leads),
            to => (rest, to),
        };
        // "vacuum packed the chilli for the freezer"
        let (rest, to) = match to {
            None if verb == "packed" => place(rest, &["for"]),
            to => (rest, to),
        };
        let (rest, to) = match to {
            None if !verb.is_empty() && from.is_none() => strange_place(rest, verb),
            to => (rest, to),
        };
        // "freeze the chicken in the fridge": that is where it stands.
        let colder = |to: &Words| {
            matches!(
                (verb, place_kind(&to.text)),
                ("freeze", Some("fridge" | "counter")) | ("thaw", Some("freezer"))
            )
        };
        let (to, from) = match (to, from) {
            (Some(place), None) if colder(&place) => (None, Some(place)),
            places => places,
        };
        let (rest, vessel) = match vessel {
            // "into the glass jar, in the fridge"
            None => into_vessel(rest),
            vessel => (rest, vessel),
        };
        let (rest, vessel) = match vessel {
            None if matches!(verb, "done" | "carried") || led_into(rest) => {
                into_strange_vessel(rest)
            }
            vessel => (rest, vessel),
        };
        let places = Self {
            to,
            from,
            vessel,
            led,
        };
        (without_out(rest), places)
    }

    pub fn destination(&self, verb: &str, packed: bool) -> Option<Destination> {
        let cold = |place: &Words| place.text.contains("freez");
        let to = self.to.clone();
        Some(match (verb, to, &self.from) {
            ("freeze", None, _) => Destination::Place(Words::plain("freezer")),
            ("freeze", Some(place), _) => Destination::Place(place),
            ("thaw", _, _) => Destination::Thawed,
            (_, None, Some(from)) if cold(from) && self.vessel.is_none() => Destination::Thawed,
            (verb, None, _) if self.vessel.is_some() && !verb.is_empty() => Destination::Here,
            (_, None, None) if packed => Destination::Here,
            (_, Some(place), _) => Destination::Place(place),
            (_, None, _) => return None,
        })
    }
}

/// A place behind one of these words, and what is left without it.
pub fn place<'a>(input: Tokens<'a>, behind: &[&str]) -> (Tokens<'a>, Option<Words>) {
    let input = input.trimmed_end();
    for at in (0..input.len()).rev() {
        if !behind.contains(&input.norm(at)) {
            continue;
        }
        let said = input.after(at + 1);
        let the = usize::from(matches!(said.norm(0), "the" | "our" | "my"));
        let said = said.after(the);
        if is_place(said) {
            return (input.range(0, at).trimmed_end(), Some(said.words()));
        }
    }
    (input, None)
}

/// ", garage freezer" at the end: a place behind a mark, with no word before it that leads there.
pub fn listed_place(input: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let input = input.trimmed_end();
    let mark = |token: &Token| matches!(token.kind, Kind::Symbol(',' | ':' | '-') | Kind::Newline);
    let Some(at) = input.slice.iter().rposition(mark).filter(|at| *at > 0) else {
        return (input, None);
    };
    let said = input.after(at + 1);
    let the = usize::from(matches!(said.norm(0), "the" | "our" | "my"));
    let led = LEADS.contains(&said.norm(0));
    match is_place(said.after(the)) && !led {
        true => (
            input.range(0, at).trimmed_end(),
            Some(said.after(the).words()),
        ),
        false => (input, None),
    }
}

/// "into the glass jar" at the end, of a vessel that the household knows. What stands "in" one with its weight was
/// weighed with it.
pub fn into_vessel(input: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let input = input.trimmed_end();
    for at in (1..input.len()).rev() {
        let leads = match input.norm(at) {
            "into" | "to" => true,
            "in" => !input.has_number(),
            _ => false,
        };
        let the = usize::from(matches!(input.norm(at + 1), "the" | "our" | "my"));
        let said = input.after(at + 1 + the);
        let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
        if leads && input.vocabulary.is(Sense::Container, &words) {
            return (input.range(0, at).trimmed_end(), Some(said.words()));
        }
    }
    (input, None)
}

/// "into the big green tub" at the end: a vessel of which nobody has told yet, and no plate.
pub fn into_strange_vessel(input: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let input = input.trimmed_end();
    let leads = |at: &usize| {
        let article = ["the", "a", "an", "our", "that", "another"];
        matches!(input.norm(*at), "into" | "to" | "in") && article.contains(&input.norm(at + 1))
    };
    let Some(at) = (1..input.len()).rev().find(leads) else {
        return (input, None);
    };
    let said = input.after(at + 2);
    let noun = said.last().map_or("", Token::norm);
    let short = said.is_wordy() && said.len() <= VESSEL_WORDS_MAX;
    let eaten_from = is_plate(noun) || matches!(noun, "mug" | "cup" | "spoon" | "ladle");
    let bare = said.len() == 1;
    match short && !bare && containers().has(noun) && !eaten_from {
        true => (input.range(0, at).trimmed_end(), Some(said.words())),
        false => (input, None),
    }
}

/// "in the snug": a place that nobody has told of. What food is put into otherwise is none.
pub fn strange_place<'a>(input: Tokens<'a>, verb: &str) -> (Tokens<'a>, Option<Words>) {
    let input = input.trimmed_end();
    let article = |at: usize| usize::from(matches!(input.norm(at), "the" | "our"));
    let behind = |at: usize| match input.norm(at) {
        // "move 500 soup to mars"
        "to" if matches!(verb, "carried" | "carry") => true,
        "to" | "into" | "in" => article(at + 1) > 0,
        _ => false,
    };
    let mut places = 1..input.len().saturating_sub(1);
    let Some(at) = places.rfind(|&at| behind(at) && at + 1 + article(at + 1) < input.len()) else {
        return (input, None);
    };
    let said = input.after(at + 1 + article(at + 1));
    if person(said).is_some() {
        return (input, None);
    }
    let strange = |token: &Token| {
        let norm = token.norm();
        let vessel = containers().has(norm) || pots().has(norm);
        let known = input.vocabulary.has_word(norm) || waste_tails().has(norm);
        !norm.is_empty() && !vessel && !known && !talk().has(norm) && !fillers().has(norm)
    };
    let short = said.is_wordy() && said.len() <= STRANGE_WORDS_MAX;
    // "the wine cave" is a place, "the bean soup" is none.
    let food = said.last().is_some_and(|last| is_food_word(last.norm()));
    match short && !food && said.slice.iter().all(strange) {
        true => (input.range(0, at).trimmed_end(), Some(said.words())),
        false => (input, None),
    }
}

/// "move the dal into a tub"
fn led_into(rest: Tokens<'_>) -> bool {
    rest.slice.iter().any(|token| token.norm() == "into")
}

/// Without the "out" of "out of the freezer".
pub fn without_out(input: Tokens<'_>) -> Tokens<'_> {
    let input = without_again(input.trimmed_end());
    match input.last().map(Token::norm) {
        Some(
            "out" | "back" | "away" | "over" | "up" | "in" | "is" | "are" | "went" | "gone" | "now"
            | "both" | "all" | "down" | "goes" | "go" | "going" | "still" | "stays" | "stay"
            | "only" | "just" | "finally" | "already" | "its" | "theyre" | "straight" | "sitting"
            | "sat" | "safely" | "has" | "have",
        ) if input.len() > 1 => without_out(input.range(0, input.len() - 1)),
        _ => input,
    }
}

/// "400 dal and put it" in the freezer: what was done before goes on.
fn without_again(input: Tokens<'_>) -> Tokens<'_> {
    let from = input.len().saturating_sub(3);
    let said = input.after(from);
    let again = said.norm(0) == "and"
        && matches!(
            moves().get(said.norm(1)),
            Some("done" | "asked" | "carried" | "carry")
        )
        && spoken_of::is_stand_in(said.norm(2));
    match again && from > 0 {
        true => input.range(0, from).trimmed_end(),
        false => input,
    }
}
