//! The recipe of a dish, and its last pots beside each other.

use super::again::{buts, scale};
use super::{asked, dish, dish_first, dish_told, is_phrase, phrase, skip, whole};
use crate::lang::number::number;
use crate::lang::syntax::{Command, Cookbook, Recipe, RecipeBut, Scale, Words};
use crate::lang::tokens::{Read, Tokens};

/// So many pots are compared where nobody says how many.
const POTS_USUAL: u32 = 3;
const POTS: std::ops::RangeInclusive<f64> = 2.0..=50.0;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let said = asked(said);
        let recipe = told(said).or_else(|| behind(said)).or_else(|| made(said));
        recipe.map(Cookbook::Show)
    })
}

fn plain(dish: Words) -> Recipe {
    Recipe {
        dish: Some(dish),
        scale: Scale::AsItWas,
        but: Vec::new(),
    }
}

/// "recipe for dal x2", "recipe dal with 700 g lentils"
fn told(said: Tokens<'_>) -> Option<Recipe> {
    let (dish, rest) = dish_told(phrase("recipe of", said)?)?;
    let (rest, scale) = scale(rest);
    let but = buts(rest)?;
    // "recipe dal: 500 g lentils" tells one.
    let told = but.iter().any(|but| matches!(but, RecipeBut::Set(..)));
    (!told).then_some(Recipe {
        dish: Some(dish),
        scale: scale.unwrap_or(Scale::AsItWas),
        but,
    })
}

/// "show the dal recipe", "dal recipe"
fn behind(said: Tokens<'_>) -> Option<Recipe> {
    let (dish, rest) = dish_first(skip("show", said))?;
    (rest.len() == 1 && rest.norm(0) == "recipe").then(|| plain(dish))
}

/// "how do we make dal", "how was the dal made"
fn made(said: Tokens<'_>) -> Option<Recipe> {
    let (dish, rest) = dish_first(phrase("how made", said)?)?;
    (rest.is_empty() || is_phrase("made", rest)).then(|| plain(dish))
}

pub fn read_compare(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let said = asked(said);
        compare(said)
            .or_else(|| compared(said))
            .or_else(|| yields(said))
    })
}

/// "compare the last 3 dals", "compare dals"
fn compare(said: Tokens<'_>) -> Option<Cookbook> {
    let rest = phrase("compare", said)?;
    let last = phrase("last", rest);
    let (rest, pots) = counted(last.unwrap_or(rest))?;
    pots_of(rest, pots, last.is_some())
}

/// "how did the last three dals compare"
fn compared(said: Tokens<'_>) -> Option<Cookbook> {
    let rest = phrase("how did", said)?;
    let last = phrase("last", rest);
    let rest = last.unwrap_or(rest);
    let at = (1..rest.len()).find(|at| is_phrase("compared", rest.after(*at)))?;
    let compares = matches!(rest.norm(at), "compare" | "compared" | "differ");
    let (rest, pots) = counted(rest.range(0, at))?;
    // "how did the dal turn out" asks of one.
    pots_of(rest, pots, true).filter(|_| last.is_some() || compares)
}

/// "dal yield", "what yield do we get on the dal"
fn yields(said: Tokens<'_>) -> Option<Cookbook> {
    let behind = || dish_first(said).filter(|(_, rest)| is_phrase("yield", *rest));
    let named = phrase("yield of", said).and_then(dish);
    let named = named.or_else(|| behind().map(|(dish, _)| dish))?;
    Some(Cookbook::Compare {
        dish: Some(named),
        pots: POTS_USUAL,
    })
}

/// "3", "three pots of"
fn counted(rest: Tokens<'_>) -> Option<(Tokens<'_>, Option<u32>)> {
    let (rest, pots) = match number(rest) {
        Ok((rest, said)) => {
            let whole = said.value.fract() == 0.0 && POTS.contains(&said.value);
            (rest, Some(whole.then_some(said.value as u32)?))
        }
        Err(_) => (rest, None),
    };
    Some((skip("pots", rest), pots))
}

fn pots_of(rest: Tokens<'_>, pots: Option<u32>, last: bool) -> Option<Cookbook> {
    let named = dish(rest);
    // "compare" alone, and "how did the last go", compare nothing.
    let told = named.is_some() || rest.is_empty() && last && pots.is_some();
    told.then(|| Cookbook::Compare {
        dish: named,
        pots: pots.unwrap_or(POTS_USUAL),
    })
}
