//! To what food was heated: "reheated 300 dal to 75" tells of 300 g, and how hot they were. So many degrees are dropped
//! before anything reckons with them.
//!
//! ```text
//! heated := heats { word | number } number { word } to degrees ["degrees" | "c"] (mark | end)
//! ```

use super::token::{Kind, Token};
use super::words::{asides, explained};

/// What is read off in the middle of food that is eaten hot.
const DEGREES: std::ops::RangeInclusive<f64> = 55.0..=100.0;

/// Drop the degrees where another number is told of the food.
pub fn drop(tokens: &mut Vec<Token>) {
    let says = |at: usize, key| explained().longest_of(&tokens[at..], key);
    let Some(heats) = (0..tokens.len()).find(|&at| says(at, "heats").is_some()) else {
        return;
    };
    let told = (heats + 1..tokens.len()).find_map(|at| {
        let to = says(at, "to heat")?;
        let end = at + to + 1 + unit(&tokens[(at + to).min(tokens.len())..])?;
        let ends = tokens.get(end).is_none_or(|next| {
            next.norm().is_empty() || matches!(next.norm(), "and" | "then" | "for")
        });
        // "dal 300 to 75": what the scale went down to.
        let apart = !tokens[at - 1].is_numeric();
        (ends && apart).then_some((at, end))
    });
    let Some((from, to)) = told else {
        return;
    };
    let weighed = |at: usize| tokens[at].is_numeric() && !(from..to).contains(&at);
    if (0..tokens.len()).any(weighed) {
        tokens.drain(from..to);
    }
}

/// How many tokens of a unit stand behind so many degrees; nothing where there are none.
fn unit(rest: &[Token]) -> Option<usize> {
    let Kind::Number(said) = &rest.first()?.kind else {
        return None;
    };
    let behind = &rest[1..];
    let sign = usize::from(behind.first().is_some_and(|token| token.is('°')));
    let named = asides().longest_of(&behind[sign..], "heat").unwrap_or(0);
    DEGREES.contains(&said.value).then_some(sign + named)
}
