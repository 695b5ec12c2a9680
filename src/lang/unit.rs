//! Units of mass and volume, by their words in English, German, French and Spanish (`data/units.txt`).

use super::syntax::VolumeUnit;
use super::token::Token;
use super::tokens::{Read, Tokens};
use super::words::units;

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unit {
    /// Grams in one.
    Mass(f64),
    Volume(VolumeUnit),
}

/// A unit's word or words, with the full stop of an abbreviation.
pub fn unit(input: Tokens<'_>) -> Read<'_, Unit> {
    let dotted = dotted(input);
    let Some((length, key)) = dotted.or_else(|| units().longest(input.slice)) else {
        return input.no();
    };
    let Some(unit) = read_key(key, input) else {
        return input.no();
    };
    let mut rest = input.after(length);
    let abbreviated = rest
        .first()
        .is_some_and(|token| token.is('.') && !token.spaced)
        && rest.len() > 1;
    if abbreviated {
        rest = rest.take_one();
    }
    Ok((rest, unit))
}

/// "2 c. à soupe": the words of a unit with full stops between them.
fn dotted(input: Tokens<'_>) -> Option<(usize, &'static str)> {
    input.get(1).filter(|token| token.is('.'))?;
    let here = input.slice.iter().take(DOTTED_TOKENS_MAX).enumerate();
    let (places, words): (Vec<usize>, Vec<Token>) = here
        .filter(|(_, token)| !token.is('.'))
        .map(|(at, token)| (at, token.clone()))
        .unzip();
    let (length, key) = units().longest(&words)?;
    (length > 1).then(|| (places[length - 1] + 1, key))
}

const DOTTED_TOKENS_MAX: usize = 6;

fn read_key(key: &str, input: Tokens<'_>) -> Option<Unit> {
    let (kind, what) = key.split_once(' ')?;
    if kind == "mass" {
        return what.parse().ok().map(Unit::Mass);
    }
    // A capital T is a tablespoon, a small t a teaspoon.
    let capital = input
        .first()
        .is_some_and(|token| &input.text[token.span.clone()] == "T");
    Some(Unit::Volume(match what {
        "teaspoon" if capital => VolumeUnit::Tablespoon,
        "millilitre" => VolumeUnit::Millilitre,
        "centilitre" => VolumeUnit::Centilitre,
        "decilitre" => VolumeUnit::Decilitre,
        "litre" => VolumeUnit::Litre,
        "teaspoon" => VolumeUnit::Teaspoon,
        "tablespoon" => VolumeUnit::Tablespoon,
        "cup" => VolumeUnit::Cup,
        "fluid_ounce" => VolumeUnit::FluidOunce,
        "pint" => VolumeUnit::Pint,
        "quart" => VolumeUnit::Quart,
        "gallon" => VolumeUnit::Gallon,
        _ => return None,
    }))
}

/// About how many millilitres, to refuse what no kitchen holds.
pub fn rough_millilitres(unit: VolumeUnit) -> f64 {
    match unit {
        VolumeUnit::Millilitre => 1.0,
        VolumeUnit::Centilitre => 10.0,
        VolumeUnit::Decilitre => 100.0,
        VolumeUnit::Litre => 1000.0,
        VolumeUnit::Teaspoon => 5.0,
        VolumeUnit::Tablespoon => 15.0,
        VolumeUnit::Cup => 240.0,
        VolumeUnit::FluidOunce => 29.6,
        VolumeUnit::Pint => 500.0,
        VolumeUnit::Quart => 950.0,
        VolumeUnit::Gallon => 3800.0,
    }
}
