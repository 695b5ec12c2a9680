//! How large a label is: "62x40", "62 mm x 40 mm", "600 x 400 px".

use crate::lang::syntax::LabelSize;
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;

const MM_PER_INCH: f64 = 25.4;

/// A size at the end, and what stands before it.
pub fn sized(input: Tokens<'_>) -> Option<(Tokens<'_>, LabelSize)> {
    let ends = |at: &usize| -> Option<LabelSize> {
        let start = input.slice[*at].span.start;
        let (length, size) = size(&input.text[start..])?;
        let mut behind = input.slice[*at..].iter();
        let inside = |token: &Token| token.span.start < start + length || token.norm().is_empty();
        behind.all(inside).then_some(size)
    };
    let found = (0..input.len()).find_map(|at| Some((at, ends(&at)?)))?;
    Some((input.range(0, found.0).trimmed_end(), found.1))
}

/// "62x40", "62 mm x 40 mm", "600 x 400 px" at the front of a text, and how long it is.
fn size(text: &str) -> Option<(usize, LabelSize)> {
    let (one, first) = figure(text)?;
    let (one, first_unit) =
        unit(&text[one..]).map_or((one, None), |(length, unit)| (one + length, Some(unit)));
    let between = text[one..].trim_start();
    let times = ["x", "×", "*", "by"]
        .into_iter()
        .find_map(|times| between.strip_prefix(times))?;
    let (length, second) = figure(times)?;
    let behind = &times[length..];
    let (after, second_unit) =
        unit(behind).map_or((0, None), |(length, unit)| (length, Some(unit)));
    let told = text.len() - behind.len() + after;
    let unit = second_unit.or(first_unit).unwrap_or("mm");
    let of = |mm: f64| LabelSize::Millimetres {
        width: first * mm,
        height: second * mm,
    };
    let size = match unit {
        "px" => LabelSize::Dots {
            width: first as u32,
            height: second as u32,
        },
        "cm" => of(10.0),
        "in" => of(MM_PER_INCH),
        _ => of(1.0),
    };
    Some((told, size))
}

/// A number at the front, and how long it is with the white space before it.
fn figure(text: &str) -> Option<(usize, f64)> {
    let number = text.trim_start();
    let end = number
        .find(|sign: char| !sign.is_ascii_digit() && sign != '.')
        .unwrap_or(number.len());
    let value: f64 = number[..end].trim_end_matches('.').parse().ok()?;
    Some((text.len() - number.len() + end, value))
}

/// A unit of length at the front, likewise.
fn unit(text: &str) -> Option<(usize, &'static str)> {
    const UNITS: [(&str, &str); 9] = [
        ("mm", "mm"),
        ("cm", "cm"),
        ("pixels", "px"),
        ("px", "px"),
        ("dots", "px"),
        ("inches", "in"),
        ("inch", "in"),
        ("in", "in"),
        ("\"", "in"),
    ];
    let word = text.trim_start();
    let (spelled, unit) = UNITS.into_iter().find(|(spelled, _)| {
        let rest = word.strip_prefix(spelled);
        rest.is_some_and(|rest| !rest.starts_with(|sign: char| sign.is_alphanumeric()))
    })?;
    Some((text.len() - word.len() + spelled.len(), unit))
}
