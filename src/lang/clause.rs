//! The clauses of a batch that are no ingredient: its weighing, its place, its day.

use nom::combinator::opt;
use nom::{Err, Parser};

use super::amount::grams;
use super::command::key_phrase;
use super::date::day;
use super::syntax::{Day, Weighing, Words};
use super::token::{Kind, Token};
use super::tokens::{Read, Tokens, symbol, word};
use super::vocabulary::Sense;
use super::weighing::{says_so, weighing};
use super::words::{places, scale};

/// Parts of a whole are rounded as scales are.
const SPLIT_SLACK_GRAMS: f64 = 5.0;

/// A weighing clause: led by "cooked", "net", ..., or saying itself that it is one.
pub fn clause(input: Tokens<'_>) -> Read<'_, Cooked> {
    let led = leads(input);
    if !led && !says_so(input) {
        return input.no();
    }
    let (rest, mut weighing) = weighing(input).map_err(|error| match error {
        Err::Failure(error) if !led => Err::Error(error),
        other => other,
    })?;
    let (rest, places) = split(rest, &mut weighing)?;
    let separated = rest.first().is_none_or(|token| {
        matches!(
            token.kind,
            Kind::Newline | Kind::Symbol(',' | ';' | '.' | '!' | '/')
        )
    });
    let next = rest.range(0, part_end(rest));
    if separated || place(next).is_some() || made(next).is_some() {
        Ok((rest, Cooked { weighing, places }))
    } else {
        input.no()
    }
}

/// What a batch weighs, and the places that it was divided among.
pub struct Cooked {
    pub weighing: Weighing,
    pub places: Vec<Words>,
}

/// Whether a word that opens a weighing stands here.
pub fn leads(input: Tokens<'_>) -> bool {
    key_phrase("weigh", input).is_ok()
        || scale()
            .longest(input.slice)
            .is_some_and(|(_, key)| key == "lead" || key == "heat")
}

/// "roasted 720": how it was cooked. Behind an ingredient on its line it may be that ingredient's.
pub fn leads_by_heat(input: Tokens<'_>) -> bool {
    let verb = key_phrase("weigh", input).is_ok();
    !verb && matches!(scale().longest(input.slice), Some((_, "heat")))
}

/// "1100: 600 fridge, 500 freezer", "600 in the fridge and 500 in the freezer": a weight by places.
fn split<'a>(input: Tokens<'a>, weighing: &mut Weighing) -> Read<'a, Vec<Words>> {
    let none = Ok((input, Vec::new()));
    let mut rest = input;
    let mut places = Vec::new();
    let mut sum_grams = 0.0;
    // "600 fridge": the reading itself stands in the first place.
    let first = place_at(rest);
    if let Some((after, place)) = first.clone() {
        places.push(place);
        rest = after;
    }
    loop {
        let marks = rest
            .slice
            .iter()
            .take_while(|token| is_between(token))
            .count();
        let Ok((after, grams)) = grams(rest.after(marks)) else {
            break;
        };
        let Some((after, place)) = place_at(after) else {
            break;
        };
        sum_grams += grams;
        places.push(place);
        rest = after;
    }
    let said: f64 = weighing.readings_grams.iter().sum();
    let tares: f64 = weighing
        .tares
        .iter()
        .filter_map(|tare| Some(tare.each_grams? * tare.count))
        .sum();
    if sum_grams == 0.0 {
        return none;
    }
    if first.is_some() {
        weighing.readings_grams.push(sum_grams);
    } else if ![said, said - tares]
        .iter()
        .any(|whole| (whole - sum_grams).abs() <= SPLIT_SLACK_GRAMS)
    {
        return none;
    }
    let closed = rest.first().is_some_and(|token| token.is(')'));
    Ok((rest.after(usize::from(closed)), places))
}

fn is_between(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | ':' | '(' | '=' | '+' | '&' | '/')
    ) || matches!(token.norm(), "and" | "then" | "plus" | "split" | "as")
}

