//! A gram weight for the household's own measure: "1 ladle dal = 180 g", "a ladle of dal is 180 g".
//!
//! ```text
//! measure := number measure-word ["of"] [name] ("=" | "is" | "weighs" | "are") mass
//! ```

use nom::Parser;
use nom::branch::alt;

use crate::lang::amount::grams;
use crate::lang::lexicon::{is_food, is_food_word};
use crate::lang::name;
use crate::lang::number::number;
use crate::lang::syntax::{Command, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens, symbol, word};
use crate::lang::unit::{Unit, unit};
use crate::lang::vocabulary::singular;
use crate::lang::words::{containers, measures, qualifiers};

/// No more words than these tell which mug it is.
const OWN_WORDS_MAX: usize = 2;

/// Nobody takes so much with one measure.
const FULL_GRAMS: f64 = 400.0;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let input = input.trimmed();
    // "ladle of soup is 180 g"
    let (rest, count) = match measures().longest(input.slice) {
        // "glass jar is 310 g" is the jar's own weight.
        Some((length, _)) if input.norm(length) == "of" => (input, 1.0),
        _ => number(input).map(|(rest, count)| (rest, count.value))?,
    };
    let Some(at) = rest.slice.iter().take(9).position(|token| {
        token.is('=') || matches!(token.norm(), "is" | "are" | "weighs" | "weigh" | "equals")
    }) else {
        return input.no();
    };
    let said = rest.range(0, at);
    let (after, ()) = alt((
        symbol('='),
        word(&["is", "are", "weighs", "weigh", "equals"]).map(|_| ()),
    ))
    .parse(rest.after(at))?;
    let (after, _) = nom::combinator::opt(word(&["about", "around", "roughly"])).parse(after)?;
    let (after, grams) = grams(after)?;
    // "tub of dal is 1500": what stands in one is on the scale.
    let vessel = containers().has(input.norm(0)) && grams >= FULL_GRAMS;
    if vessel || !after.trimmed().is_empty() || !said.is_wordy() || count <= 0.0 {
        return input.no();
    }
    let Some((measure, name)) = measure_and_name(said) else {
        return input.no();
    };
    Ok((
        after.after(after.len()),
        Command::TeachMeasure {
            count,
            measure,
            name,
            grams,
        },
    ))
}

/// "ladle of dal" is a measure and a name, and so is "blue mug oats"; "onion" alone is a piece of one.
fn measure_and_name(said: Tokens<'_>) -> Option<(String, Option<Words>)> {
    let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
    let measured = own_measure(said).or_else(|| counted_by(said));
    let of = |length: usize| usize::from(words.get(length) == Some(&"of"));
    let Some((length, measure)) = measured else {
        if is_food(&words) && of(1) == 0 {
            return Some(("piece".to_owned(), Some(name::bare(said).words())));
        }
        let rest = name::bare(said.after(1 + of(1)));
        let name = (!rest.is_empty()).then(|| rest.words());
        return Some((singular(words[0]).into_owned(), name));
    };
    let rest = name::bare(said.after(length + of(length)));
    if !rest.is_empty() {
        return Some((measure, Some(rest.words())));
    }
    // "100 g is 3.5 oz", "1 cup is 240 g": units need no teaching.
    (unit(said).is_err()).then_some((measure, None))
}

/// A measure word or a unit: how many words it takes, and what it is called.
fn counted_by(input: Tokens<'_>) -> Option<(usize, String)> {
    let measure = measures().longest(input.slice);
    measure
        .map(|(length, key)| (length, key.to_owned()))
        .or_else(|| {
            let (rest, unit) = unit(input).ok()?;
            let name = match unit {
                Unit::Volume(unit) => unit.to_string(),
                Unit::Mass(_) => singular(input.norm(0)).into_owned(),
            };
            Some((input.len() - rest.len(), name))
        })
}

/// "heaped tbsp", "blue mug", "wine glass": a measure with a word or two before it that tell which.
fn own_measure(input: Tokens<'_>) -> Option<(usize, String)> {
    (1..=OWN_WORDS_MAX.min(input.len())).find_map(|before| {
        let (length, measure) = counted_by(input.after(before))?;
        let which = input.range(0, before);
        let named = !input.after(before + length).is_empty();
        let tells = |token: &Token| token.norm() != "of" && (named || !is_food_word(token.norm()));
        if !which.slice.iter().all(tells) || counted_by(which).is_some() && unit(which).is_ok() {
            return None;
        }
        let key = match qualifiers().longest(which.slice) {
            Some((all, key)) if all == before => key.to_owned(),
            _ => which.words().text.to_lowercase(),
        };
        Some((before + length, format!("{key} {measure}")))
    })
}
