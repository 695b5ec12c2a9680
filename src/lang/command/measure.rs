//! A gram weight for the household's own measure: "1 ladle dal = 180 g", "a ladle of dal is 180 g".
//!
//! ```text
//! measure := number measure-word ["of"] [name] ("=" | "is" | "weighs" | "are") mass
//! ```

use nom::Parser;
use nom::branch::alt;

use crate::lang::amount::grams;
use crate::lang::lexicon::is_food;
use crate::lang::name;
use crate::lang::number::number;
use crate::lang::syntax::Command;
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens, symbol, word};
use crate::lang::vocabulary::singular;
use crate::lang::words::{measures, units};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let input = input.trimmed();
    let (rest, count) = number(input)?;
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
    if !after.trimmed().is_empty() || !said.is_wordy() || count.value <= 0.0 {
        return input.no();
    }
    let Some((measure, name)) = measure_and_name(said) else {
        return input.no();
    };
    Ok((
        after.after(after.len()),
        Command::TeachMeasure {
            count: count.value,
            measure,
            name,
            grams,
        },
    ))
}

/// "ladle of dal" is a measure and a name; "onion" alone is a piece of one.
fn measure_and_name(said: Tokens<'_>) -> Option<(String, Option<crate::lang::syntax::Words>)> {
    let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
    let (length, measure) = measures()
        .longest(said.slice)
        .map(|(length, key)| (length, key.to_owned()))
        .or_else(|| {
            units()
                .longest(said.slice)
                .map(|(length, _)| (length, singular(words[0])))
        })
        .unwrap_or_else(|| (1, singular(words[0])));
    let named = measures().longest(said.slice).is_some() || units().longest(said.slice).is_some();
    let of = words.get(length) == Some(&"of");
    let rest = name::bare(said.after(length + usize::from(of)));
    let whole_is_food = is_food(&words) && !of;
    if !named && whole_is_food {
        return Some(("piece".to_owned(), Some(name::bare(said).words())));
    }
    if rest.is_empty() {
        // "100 g is 3.5 oz", "1 cup is 240 g": units need no teaching.
        if units().longest(said.slice).is_some() {
            return None;
        }
        return Some((measure, None));
    }
    Some((measure, Some(rest.words())))
}
