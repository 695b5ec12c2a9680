//! One clause of a dish that is put in several places: how much of it, and where.
//!
//! ```text
//! part := [verb] (amount [["of"] dish] | dish amount | "the rest" | "the other" [amount]) ["is" | "went"] ["in" | "to"] place
//!       | [dish] ["in"] place [":" | "has"] amount
//! ```

use crate::lang::amount::{Stands, amount, grams};
use crate::lang::command::moving::without_lead;
use crate::lang::command::whither::without_out;
use crate::lang::command::{spoken_of, whither};
use crate::lang::jars::is_vessel;
use crate::lang::name;
use crate::lang::place::{self, is_place};
use crate::lang::syntax::{Amount, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::{moves, units};

/// What a clause tells.
pub struct Part {
    /// `None`: the rest.
    pub amount: Option<Amount>,
    /// So many vessels or pieces, by the word for them.
    pub noun: Option<Words>,
    pub dish: Option<Words>,
    pub place: Option<Words>,
}

/// What is done, dropped; whether it freezes.
pub fn without_verb(said: Tokens<'_>) -> (Tokens<'_>, bool) {
    match moves().longest(said.slice) {
        Some((length, key)) if key != "thaw" => (said.after(length), key == "freeze"),
        _ => match said.norm(0) {
            "spread" => (said.after(1), false),
            _ => (said, false),
        },
    }
}

pub fn part(clause: Tokens<'_>) -> Option<Part> {
    let (said, freezes) = without_verb(without_lead(clause));
    if let Some(part) = place_before(said) {
        return Some(part);
    }
    let (rest, place) = whither::place(said, &whither::LEADS);
    let (rest, place) = match place {
        Some(_) => (rest, place),
        None => bare_place(said),
    };
    let place = place.or_else(|| freezes.then(|| Words::plain("freezer")));
    let rest = without_out(rest.trimmed());
    let what = rest_of_it(rest)
        .or_else(|| so_much(without_other(rest)))
        .or_else(|| dish_first(rest))?;
    Some(Part { place, ..what })
}

/// "dal in the fridge 600", "in the freezer 1240", "dal fridge 600"
fn place_before(said: Tokens<'_>) -> Option<Part> {
    let at = said.find(Token::is_numeric)?;
    let before = without_has(said.range(0, at).trimmed_end());
    let dish_then_place = |at: usize| {
        let place = before.after(at);
        let dish = name::of_batch(before.range(0, at)).filter(|_| is_place(place))?;
        Some((dish, place.words()))
    };
    let dish_and_place = || {
        let told = place::dish_in(before);
        let told = told.or_else(|| (1..before.len()).find_map(dish_then_place))?;
        Some((Some(told.0), told.1))
    };
    let (dish, place) = match place::inside(before) {
        Some((rest, place)) if rest.is_empty() => (None, place),
        Some(_) => return None,
        None => dish_and_place()?,
    };
    let what = so_much(said.after(at)).filter(|part| part.dish.is_none())?;
    Some(Part {
        dish,
        place: Some(place),
        ..what
    })
}

/// Without the "has" of "the freezer has 1240".
fn without_has(said: Tokens<'_>) -> Tokens<'_> {
    let links = |token: &&Token| matches!(token.norm(), "has" | "is" | "its" | "at" | "holds");
    let links = said.slice.iter().rev().take_while(links).count();
    said.range(0, said.len() - links).trimmed_end()
}

/// "1 kg freezer", "freezer: 1 kg"
fn bare_place(said: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let said = said.trimmed();
    // "kg", "goes" and "soup" are no part of its name.
    let begins_name = |at: usize| {
        let norm = said.norm(at);
        let idle = matches!(
            norm,
            "" | "goes"
                | "went"
                | "is"
                | "stays"
                | "left"
                | "of"
                | "the"
                | "half"
                | "other"
                | "rest"
        );
        let other = units().holds(&said.slice[at]) || said.vocabulary.is_batch(&[norm]);
        !idle && !other && !whither::LEADS.contains(&norm)
    };
    let ends = |at: &usize| begins_name(*at) && is_place(said.after(*at));
    if let Some(at) = (1..said.len()).find(ends) {
        return (
            said.range(0, at).trimmed_end(),
            Some(said.after(at).words()),
        );
    }
    let the = usize::from(matches!(said.norm(0), "the" | "our"));
    let begins = |at: &usize| is_place(said.range(the, *at));
    match (the + 1..said.len()).rev().find(begins) {
        Some(at) => (
            said.after(at).without_lead(),
            Some(said.range(the, at).words()),
        ),
        None => (said, None),
    }
}

/// "the rest", "the rest of the soup", "the other half", "the others"
fn rest_of_it(said: Tokens<'_>) -> Option<Part> {
    let idle = |token: &&Token| matches!(token.norm(), "the" | "all" | "our");
    let said = said.after(said.slice.iter().take_while(idle).count());
    let length = match (said.norm(0), said.norm(1)) {
        ("other", "half") | ("remaining" | "other" | "last", "one" | "ones") => 2,
        ("rest" | "remainder" | "others" | "remaining", _) => 1,
        _ => return None,
    };
    let behind = said.after(length);
    let behind = behind.after(usize::from(behind.norm(0) == "of"));
    let known = behind.is_empty() || spoken_of::is_stand_in(behind.norm(0)) && behind.len() == 1;
    let dish = match known {
        true => None,
        false => Some(name::all_of_batch(behind)?),
    };
    Some(Part {
        amount: None,
        noun: None,
        dish,
        place: None,
    })
}

/// "the other 2", "the remaining 500"
fn without_other(said: Tokens<'_>) -> Tokens<'_> {
    let the = usize::from(said.norm(0) == "the");
    let other = usize::from(matches!(said.norm(the), "other" | "remaining" | "last"));
    match other {
        0 => said,
        _ => said.after(the + other),
    }
}

/// "dal 600"
fn dish_first(said: Tokens<'_>) -> Option<Part> {
    let at = said.find(Token::is_numeric)?;
    let dish = name::of_batch(said.range(0, at).trimmed_end())?;
    let what = so_much(said.after(at)).filter(|part| part.dish.is_none())?;
    Some(Part {
        dish: Some(dish),
        ..what
    })
}

/// "3 boxes of soup", "700 of the soup", "half", "the other 2"
fn so_much(said: Tokens<'_>) -> Option<Part> {
    // "3 tubs of 400"
    if said.len() > 3
        && let Ok((rest, Amount::Bare(count))) = amount(said.range(0, 1), Stands::BeforeName)
        && rest.is_empty()
        && is_vessel(said.norm(1))
        && said.norm(2) == "of"
        && let Ok((rest, grams)) = grams(said.after(3))
        && rest.trimmed().is_empty()
    {
        return Some(Part {
            amount: Some(Amount::Each {
                count,
                grams,
                measure: vec!["box".into()],
            }),
            noun: None,
            dish: None,
            place: None,
        });
    }
    let (rest, mut told) = match said.first().map(|token| &token.kind) {
        Some(Kind::Percent(share)) => (said.after(1), Amount::Share(share / 100.0)),
        _ => amount(said, Stands::BeforeName).ok()?,
    };
    let mut noun = None;
    if let Amount::Pieces { count, measure } = &told {
        noun = (!measure.is_empty()).then(|| Words::plain(measure.join(" ")));
        told = Amount::Bare(*count);
    }
    // "half", of what was named before.
    if let Amount::Bare(share) = told
        && (0.0..1.0).contains(&share)
    {
        told = Amount::Share(share);
    }
    let counted = noun.is_none() && is_vessel(rest.norm(0)) && matches!(told, Amount::Bare(_));
    let rest = match counted {
        true => {
            noun = Some(rest.range(0, 1).words());
            rest.after(1)
        }
        false => rest,
    };
    let rest = rest.after(usize::from(rest.norm(0) == "of"));
    let stands_in = rest.is_empty() || rest.len() == 1 && spoken_of::is_stand_in(rest.norm(0));
    let dish = match stands_in {
        true => None,
        false => Some(name::of_batch(rest)?),
    };
    // "6 meatballs": pieces are told by the name of the dish.
    let exact = matches!(
        told,
        Amount::Bare(_) | Amount::Mass(_) | Amount::Share(_) | Amount::Each { .. }
    );
    exact.then_some(Part {
        amount: Some(told),
        noun,
        dish,
        place: None,
    })
}
