//! How cold a place is: "the cellar is a fridge", "add cellar as a freezer", "utility room is not cold".
//!
//! ```text
//! place-is := ["add"] ["place"] [":"] ["the"] place ("is" | "as" | "counts as" | ",") kind
//! ```
//! A name that tells by itself ("garage freezer") needs no telling: "add a place, garage freezer".

use crate::lang::lexicon::is_food;
use crate::lang::name;
use crate::lang::place::{is_common_place, is_place, kind_alone, place_kind};
use crate::lang::syntax::{Command, PlaceKind};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;
use crate::lang::words::{containers, pots};

/// "the utility room".
const PLACE_WORDS_MAX: usize = 3;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    let added = usize::from(matches!(body.norm(0), "add" | "new"));
    let added = added + usize::from(body.norm(added) == "a");
    let added = added + usize::from(matches!(body.norm(added), "place" | "places"));
    let rest = body.after(added).without_lead();
    if added > 1
        && body.norm(added - 1).starts_with("place")
        && let Some(kind) = told_by_name(rest)
    {
        let name = name::bare(rest).words();
        return Ok((input.after(input.len()), Command::PlaceIs { name, kind }));
    }
    let link = |at: &usize| {
        matches!(rest.norm(*at), "is" | "as" | "counts" | "works" | "acts")
            || added > 0 && rest.slice[*at].is(',')
    };
    let Some(at) = (1..rest.len()).find(link) else {
        return input.no();
    };
    let said = name::bare(rest.range(0, at));
    let Some(told) = kind_alone(rest.after(at + 1)) else {
        return input.no();
    };
    let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
    let vessel = words
        .last()
        .is_some_and(|last| containers().has(last) || pots().has(last));
    // "the garage freezer is a freezer": what its name tells by itself may be told.
    let own = |kind: &&str| *kind == kind_word(told) && !is_common_place(&said.words().text);
    let named = place_kind(&said.words().text);
    let told_already = named.is_some_and(|kind| !own(&kind));
    let taken = input
        .vocabulary
        .known(&words)
        .is_some_and(|sense| sense != Sense::Place);
    let plain = !said.is_empty() && said.is_wordy() && words.len() <= PLACE_WORDS_MAX;
    if !plain || vessel || taken || is_food(&words) || told_already {
        return input.no();
    }
    // "it is a freezer", "this is a fridge"
    if matches!(
        words[0],
        "it" | "this" | "that" | "there" | "he" | "she" | "who" | "what"
    ) {
        return input.no();
    }
    Ok((
        input.after(input.len()),
        Command::PlaceIs {
            name: said.words(),
            kind: told,
        },
    ))
}

fn kind_word(kind: PlaceKind) -> &'static str {
    match kind {
        PlaceKind::Freezer => "freezer",
        PlaceKind::Fridge => "fridge",
        PlaceKind::Counter => "counter",
    }
}

/// "garage freezer": a place, and how cold it is there.
fn told_by_name(said: Tokens<'_>) -> Option<PlaceKind> {
    let name = name::bare(said.trimmed_end());
    let short = name.is_wordy() && name.len() <= PLACE_WORDS_MAX && is_place(name);
    match place_kind(&name.words().text).filter(|_| short)? {
        "freezer" => Some(PlaceKind::Freezer),
        "fridge" => Some(PlaceKind::Fridge),
        "counter" => Some(PlaceKind::Counter),
        _ => None,
    }
}
