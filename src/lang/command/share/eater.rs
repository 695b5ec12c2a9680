//! One who eats: "me", "she", a name of the household, somebody's mother, a guest.
//!
//! ```text
//! eater := "me" | "she" | name | "guest" name | ["my" | "our"] kin [name]
//! ```
//! Whom nobody knows is a guest where a capital letter and a verb or a preposition say that it is a name.

use super::party::{Before, ends, plate, verb};
use crate::lang::lexicon::is_food_word;
use crate::lang::person::{person, stranger};
use crate::lang::syntax::{Eater, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::at_table;

pub fn eater(input: Tokens<'_>, led: bool, before: &Before) -> Option<(usize, Eater)> {
    let first = input.norm(0);
    match first {
        "me" | "i" | "myself" | "mine" | "mines" | "im" | "ive" | "id" => return Some((1, None)),
        "yours" if input.norm(1) == "truly" => return Some((2, None)),
        "ill" if before.named.is_some() && matches!(input.norm(1), "have" | "take" | "get") => {
            return Some((2, None));
        }
        "my" if plate(input.after(1)) > 0 && input.norm(1) != "part" => return Some((1, None)),
        "he" | "she" | "him" | "her" | "hers" | "his" | "they" | "them" | "hes" | "shes"
        | "theyre" => {
            let owns = matches!(first, "her" | "his") && plate(input.after(1)) > 0;
            let gives = matches!(input.norm(1), "gave" | "gives" | "handed" | "passed");
            let acts = matches!(first, "he" | "she" | "they")
                && (gives || verb(input.after(1)).0 > 0)
                || matches!(first, "hes" | "shes" | "theyre");
            // "120 of it his"
            let closes =
                matches!(first, "his" | "hers") && before.named.is_some() && ends(input.after(1));
            if !(owns || acts || led || closes) || before.is_either() {
                return None;
            }
            let words = before
                .spoken_of()
                .unwrap_or_else(|| input.range(0, 1).words());
            return Some((1, Some(words)));
        }
        _ => {}
    }
    let at = usize::from(input.first().is_some_and(|token| token.is('@')));
    if let Some((length, who)) = person(input.after(at)) {
        return Some((at + length, Some(who)));
    }
    let acts = led
        || verb(input.after(1)).0 > 0
        || input
            .get(1)
            .is_some_and(|token| token.is(':') || token.is_numeric());
    if acts
        && let Some(name) = input
            .vocabulary
            .nicknamed(first)
            .filter(|_| !is_food_word(first))
    {
        return Some((1, Some(Words::new(name, input.range(0, 1).span()))));
    }
    guest(input, led)
}

/// Somebody who is not of the household.
fn guest(input: Tokens<'_>, led: bool) -> Option<(usize, Eater)> {
    let skip = usize::from(matches!(input.norm(0), "my" | "our" | "the" | "a"));
    let named = |token: Option<&Token>| {
        token.is_some_and(|token| {
            input.text[token.span.clone()].starts_with(char::is_uppercase)
                && stranger(input.with(std::slice::from_ref(token))).is_some()
        })
    };
    // A slip of the finger away from a name of the household, it is asked about.
    let called = |name: &str| {
        let near = input.vocabulary.is_near_person(&name.to_lowercase());
        let text = if near {
            name.to_owned()
        } else {
            format!("guest {name}")
        };
        Some(Words::new(text, input.range(0, 1).span()))
    };
    if let Some(length) = at_table().longest_of(input.after(skip).slice, "kin") {
        let at = skip + length;
        if named(input.get(at)) {
            return Some((at + 1, called(&input.range(at, at + 1).words().text)));
        }
        let name = input.range(skip, at).words().text;
        let here = skip > 0
            || led
            || verb(input.after(at)).0 > 0
            || input.get(at).is_some_and(|token| token.is(':'));
        if !here {
            return None;
        }
        return Some((
            at,
            if name == "guest" {
                Some(Words::plain("guest"))
            } else {
                called(&name)
            },
        ));
    }
    if let Some(length) = at_table().longest_of(input.after(skip).slice, "several") {
        let at = skip + length;
        let here =
            led || verb(input.after(at)).0 > 0 || input.get(at).is_some_and(|token| token.is(':'));
        return here.then(|| (at, Some(input.range(skip, at).words())));
    }
    let acts = verb(input.after(1)).0 > 0
        && matches!(
            input.norm(1),
            "had" | "ate" | "has" | "took" | "got" | "gets" | "takes" | "just"
        );
    let ends = input.get(1).is_none_or(|token| {
        matches!(token.kind, Kind::Newline | Kind::Symbol(_)) || token.is_numeric()
    });
    let told = acts || led && ends;
    (told && named(input.first()) && !is_food_word(input.norm(0)))
        .then(|| (1, called(&input.range(0, 1).words().text)))
}
