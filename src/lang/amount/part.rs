//! A part of a mass that is told with it: "half of 300 soup", "all but 30 of my 180 barley".

use nom::Parser;
use nom::combinator::opt;

use super::{Stands, checked_mass, grams, tidy};
use crate::lang::number::number;
use crate::lang::syntax::Amount;
use crate::lang::tokens::{Read, Tokens, word};
use crate::lang::unit::{Unit, unit};

/// Nobody takes a part of less: "half of 3 eggs" counts.
const WHOLE_GRAMS_MIN: f64 = 20.0;

/// "all but 30 of my 180 barley": what was served, less what was left.
pub fn all_but(input: Tokens<'_>, stands: Stands) -> Read<'_, Amount> {
    let (rest, _) = word(&["all", "everything"])(input)?;
    let (rest, _) = word(&["but", "except", "bar"])(rest)?;
    let (rest, left) = grams(rest)?;
    let (rest, _) = word(&["of"])(rest)?;
    let (rest, _) = opt(word(&["the", "my", "a", "that", "those"])).parse(rest)?;
    let (rest, served) = grams(rest)?;
    let (rest, _) = opt(word(&["of"])).parse(rest)?;
    let (rest, _) = match stands {
        Stands::BeforeName => opt(word(&["the", "my", "our"])).parse(rest)?,
        Stands::AfterName => (rest, None),
    };
    if left >= served {
        return input.no();
    }
    Ok((rest, Amount::Mass(tidy(served - left))))
}

/// "half of 300 soup", "0.18 of a kilo of barley": a part of so much.
pub fn part_of_a_mass(input: Tokens<'_>, stands: Stands) -> Read<'_, Amount> {
    let (rest, part) = number(input)?;
    let (rest, _) = word(&["of"])(rest)?;
    let (rest, article) = opt(word(&["a", "an", "one", "my", "the"])).parse(rest)?;
    // However little of it there is: "a tenth of a gram".
    let (rest, whole, least) = match unit(rest) {
        Ok((rest, Unit::Mass(grams))) if matches!(article, Some("a" | "an")) => (rest, grams, 0.0),
        _ => {
            let (rest, whole) = grams(rest)?;
            (rest, whole, WHOLE_GRAMS_MIN)
        }
    };
    if !(0.0..1.0).contains(&part.value) || whole < least {
        return input.no();
    }
    let (rest, _) = opt(word(&["of"])).parse(rest)?;
    let (rest, _) = match stands {
        Stands::BeforeName => opt(word(&["the", "my", "our"])).parse(rest)?,
        Stands::AfterName => (rest, None),
    };
    let grams = tidy(part.value * whole);
    checked_mass(input, rest, grams)?;
    Ok((rest, Amount::Mass(grams)))
}
