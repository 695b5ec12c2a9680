//! One number with its unit, measure or product: "2 tbsp", "1 lb 4 oz", "2 x 400 g", "3 cloves".

use nom::Parser;
use nom::branch::alt;
use nom::combinator::opt;

use super::Stands;
use super::measure::measure_words;
use crate::lang::number::{Number, and_a_half, number};
use crate::lang::syntax::{Amount, VolumeUnit};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens, symbol, word};
use crate::lang::unit::{Unit, unit};
use crate::lang::words::{measures, packages, qualifiers};

/// More than this is not written with a space in it: "soup 90 150 g beans".
const GROUPED_GRAMS_MAX: f64 = 25_000.0;

/// One number with its unit.
#[derive(Debug, Clone, PartialEq)]
pub enum Term {
    Bare(Number),
    Mass {
        grams: f64,
        other: Option<f64>,
    },
    Volume {
        count: f64,
        other: Option<f64>,
        unit: VolumeUnit,
        qualifiers: Vec<String>,
    },
    Pieces {
        count: f64,
        measure: Vec<String>,
    },
    Each {
        count: f64,
        grams: f64,
        measure: Vec<String>,
    },
}

impl Term {
    /// How many of its measure.
    pub fn count(&self) -> Option<f64> {
        match self {
            Self::Volume {
                count, other: None, ..
            }
            | Self::Pieces { count, .. }
            | Self::Each { count, .. } => Some(*count),
            _ => None,
        }
    }

    /// So many of the same measure.
    pub fn with_count(&self, value: f64) -> Self {
        let mut other = self.clone();
        if let Self::Volume { count, .. } | Self::Pieces { count, .. } | Self::Each { count, .. } =
            &mut other
        {
            *count = tidy(value);
        }
        other
    }
}

/// One number with what belongs to it.
pub fn term(input: Tokens<'_>, stands: Stands) -> Read<'_, Term> {
    if let Ok(one_and_a_half) = measure_and_a_half(input) {
        return Ok(one_and_a_half);
    }
    let (rest, count) = number(input)?;
    // "135ish"
    let (rest, _) = opt(word(&["ish", "or so"])).parse(rest)?;
    if let Ok((rest, product)) = product(rest, count) {
        return Ok((rest, product));
    }
    // "1 heaped tbsp", "2 level teaspoons"
    let (after_qualifier, qualifier) = match qualifiers().longest(rest.slice) {
        Some((length, key)) => (rest.after(length), Some(key)),
        None => (rest, None),
    };
    let glued = rest.first().is_some_and(|token| !token.spaced);
    if let Ok((after, unit)) = unit(after_qualifier) {
        let short = after_qualifier.norm(0).len() == 1;
        let cup_like = after_qualifier.norm(0) == "c" && count.value >= 30.0;
        let misread = short && count.article || cup_like || qualifier.is_some() && glued;
        if !misread {
            return with_unit(after, count, unit, qualifier, stands);
        }
    }
    let (rest, measure) = measure_words(rest, stands);
    if measure.is_empty() && !count.article {
        return Ok((rest, Term::Bare(count)));
    }
    if count.article && measure.is_empty() && stands == Stands::AfterName {
        return input.no();
    }
    Ok((
        rest,
        Term::Pieces {
            count: count.value,
            measure,
        },
    ))
}

/// "ladle & a half", "a ladle and a half".
fn measure_and_a_half(input: Tokens<'_>) -> Read<'_, Term> {
    let (rest, _) = opt(word(&["a", "one"])).parse(input)?;
    let (rest, measure) = measure_words(rest, Stands::AfterName);
    if measure.is_empty() {
        return input.no();
    }
    let (rest, half) = and_a_half(rest)?;
    let count = 1.0 + half;
    Ok((rest, Term::Pieces { count, measure }))
}

fn with_unit<'a>(
    input: Tokens<'a>,
    count: Number,
    unit: Unit,
    qualifier: Option<&str>,
    stands: Stands,
) -> Read<'a, Term> {
    match unit {
        Unit::Mass(grams_each) => {
            // "a pound and a half"
            let (input, half) = opt(and_a_half).parse(input)?;
            let count = Number {
                value: count.value + half.unwrap_or(0.0),
                ..count
            };
            let grams = count.value * grams_each;
            let other = count.other.filter(|_| grams_each == 1.0);
            let (rest, smaller) = opt(|input| smaller_mass(input, grams_each)).parse(input)?;
            let grams = tidy(grams + smaller.unwrap_or(0.0));
            if let Some(equal) = times_after(rest, grams).filter(|_| other.is_none()) {
                return Ok(equal);
            }
            // "400 g can chickpeas": it says that they are canned.
            let (after, measure) = measure_words(rest, stands);
            let packed = matches!(measure.as_slice(), [one] if packages().has(one));
            if stands == Stands::BeforeName && packed && other.is_none() {
                let count = 1.0;
                return Ok((
                    after,
                    Term::Each {
                        count,
                        grams,
                        measure,
                    },
                ));
            }
            Ok((rest, Term::Mass { grams, other }))
        }
        Unit::Volume(unit) => Ok((
            input,
            Term::Volume {
                count: count.value,
                other: count.other.filter(|_| unit == VolumeUnit::Millilitre),
                unit,
                qualifiers: qualifier.iter().map(|&word| word.to_owned()).collect(),
            },
        )),
    }
}

