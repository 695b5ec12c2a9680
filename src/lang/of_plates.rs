//! What only the plates can tell: as much as somebody has, or as much as of another dish; a dish that goes on top of one
//! that stands there; and one that is named without its amount.
//!
//! ```text
//! as-much := times ["of"] name "as" like | name { idle } times "as" like | ... [none name]
//! like    := person | ["the"] dish
//! beside  := amount name ("with" | "on") ["the" | "my"] dish
//! begun   := join ["the"] dish
//! ```
//! "As much rice as Robin, no butter", "salsa the same weight as the beans", "100 rice with the barley", "n rice". Nothing
//! of it is sure: it holds only where a plate has what it refers to. The words stand in `data/of_plates.txt`.

use super::amount::{Stands, amount};
use super::name::{self, Familiarity, familiarity};
use super::person::person;
use super::syntax::{Amount, Item, Words};
use super::token::Token;
use super::tokens::Tokens;
use super::veto::forbids;
use super::words::of_plates;

/// Whoever says more tells something else.
const TOKENS_MAX: usize = 14;
const NAME_WORDS_MAX: usize = 5;

#[derive(Debug, Clone, PartialEq)]
pub enum OfPlates {
    AsMuch { name: Words, times: f64, like: Like },
    Beside { item: Item, dish: Words },
    Begun(Words),
}

/// What it is as much as.
#[derive(Debug, Clone, PartialEq)]
pub enum Like {
    /// As that person has of it.
    Person(Words),
    /// As the sender has of this.
    Dish(Words),
}

pub fn read(input: Tokens<'_>) -> Option<OfPlates> {
    let input = input.trimmed().trimmed_end();
    let asked = input.slice.iter().any(|token| token.is('?'));
    if input.is_empty() || input.len() > TOKENS_MAX || asked || forbids(input) {
        return None;
    }
    as_much(input)
        .or_else(|| beside(input))
        .or_else(|| begun(input))
}

fn said(key: &'static str, input: Tokens<'_>) -> Option<usize> {
    of_plates().longest_of(input.slice, key)
}

/// "as much bread as Robin, no butter"
fn as_much(input: Tokens<'_>) -> Option<OfPlates> {
    let input = without_none(input)?;
    if input.has_number() {
        return None;
    }
    let keys = [("once", 1.0), ("half", 0.5), ("twice", 2.0)];
    let phrase = |at: usize| {
        let found = keys.into_iter();
        let told = found.filter_map(|(key, times)| Some((said(key, input.after(at))?, times)));
        told.max_by_key(|(length, _)| *length)
    };
    (0..input.len()).find_map(|at| {
        let (length, times) = phrase(at)?;
        let behind = input.after(at + length);
        let r#as = behind.find(|token| token.norm() == "as")?;
        let like = like(behind.after(r#as + 1))?;
        let (before, between) = (input.range(0, at), behind.range(0, r#as));
        let name = match (idle(before), idle(between)) {
            (true, false) => named(between),
            (false, true) => named(before),
            _ => None,
        }?;
        Some(OfPlates::AsMuch { name, times, like })
    })
}

/// Without "no butter" at the end; nothing where what is behind it is no food.
fn without_none(input: Tokens<'_>) -> Option<Tokens<'_>> {
    let Some(at) = (1..input.len()).find(|&at| said("none", input.after(at)).is_some()) else {
        return Some(input);
    };
    let length = said("none", input.after(at))?;
    named(input.after(at + length))?;
    Some(input.range(0, at).trimmed_end())
}

fn like(input: Tokens<'_>) -> Option<Like> {
    let input = input.trimmed();
    if let Some((length, who)) = person(input) {
        let rest = input.after(length);
        let had = usize::from(matches!(
            rest.norm(0),
            "had" | "has" | "got" | "did" | "took"
        ));
        return idle(rest.after(had)).then_some(Like::Person(who));
    }
    named(input).map(Like::Dish)
}

/// "100 rice with the barley"
fn beside(input: Tokens<'_>) -> Option<OfPlates> {
    let skip = leading(input);
    let body = input.after(skip);
    let (rest, amount) = amount(body, Stands::BeforeName).ok()?;
    let weighed = matches!(amount, Amount::Bare(_) | Amount::Mass(_));
    if !weighed || rest.has_number() {
        return None;
    }
    (1..rest.len()).find_map(|at| {
        let length = said("beside", rest.after(at))?;
        let name = named(rest.range(0, at))?;
        let dish = named(rest.after(at + length))?;
        let item = Item::new(amount.clone(), name).at(body.span());
        ours(&dish, input).then_some(OfPlates::Beside { item, dish })
    })
}

/// "n rice"
fn begun(input: Tokens<'_>) -> Option<OfPlates> {
    let join = said("join", input)?;
    let name = named(input.after(join))?;
    let whole = name.text.split(' ').count() + join + 2 >= input.len();
    (whole && ours(&name, input)).then_some(OfPlates::Begun(name))
}

fn ours(name: &Words, input: Tokens<'_>) -> bool {
    familiarity(&name.text, input) == Familiarity::Household
}

/// How many words at the front carry nothing.
fn leading(input: Tokens<'_>) -> usize {
    let mut at = 0;
    while let Some(length) = said("idle", input.after(at)) {
        at += length;
    }
    at
}

fn idle(input: Tokens<'_>) -> bool {
    let mut at = 0;
    while at < input.len() {
        let mark = |token: &Token| token.norm().is_empty() && !token.is_numeric();
        match said("idle", input.after(at)) {
            Some(length) => at += length,
            None if mark(&input.slice[at]) => at += 1,
            None => return false,
        }
    }
    true
}

/// A food or a dish, and nothing else but words that carry nothing.
fn named(input: Tokens<'_>) -> Option<Words> {
    let body = input.after(leading(input)).trimmed();
    (1..=body.len().min(NAME_WORDS_MAX))
        .rev()
        .find_map(|length| {
            let name = name::bare(body.range(0, length));
            let known =
                name.is_wordy() && familiarity(&name.words().text, body) >= Familiarity::Food;
            (known && idle(body.after(length))).then(|| name.words())
        })
}
