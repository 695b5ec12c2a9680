//! Contents with other words around them: "so 230 of that", "the 400 out of the big pot".
//!
//! The longest that reads is taken wherever one may begin; what stands between is passed over, as long as it is
//! no number, no food and no word of sharing.

use super::content::{Content, Found, content};
use crate::lang::amount::may_begin;
use crate::lang::aside::begins_name;
use crate::lang::gist::aside;
use crate::lang::lexicon::is_food_word;
use crate::lang::name::Familiarity;
use crate::lang::person::person;
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::{number_words, sharing, taken_off};

/// No content is longer.
const CONTENT_TOKENS_MAX: usize = 16;

/// What stands in a run; `None` if a word that is passed over may tell of the meal.
pub fn contents(run: Tokens<'_>) -> Option<Vec<Found>> {
    let mut out: Vec<Found> = Vec::new();
    let mut passed: Option<usize> = None;
    let mut at = 0;
    while at < run.len() {
        if let Some(length) = beside_the_scale(run, at) {
            passed.get_or_insert(at);
            at += length;
            continue;
        }
        if let Some((length, found)) = longest(run, at) {
            out.extend(passed.take().map(|from| beside(run.range(from, at))));
            out.push(found);
            at += length;
            continue;
        }
        if tells(run.after(at)) {
            return None;
        }
        passed.get_or_insert(at);
        at += 1;
    }
    out.extend(passed.map(|from| beside(run.after(from))));
    Some(out)
}

/// A number that is no weight: "2 plates:", but not "2 bowls of soup".
fn beside_the_scale(run: Tokens<'_>, at: usize) -> Option<usize> {
    // "600 rice 70% ana": a part is nothing to pass over.
    let part = |token: &Token| {
        matches!(token.kind, Kind::Percent(_)) || ["percent", "cent"].contains(&token.norm())
    };
    aside(run, at).filter(|&length| {
        let parts = run.slice[at..at + length].iter().any(part);
        !parts && !begins_name(run.after(at + length))
    })
}

/// The longest content here, up to a number that is no weight.
fn longest(run: Tokens<'_>, at: usize) -> Option<(usize, Found)> {
    let end = (at + 1..run.len()).find(|&next| beside_the_scale(run, next).is_some());
    let run = run.range(at, end.unwrap_or(run.len()));
    let first = run.first()?;
    let begins = first.is_numeric()
        || may_begin(run)
        || run.vocabulary.has_word(first.norm())
        || is_food_word(first.norm());
    if !begins {
        return None;
    }
    let longest = CONTENT_TOKENS_MAX.min(run.len());
    (1..=longest).rev().find_map(|length| {
        let found = content(run.range(0, length))?;
        let least = match found.content.as_ref()? {
            // "the soup went round" is no beef.
            Content::Name(_) => Familiarity::Household,
            _ => Familiarity::Food,
        };
        let whole = found.comments.is_empty() && found.is_familiar(run, least);
        whole.then_some((length, found))
    })
}

fn beside(run: Tokens<'_>) -> Found {
    Found {
        content: None,
        spans: Vec::new(),
        idle: Vec::new(),
        comments: vec![run.span()],
    }
}

/// A number, a food, a person, a word of sharing: nothing to pass over.
fn tells(rest: Tokens<'_>) -> bool {
    let Some(first) = rest.first() else {
        return false;
    };
    let norm = first.norm();
    let counts = |token: &Token| token.is_numeric() || number_words().holds(token);
    counts(first) && norm != "one"
        || sharing().has(norm)
        || comes_off(rest)
        || rest.vocabulary.is_batch(&[norm])
        || person(rest).is_some()
}

/// "minus 50 rice", "less the 60 soup": so much came off, and was not put on.
pub fn comes_off(rest: Tokens<'_>) -> bool {
    let article = usize::from(matches!(rest.norm(1), "the" | "my" | "those" | "about"));
    let weight = rest.get(1 + article).is_some_and(Token::is_numeric);
    taken_off().has(rest.norm(0)) && weight
}