/// "400 g x 2": so many of that weight.
fn times_after(input: Tokens<'_>, grams: f64) -> Option<(Tokens<'_>, Term)> {
    let (rest, ()) = times(input).ok()?;
    let (after, count) = number(rest).ok()?;
    let whole = count.value.fract() == 0.0 && (1.0..=EQUAL_MAX).contains(&count.value);
    if !whole || unit(after).is_ok() {
        return None;
    }
    let (after, measure) = measure_words(after, Stands::BeforeName);
    let count = count.value;
    let equal = Term::Each {
        count,
        grams,
        measure,
    };
    Some((after, equal))
}

/// The second part of "1 lb 4 oz", "1 kg 200 g".
fn smaller_mass(input: Tokens<'_>, than_grams: f64) -> Read<'_, f64> {
    let (rest, _) = opt(alt((word(&["and"]), word(&["n"])))).parse(input)?;
    let (rest, count) = number(rest)?;
    if let Some(grams) = without_unit(rest, count, than_grams) {
        return Ok((rest, grams));
    }
    let (rest, unit) = unit(rest)?;
    match unit {
        Unit::Mass(grams)
            if grams < than_grams && count.value * grams < than_grams && than_grams > 1.0 =>
        {
            // "and" joins two things as well: only a unit of the same system continues the amount.
            let same_system = (than_grams == 1000.0 && grams <= 10.0)
                || (than_grams > 400.0 && than_grams < 500.0 && grams > 28.0 && grams < 29.0);
            if same_system {
                Ok((rest, count.value * grams))
            } else {
                input.no()
            }
        }
        _ => input.no(),
    }
}

/// "1kg 100 of soup", "a pound twelve of soup": the smaller unit goes without saying before "of".
fn without_unit(rest: Tokens<'_>, count: Number, than_grams: f64) -> Option<f64> {
    let whole = count.value.fract() == 0.0 && !count.article;
    if rest.norm(0) != "of" || !whole {
        return None;
    }
    match than_grams {
        1000.0 if (10.0..1000.0).contains(&count.value) => Some(count.value),
        POUND_GRAMS if (1.0..16.0).contains(&count.value) => Some(count.value * POUND_GRAMS / 16.0),
        _ => None,
    }
}

const POUND_GRAMS: f64 = 453.592_37;
/// More things of one weight are not counted behind it.
const EQUAL_MAX: f64 = 48.0;
/// No count of equal things is so high: "2 x 85" is weighed twice.
const EACH_GRAMS_MIN: f64 = 20.0;

fn times(input: Tokens<'_>) -> Read<'_, ()> {
    alt((word(&["x"]).map(|_| ()), symbol('×'), symbol('*'))).parse(input)
}

/// "x 400 g", "400 g tins" after a count, "(400 g) cans".
fn product(input: Tokens<'_>, count: Number) -> Read<'_, Term> {
    let (rest, times) = opt(times).parse(input)?;
    let (rest, paren) = opt(symbol('(')).parse(rest)?;
    let Some(Kind::Number(_)) = rest.first().map(|token| &token.kind) else {
        return times_alone(input, rest, count, times.is_some() && paren.is_none());
    };
    // "1/2 x 400 g tin"
    let part = times.is_some() && count.value < 1.0;
    if count.value.fract() != 0.0 && !part || count.value > 200.0 {
        return input.no();
    }
    let (rest, each) = number(rest)?;
    // "2 x 85 parsnips"
    let bare = unit(rest).is_err() && measures().longest(rest.slice).is_none();
    if bare && times.is_some() && paren.is_none() && each.value >= EACH_GRAMS_MIN {
        let grams = tidy(count.value * each.value);
        return Ok((rest, Term::Mass { grams, other: None }));
    }
    let (rest, unit) = unit(rest)?;
    let (rest, _) = if paren.is_some() {
        symbol(')').map(Some).parse(rest)?
    } else {
        (rest, None)
    };
    let (rest, measure) = measure_words(rest, Stands::BeforeName);
    if times.is_none() && measure.is_empty() {
        return beside(input, rest, count, each, unit);
    }
    let product = match unit {
        Unit::Mass(grams) if times.is_some() && measure.is_empty() => Term::Mass {
            grams: tidy(count.value * each.value * grams),
            other: None,
        },
        Unit::Mass(grams) => Term::Each {
            count: count.value,
            grams: tidy(each.value * grams),
            measure,
        },
        Unit::Volume(unit) => Term::Volume {
            count: tidy(count.value * each.value),
            other: None,
            unit,
            qualifiers: Vec::new(),
        },
    };
    Ok((rest, product))
}

/// "2 500 g flour": two of 500 g, or thousands with a space? Not to be guessed.
fn beside<'a>(
    input: Tokens<'a>,
    rest: Tokens<'a>,
    count: Number,
    each: Number,
    unit: Unit,
) -> Read<'a, Term> {
    let digits = !count.worded && !each.worded && count.value >= 1.0;
    let grouped = each.value.fract() == 0.0 && (100.0..1000.0).contains(&each.value);
    let (low, high) = (
        tidy(count.value * each.value),
        count.value * 1000.0 + each.value,
    );
    let term: fn(f64, Option<f64>) -> Term = match unit {
        Unit::Mass(1.0) => |grams, other| Term::Mass { grams, other },
        Unit::Volume(VolumeUnit::Millilitre) => |count, other| Term::Volume {
            count,
            other,
            unit: VolumeUnit::Millilitre,
            qualifiers: Vec::new(),
        },
        _ => return input.no(),
    };
    if !digits || !grouped || high > GROUPED_GRAMS_MAX {
        return input.no();
    }
    Ok((rest, term(low, Some(high))))
}

/// "2x eggs, "2 x medium onion": so many pieces.
fn times_alone<'a>(
    input: Tokens<'a>,
    rest: Tokens<'a>,
    count: Number,
    times: bool,
) -> Read<'a, Term> {
    if !times {
        return input.no();
    }
    let (rest, measure) = measure_words(rest, Stands::BeforeName);
    Ok((
        rest,
        Term::Pieces {
            count: count.value,
            measure,
        },
    ))
}

