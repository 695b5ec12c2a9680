//! Signs that a message with numbers and foods in it is not a weighing: a price, a time, an oven, a
//! question, a condition, a plan, shopping, talk about the past. Any of them forbids booking.

use std::ops::RangeInclusive;

use super::number::{Number, number};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::unit;
use super::words::{governors, vetoes};

/// Of more things nobody says how many were so.
const RATIO_MAX: f64 = 20.0;

/// What ovens are set to.
const HEAT: RangeInclusive<f64> = 140.0..=250.0;

/// Whether a reason forbids booking wherever it stands. The others (a time, talk of what was, a denial)
/// may be said beside a weighing.
pub fn is_strict(reason: &str) -> bool {
    matches!(
        reason,
        "question"
            | "conditional"
            | "plan"
            | "shopping"
            | "price"
            | "recipe"
            | "oven setting"
            | "ratio"
    )
}

/// Whether a strict reason stands in the words.
pub fn forbids(input: Tokens<'_>) -> bool {
    vetoes_in(input).into_iter().any(is_strict)
}

/// The reasons against booking, each once, in the order of the text.
pub fn vetoes_in(input: Tokens<'_>) -> Vec<&'static str> {
    let mut found: Vec<&'static str> = Vec::new();
    let mut note = |reason: &'static str| {
        if !found.contains(&reason) {
            found.push(reason);
        }
    };
    for (at, token) in input.slice.iter().enumerate() {
        match &token.kind {
            Kind::Symbol('?') => note("question"),
            Kind::Symbol('$') => note("price"),
            Kind::Symbol('°') => note("oven setting"),
            Kind::Clock => note("clock time"),
            Kind::Percent(_) if input.norm(at + 1) == "off" => note("price"),
            Kind::Number(_) if is_price(input, at) => note("price"),
            _ if ratio(input, at).is_some() => note("ratio"),
            Kind::Word(norm) => {
                if at == 0 && asks(input, norm) {
                    note("question");
                }
                if let Some((_, reason)) = vetoes().longest(&input.slice[at..]) {
                    if !input.vocabulary.has_word(norm)
                        && !is_weight(input, at, reason)
                        && !is_drawn(input, at)
                        && !is_doubt(input, at)
                    {
                        note(reason);
                    }
                } else if is_temperature(input.slice, at) || goes_into_heat(input, at) {
                    note("oven setting");
                }
            }
            _ => {}
        }
    }
    found
}

/// Whether a message is governed, from any of its clauses, by a plan, a condition, shopping or a recipe.
pub fn governs(input: Tokens<'_>) -> bool {
    (0..input.len()).any(|at| {
        governors()
            .longest(&input.slice[at..])
            .is_some_and(|(_, key)| key != "others")
    })
}

/// Whether a clause tells what others do.
pub fn speaks_of_others(clause: Tokens<'_>) -> bool {
    clause
        .slice
        .iter()
        .any(|token| governors().get(token.norm()) == Some("others"))
}

/// "one in 5 of the leeks", "3 out of 4": how many of how many, and no weight. Gives how many tokens tell it.
pub fn ratio(input: Tokens<'_>, at: usize) -> Option<usize> {
    let (rest, few) = number(input.after(at)).ok()?;
    let link = match (rest.norm(0), rest.norm(1)) {
        ("out", "of") | ("in", "every") => 2,
        ("in", _) => 1,
        _ => return None,
    };
    let whole = |it: &Number| it.other.is_none() && it.value.fract() == 0.0 && it.value > 0.0;
    let (rest, all) = number(rest.after(link)).ok()?;
    let counts = whole(&few) && whole(&all) && few.value < all.value && all.value <= RATIO_MAX;
    (counts && unit(rest).is_err()).then_some(input.len() - at - rest.len())
}

/// "180C", "350 f"
fn is_temperature(slice: &[Token], at: usize) -> bool {
    let hot =
        at > 0 && matches!(slice[at - 1].kind, Kind::Number(numeral) if numeral.value >= 100.0);
    hot && matches!(slice[at].norm(), "c" | "f")
}

/// "chicken in, 180": as round as the dial of an oven, and no unit.
fn goes_into_heat(input: Tokens<'_>, at: usize) -> bool {
    if at == 0 || input.norm(at) != "in" {
        return false;
    }
    let behind = input.after(at + 1).without_lead();
    let behind = behind.after(usize::from(matches!(behind.norm(0), "at" | "now")));
    let Some(Kind::Number(numeral)) = behind.first().map(|token| &token.kind) else {
        return false;
    };
    let dial = HEAT.contains(&numeral.value) && numeral.value % 10.0 == 0.0;
    dial && unit(behind.after(1)).is_err()
}

/// "half a kilo of soup", and not "9 quid a kilo": without a price before it, it is so much.
fn is_weight(input: Tokens<'_>, at: usize, reason: &str) -> bool {
    let priced = || {
        let before = at.checked_sub(1).map(|before| &input.slice[before]);
        before.is_none_or(|token| {
            token.is_numeric() || token.is('$') || vetoes().get(token.norm()) == Some("price")
        })
    };
    reason == "price" && input.norm(at) == "a" && (at == 0 || !priced())
}

/// "30 out of the salsa": what was taken from, and not what there is no more of.
fn is_drawn(input: Tokens<'_>, at: usize) -> bool {
    let apart = at == 0 || input.slice[at - 1].is_numeric() || input.norm(at - 1).is_empty();
    let taken = input.norm(at) == "out" && input.norm(at + 1) == "of";
    let articles = ["the", "my", "our", "that"];
    taken
        && apart
        && articles.contains(&input.norm(at + 2))
        && !input.norm(at + 3).is_empty()
        && input.vocabulary.has_word(input.norm(at + 3))
}

/// "110 or was it 120": what the scale showed, and no tale.
fn is_doubt(input: Tokens<'_>, at: usize) -> bool {
    at > 0 && input.norm(at - 1) == "or" && input.norm(at) == "was" && input.norm(at + 1) == "it"
}

/// Whether a number in the words is money, without a word that says so.
pub fn names_a_price(input: Tokens<'_>) -> bool {
    (0..input.len()).any(|at| input.slice[at].is_numeric() && is_price(input, at))
}

/// "3.99" without a unit: no kitchen scale shows hundredths.
fn is_price(input: Tokens<'_>, at: usize) -> bool {
    let text = &input.text[input.slice[at].span.clone()];
    let hundredths = text
        .rsplit_once(['.', ','])
        .is_some_and(|(whole, part)| part.len() == 2 && whole.len() <= 3 && !whole.is_empty());
    hundredths && unit(input.after(at + 1)).is_err()
}

/// A question's first word.
fn asks(input: Tokens<'_>, first: &str) -> bool {
    match first {
        "who" | "whos" | "what" | "whats" | "when" | "whens" | "wheres" | "whys" | "hows"
        | "where" | "why" | "which" | "whose" | "how" => true,
        // "did a recount" tells.
        "did" => input.len() > 1 && input.norm(1) != "a",
        "is" | "are" | "do" | "does" | "has" | "can" | "cant" => input.len() > 1,
        // "was hungry" tells, "was 130 too much" asks.
        "was" | "were" => input.get(1).is_some_and(|next| {
            next.norm().is_empty() || matches!(next.norm(), "the" | "that" | "it" | "there")
        }),
        _ => false,
    }
}
