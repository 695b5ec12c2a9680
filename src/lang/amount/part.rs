//! A part of a mass that is told with it, or several of one: "half of 300 soup", "all but 30 of my 180 barley",
//! "2 of 80 g".

use nom::Parser;
use nom::branch::alt;
use nom::combinator::opt;

use super::{Stands, checked_mass, grams, measure_words, tidy};
use crate::lang::number::number;
use crate::lang::syntax::Amount;
use crate::lang::tokens::{Read, Tokens, symbol, word};
use crate::lang::unit::{Unit, unit};

/// Nobody takes a part of less: "half of 3 eggs" counts.
const WHOLE_GRAMS_MIN: f64 = 20.0;
/// So many goes are counted.
const SEVERAL_MAX: f64 = 12.0;

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

/// "2 scoops of 65 g and 1 of 48 g": several of one weight, and of another.
///
/// ```text
/// goes := several { ("and" | "plus" | "+") several }
/// several := number [measure] "of" mass
/// ```
pub fn in_goes(input: Tokens<'_>, stands: Stands) -> Read<'_, Amount> {
    let (mut rest, (mut total, counted)) = several(input)?;
    let mut goes = 1;
    let and = |input| {
        alt((
            word(&["and", "plus", "n"]).map(|_| ()),
            symbol('+'),
            symbol('&'),
        ))
        .parse(input)
    };
    while let Ok((after, (grams, _))) = and(rest).and_then(|(after, ())| several(after)) {
        total += grams;
        rest = after;
        goes += 1;
    }
    // "2 tins of 400 g" says more than what they weigh.
    if goes == 1 && counted {
        return input.no();
    }
    let total = tidy(total);
    checked_mass(input, rest, total)?;
    let (rest, _) = opt(word(&["of"])).parse(rest)?;
    let (rest, _) = match stands {
        Stands::BeforeName => opt(word(&["the", "my", "our"])).parse(rest)?,
        Stands::AfterName => (rest, None),
    };
    Ok((rest, Amount::Mass(total)))
}

/// So many of a weight, and whether they are counted by a measure.
fn several(input: Tokens<'_>) -> Read<'_, (f64, bool)> {
    let (rest, count) = number(input)?;
    let whole = count.value.fract() == 0.0 && (1.0..=SEVERAL_MAX).contains(&count.value);
    if !whole || count.article {
        return input.no();
    }
    let (rest, measure) = measure_words(rest, Stands::AfterName);
    let (rest, _) = opt(word(&["of"])).parse(rest)?;
    let said = input.range(0, input.len() - rest.len());
    let (rest, each) = match said.last().is_some_and(|last| last.norm() == "of") {
        true => grams(rest)?,
        false => return input.no(),
    };
    if each < WHOLE_GRAMS_MIN {
        return input.no();
    }
    Ok((rest, (count.value * each, !measure.is_empty())))
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