/// Free of the last bits of floating point: to the microgram.
pub fn tidy(value: f64) -> f64 {
    if value.abs() < 1e9 {
        (value * 1e6).round() / 1e6
    } else {
        value
    }
}

pub fn between(low: Amount, high: Amount) -> Amount {
    let (low, high) = (Box::new(low), Box::new(high));
    Amount::Between { low, high }
}

pub fn finished(term: Term) -> Amount {
    match term {
        Term::Bare(number) => match number.other {
            Some(high) => between(Amount::Mass(number.value), Amount::Mass(high)),
            None if number.worded && number.value < 1.0 => Amount::Pieces {
                count: number.value,
                measure: Vec::new(),
            },
            None => Amount::Bare(number.value),
        },
        Term::Mass { grams, other: None } => Amount::Mass(grams),
        Term::Mass {
            grams,
            other: Some(high),
        } => between(Amount::Mass(grams), Amount::Mass(high)),
        Term::Volume {
            count,
            other: None,
            unit,
            qualifiers,
        } => Amount::Volume {
            count,
            unit,
            qualifiers,
        },
        Term::Volume {
            count,
            other: Some(high),
            unit,
            qualifiers,
        } => {
            let of = |count: f64| Amount::Volume {
                count,
                unit,
                qualifiers: qualifiers.clone(),
            };
            between(of(count), of(high))
        }
        Term::Pieces { count, measure } => Amount::Pieces { count, measure },
        Term::Each {
            count,
            grams,
            measure,
        } => Amount::Each {
            count,
            grams,
            measure,
        },
    }
}
