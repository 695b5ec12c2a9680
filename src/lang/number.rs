//! A number where one is expected: digits, or words ("two and a half", "a dozen", dictated "one thirty").
//!
//! ```text
//! number  := numeral | worded
//! worded  := "a" | "an" | ["a" | "one"] "half" | fraction-words | "a couple of" | ["half"] "a dozen"
//!          | cardinal ["and" ("a half" | "a quarter")] | cardinal "point" digit-word+
//! cardinal := unit | tens [unit] | hundreds ["and"] [tens [unit]] | unit tens [unit]   (130, as dictated)
//! ```

use nom::Parser;
use nom::combinator::opt;

use super::syntax::ErrorKind;
use super::token::Kind;
use super::tokens::{Read, Tokens, word};
use super::words::number_words;

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number {
    pub value: f64,
    /// The reading of another locale ("1.240").
    pub other: Option<f64>,
    /// Written as words.
    pub worded: bool,
    /// No more than "a" or "an".
    pub article: bool,
}

impl Number {
    fn worded(value: f64) -> Self {
        Self {
            value,
            other: None,
            worded: true,
            article: false,
        }
    }
}

/// A number in digits. What cannot be read whole is a failure that points at it.
pub fn digits(input: Tokens<'_>) -> Read<'_, Number> {
    match input.first().map(|token| &token.kind) {
        Some(Kind::Number(numeral)) => Ok((
            input.take_one(),
            Number {
                value: numeral.value,
                other: numeral.other,
                worded: false,
                article: false,
            },
        )),
        Some(Kind::Unreadable) => {
            let here = input.range(0, 1);
            here.fail(ErrorKind::NotAMass(here.words().text))
        }
        _ => input.no(),
    }
}

/// A number in digits or words.
pub fn number(input: Tokens<'_>) -> Read<'_, Number> {
    match input.first().map(|token| &token.kind) {
        Some(Kind::Word(_)) => worded(input),
        _ => {
            let (rest, whole) = digits(input)?;
            if let Some(hundreds) = with_hundreds(rest, whole) {
                return Ok(hundreds);
            }
            Ok(with_fraction(rest, whole).unwrap_or((rest, whole)))
        }
    }
}

/// "3 hundred", "15 hundred": half dictated.
fn with_hundreds(input: Tokens<'_>, whole: Number) -> Option<(Tokens<'_>, Number)> {
    let few = whole.value.fract() == 0.0 && (1.0..100.0).contains(&whole.value);
    let hundred = number_words().get(input.norm(0)) == Some("100");
    (few && hundred).then(|| {
        let (length, below) = below_hundred(input, 1);
        let value = whole.value * 100.0 + f64::from(below);
        let rest = input.after(length.max(1));
        (rest, Number { value, ..whole })
    })
}

/// "1 & 1/2", "2 and ¾": a whole number and a part of one.
fn with_fraction(input: Tokens<'_>, whole: Number) -> Option<(Tokens<'_>, Number)> {
    let joins = is_and(input.norm(0)) || input.first()?.is('&') || input.first()?.is('+');
    let part = input.get(1)?;
    let Kind::Number(numeral) = &part.kind else {
        return None;
    };
    let written = &input.text[part.span.clone()];
    let fraction = numeral.value < 1.0 && !written.contains(['.', ',']);
    let integer = whole.value.fract() == 0.0 && whole.other.is_none();
    (joins && fraction && integer).then(|| {
        let value = whole.value + numeral.value;
        (input.after(2), Number { value, ..whole })
    })
}

fn worded(input: Tokens<'_>) -> Read<'_, Number> {
    if let Some((length, value)) = fraction(input).or_else(|| collective(input)) {
        return Ok((input.after(length), Number::worded(value)));
    }
    if let Some((length, value)) = cardinal(input) {
        let rest = input.after(length);
        let (rest, tail) = opt(and_a_half).parse(rest)?;
        return Ok((rest, Number::worded(value + tail.unwrap_or(0.0))));
    }
    let (rest, _) = word(&["a", "an", "ein", "eine", "einen", "un", "une", "una"])(input)?;
    Ok((
        rest,
        Number {
            article: true,
            ..Number::worded(1.0)
        },
    ))
}

pub fn and_a_half(input: Tokens<'_>) -> Read<'_, f64> {
    let rest = match input.first() {
        Some(token) if token.is('&') => input.take_one(),
        _ => word(&ANDS)(input)?.0,
    };
    // "and half the dal" is another thing.
    if !matches!(rest.norm(0), "a" | "three" | "one") {
        return input.no();
    }
    match fraction(rest) {
        Some((length, value)) => Ok((rest.after(length), value)),
        None => input.no(),
    }
}

/// "half", "half a", "a quarter of a", "three quarters of a", "two thirds".
fn fraction(input: Tokens<'_>) -> Option<(usize, f64)> {
    let word = |at: usize| input.norm(at);
    let (mut at, above) = match word(0) {
        "a" | "one" if is_part(word(1)) => (1, 1.0),
        "two" if is_part(word(1)) => (1, 2.0),
        "three" if is_part(word(1)) => (1, 3.0),
        // The cream is no half of anything.
        "half" if word(1) == "and" && word(2) == "half" => return None,
        first if is_part(first) => (0, 1.0),
        _ => return None,
    };
    let below = match word(at) {
        "half" => 2.0,
        "third" | "thirds" => 3.0,
        _ => 4.0,
    };
    at += 1;
    // "half a cup": the article belongs to the unit; "half a dozen" is 6.
    let article = usize::from(word(at) == "of") + 1;
    if matches!(word(at + article - 1), "a" | "an") {
        at += article;
    }
    if word(at) == "dozen" {
        return Some((
            at + 1 + usize::from(word(at + 1) == "of"),
            12.0 * above / below,
        ));
    }
    Some((at, above / below))
}

fn is_part(word: &str) -> bool {
    matches!(word, "half" | "third" | "thirds" | "quarter" | "quarters")
}

/// "a couple of", "a dozen", "a pair of".
fn collective(input: Tokens<'_>) -> Option<(usize, f64)> {
    let article = usize::from(input.norm(0) == "a");
    let value = match input.norm(article) {
        "couple" => 2.0,
        "pair" if article == 1 => 2.0,
        "dozen" => 12.0,
        _ => return None,
    };
    let at = article + 1;
    Some((at + usize::from(input.norm(at) == "of"), value))
}

/// "and", as it is said.
const ANDS: [&str; 4] = ["and", "n", "an", "nd"];

fn is_and(word: &str) -> bool {
    ANDS.contains(&word)
}

fn value_of(word: &str) -> Option<u32> {
    number_words().get(word)?.parse().ok()
}

/// "one hundred and thirty", "twenty five", "one thirty" (130), "two oh five" (205).
fn cardinal(input: Tokens<'_>) -> Option<(usize, f64)> {
    if let Some(spelled) = digit_by_digit(input) {
        return Some(spelled);
    }
    let value = |at: usize| value_of(input.norm(at));
    let small = |at: usize| value(at).filter(|&n| n < 100);
    let (mut at, mut total) = match (input.norm(0), value(0)) {
        ("a", _) if matches!(value(1), Some(100 | 1000)) => (1, 1),
        (_, Some(n)) if n < 100 => (1, n),
        // "hundred and eighty"
        (_, Some(100)) => (0, 1),
        _ => return None,
    };
    if total >= 20
        && let Some(unit) = small(at).filter(|&n| (1..10).contains(&n))
    {
        total += unit;
        at += 1;
    }
    match value(at) {
        Some(100) => {
            total *= 100;
            at += 1;
            let from = at + usize::from(is_and(input.norm(at)));
            let (length, rest) = below_hundred(input, from);
            if length > 0 {
                at = length;
                total += rest;
            } else if let Some(digits) = tens_in_digits(input, from) {
                at = from + 1;
                total += digits;
            }
        }
        Some(1000) => {
            total *= 1000;
            at += 1;
            let from = at + usize::from(is_and(input.norm(at)));
            if let Some((length, rest)) = (small(from).is_some())
                .then(|| cardinal(input.after(from)))
                .flatten()
            {
                at = from + length;
                total += rest as u32;
            }
        }
        // Dictated: a unit or a teen, then tens.
        Some(tens) if total < 100 && total % 10 != 0 && (10..100).contains(&tens) => {
            let (length, rest) = below_hundred(input, at);
            at = length;
            total = total * 100 + rest;
        }
        _ if total < 10 && matches!(input.norm(at), "oh" | "o") => {
            if let Some(unit) = small(at + 1).filter(|&n| (1..10).contains(&n)) {
                total = total * 100 + unit;
                at += 2;
            }
        }
        _ => {}
    }
    let mut result = f64::from(total);
    if input.norm(at) == "point" {
        let mut scale = 0.1;
        while let Some(digit) = value(at + 1).filter(|&n| n < 10) {
            result += f64::from(digit) * scale;
            scale /= 10.0;
            at += 1;
        }
        if scale < 0.1 {
            at += 1;
        }
    }
    Some((at, result))
}

/// "one two five", "one oh five": a weight of three digits, and not a longer number of another kind.
fn digit_by_digit(input: Tokens<'_>) -> Option<(usize, f64)> {
    let digit = |at: usize| match input.norm(at) {
        "oh" | "o" => Some(0),
        word => value_of(word).filter(|&digit| digit < 10),
    };
    let digits = [digit(0)?, digit(1)?, digit(2)?];
    let whole = digits[0] > 0 && digit(3).is_none();
    whole.then(|| (3, f64::from(digits[0] * 100 + digits[1] * 10 + digits[2])))
}

/// Half dictated: the "30" of "one hundred and 30", when no unit follows that would make it another amount.
fn tens_in_digits(input: Tokens<'_>, at: usize) -> Option<u32> {
    match input.get(at)?.kind {
        Kind::Number(numeral)
            if numeral.value.fract() == 0.0 && (1.0..100.0).contains(&numeral.value) =>
        {
            Some(numeral.value as u32)
        }
        _ => None,
    }
}

/// A number below 100 at a place: the place after it and its value.
fn below_hundred(input: Tokens<'_>, at: usize) -> (usize, u32) {
    match value_of(input.norm(at)) {
        Some(n) if (20..100).contains(&n) => match value_of(input.norm(at + 1)) {
            Some(unit) if (1..10).contains(&unit) => (at + 2, n + unit),
            _ => (at + 1, n),
        },
        Some(n) if n < 20 && n > 0 => (at + 1, n),
        _ => (0, 0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::lexer::lex;
    use crate::lang::vocabulary::Vocabulary;

    #[track_caller]
    fn reads(text: &str, expected: f64, left: &str) {
        let tokens = lex(text);
        let vocabulary = Vocabulary::new();
        let input = Tokens::unread(&tokens, text, &vocabulary);
        let (rest, number) = number(input).unwrap_or_else(|error| panic!("{text:?}: {error:?}"));
        assert!(
            (number.value - expected).abs() < 1e-9,
            "{text:?} is {}",
            number.value
        );
        assert_eq!(rest.words().text, left, "{text:?}");
    }

    #[test]
    fn words_make_numbers() {
        reads("an onion", 1.0, "onion");
        reads("two onions", 2.0, "onions");
        reads("half a cup", 0.5, "cup");
        reads("half an onion", 0.5, "onion");
        reads("a quarter of a cup", 0.25, "cup");
        reads("three quarters of a cup", 0.75, "cup");
        reads("two thirds cup", 2.0 / 3.0, "cup");
        reads("a couple of eggs", 2.0, "eggs");
        reads("a dozen eggs", 12.0, "eggs");
        reads("half a dozen eggs", 6.0, "eggs");
        reads("two and a half cups", 2.5, "cups");
        reads("one thirty soup", 130.0, "soup");
        reads("one thirty five soup", 135.0, "soup");
        reads("two oh five soup", 205.0, "soup");
        reads("twelve fifty soup", 1250.0, "soup");
        reads("twenty five rice", 25.0, "rice");
        reads("a hundred rice", 100.0, "rice");
        reads("one hundred and thirty grams", 130.0, "grams");
        reads("one hundred and 30 soup", 130.0, "soup");
        reads("a hundred 20 beans", 120.0, "beans");
        reads("a hundred n fifteen rice", 115.0, "rice");
        reads("hundred'n'fifty chilli", 150.0, "chilli");
        reads("3 hundred gram", 300.0, "gram");
        reads("2 hundred fifty soup", 250.0, "soup");
        reads("one two five rice", 125.0, "rice");
        reads("two oh five rice", 205.0, "rice");
        reads("a hundred n rice", 100.0, "n rice");
        reads("two thousand three hundred ten", 2310.0, "");
        reads("one point five kilos", 1.5, "kilos");
    }
}
