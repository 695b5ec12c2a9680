//! What a pasted recipe says beside its ingredients, and what is no part of a batch: how many it serves, how long
//! it takes, how it is made.
//!
//! ```text
//! serving := ("serves" | "makes" | ...) [":"] n [("-" | "to") n] [people] | n people
//! timing  := words in which every number is followed by a unit of time or heat
//! ```

use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::words::recipe;

/// More are no portions, but a weight.
const PORTIONS_MAX: f64 = 40.0;

/// Cooler is no oven: "1 c" is a cup.
const HEAT_MIN: f64 = 90.0;

/// "serves 4", "makes 6-8 portions", "prep time: 10 min".
pub fn is_aside(part: Tokens<'_>) -> bool {
    let part = part.trimmed();
    serves(part) || takes_time(part)
}

/// The heading of a method, notes or the like: what follows it is no ingredient.
pub fn is_method(heading: Tokens<'_>) -> bool {
    key_length(heading, "method") == heading.len() && !heading.is_empty()
}

fn serves(part: Tokens<'_>) -> bool {
    let led = key_length(part, "serves");
    let rest = part.after(led).without_lead();
    let Some(after) = portions(rest) else {
        return false;
    };
    let after = match after.first().map(|token| (&token.kind, token.norm())) {
        Some((Kind::Symbol('-'), _) | (_, "to" | "or")) => {
            portions(after.take_one()).unwrap_or(after)
        }
        _ => after,
    };
    let people = key_length(after, "people");
    let told = people > 0 || led > 0 && part.norm(0) != "for";
    // "makes 12 muffins"
    let of_what = after.after(people).trimmed();
    told && (of_what.is_empty()
        || led > 0 && people == 0 && of_what.is_wordy() && of_what.len() <= 2)
}

/// A number of portions: whole, small, without a unit.
fn portions(input: Tokens<'_>) -> Option<Tokens<'_>> {
    match input.first().map(|token| &token.kind) {
        Some(Kind::Number(numeral))
            if numeral.value.fract() == 0.0 && numeral.value <= PORTIONS_MAX =>
        {
            Some(input.take_one())
        }
        _ => None,
    }
}

fn takes_time(part: Tokens<'_>) -> bool {
    let timed = |at: usize| {
        let after = part.after(at + 1);
        let after = match after.first() {
            Some(token) if token.is('-') || token.is('°') || token.norm() == "to" => {
                after.take_one()
            }
            _ => after,
        };
        let hot =
            matches!(&part.slice[at].kind, Kind::Number(numeral) if numeral.value >= HEAT_MIN);
        after.first().is_some_and(Token::is_numeric)
            || key_length(after, "time") > 0
            || hot && key_length(after, "heat") > 0
    };
    let numbers: Vec<usize> = (0..part.len())
        .filter(|&at| part.slice[at].is_numeric())
        .collect();
    !numbers.is_empty() && numbers.into_iter().all(timed)
}

fn key_length(input: Tokens<'_>, key: &'static str) -> usize {
    recipe().longest_of(input.slice, key).unwrap_or(0)
}