/// A place at the front, whatever follows.
fn place_at(input: Tokens<'_>) -> Option<(Tokens<'_>, Words)> {
    let end = input
        .find(|token| is_between(token) || token.is(')') || token.is('.') || token.is_numeric());
    let end = end.unwrap_or(input.len());
    let place = place(input.range(0, end))?;
    Some((input.after(end), place))
}

/// A place, and nothing else.
pub fn place(input: Tokens<'_>) -> Option<Words> {
    let mut rest = input.trimmed();
    while matches!(
        rest.norm(0),
        "in" | "into"
            | "to"
            | "the"
            | "put"
            | "all"
            | "straight"
            | "goes"
            | "gone"
            | "went"
            | "now"
            | "it"
            | "is"
            | "stored"
            | "kept"
            | "our"
            | "on"
            | "they"
            | "are"
            | "theyre"
            | "its"
    ) || rest.first().is_some_and(|token| token.is('→'))
    {
        rest = rest.take_one();
    }
    if rest.is_empty() || rest.len() > 6 {
        return None;
    }
    let words: Vec<&str> = rest.slice.iter().map(Token::norm).collect();
    let length = (1..=words.len())
        .rev()
        .find(|&length| rest.vocabulary.is(Sense::Place, &words[..length]))
        .or_else(|| places().longest(rest.slice).map(|(length, _)| length))?;
    let idle = words[length..].iter().all(|word| {
        matches!(
            *word,
            "please" | "now" | "today" | "" | "to" | "cool" | "down" | "cooling"
        )
    });
    idle.then(|| rest.range(0, length).words())
}

/// "made yesterday", "cooked on Sunday", "yesterday", "just cooked".
pub fn made(input: Tokens<'_>) -> Option<Day> {
    let just = matches!(input.norm(0), "just" | "freshly" | "newly");
    let cooked = matches!(input.norm(1), "made" | "cooked" | "prepared" | "done");
    if just && cooked && input.after(2).trimmed().is_empty() {
        return Some(Day::Today);
    }
    let (rest, _) = opt(word(&["made", "cooked", "prepared", "date", "dated"]))
        .parse(input)
        .ok()?;
    let (rest, _) = opt(symbol(':')).parse(rest).ok()?;
    let (rest, day) = day(rest).ok()?;
    rest.trimmed().is_empty().then_some(day)
}

/// Up to the next separator outside parentheses.
pub fn part_end(input: Tokens<'_>) -> usize {
    let mut depth = 0_i32;
    for (at, token) in input.slice.iter().enumerate() {
        match token.kind {
            Kind::Newline => return at,
            Kind::Symbol('(') => depth += 1,
            Kind::Symbol(')') => depth -= 1,
            Kind::Symbol(',' | ';') if depth <= 0 => return at,
            // "40 g butter -> 1630 cooked"
            Kind::Symbol('→') if input.get(at + 1).is_some_and(Token::is_numeric) => return at,
            Kind::Symbol('.')
                if depth <= 0
                    && input.get(at + 1).is_none_or(|next| next.spaced)
                    && !token.spaced
                    && !abbreviates(input, at) =>
            {
                return at;
            }
            _ => {}
        }
    }
    input.len()
}

/// The full stop of "2 tbsp. oil" ends no sentence.
fn abbreviates(input: Tokens<'_>, at: usize) -> bool {
    let goes_on = input.get(at + 1).is_some_and(|next| {
        let text = &input.text[next.span.clone()];
        text.starts_with(|c: char| c.is_lowercase() || c.is_ascii_digit() || c == '(')
    });
    let shortened = matches!(
        input.norm(at.saturating_sub(1)),
        "wt" | "approx" | "incl" | "excl"
    );
    goes_on && shortened
        || goes_on
            && at >= 2
            && input.slice[at - 2].is_numeric()
            && super::unit::unit(input.range(at - 1, at)).is_ok()
}
