//! A batch in one breath, raw and cooked: "200 g dry rice became 560", "parsnips 900 raw 650 cooked".
//!
//! ```text
//! cooked-down := amount name became reading ["cooked"] | { name | state reading | reading state }
//! state       := "raw" | "dry" | "uncooked" | "cooked"
//! ```
//! One of both readings has to say its state: "200 rice became 180" may be anything.

use crate::lang::amount::grams;
use crate::lang::command::key_phrase;
use crate::lang::item::ingredient;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::syntax::{
    Amount, Command, IngredientLine, LineContent, NewBatch, Weighing, Words,
};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};

const TOKENS_MAX: usize = 16;
const NAME_WORDS_MAX: usize = 3;
const GRAMS_MIN: f64 = 20.0;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    if body.len() > TOKENS_MAX {
        return input.no();
    }
    match became(body).or_else(|| both_told(body)) {
        Some(batch) => Ok((input.after(input.len()), Command::Batch(batch))),
        None => input.no(),
    }
}

/// "200 g dry rice became 560"
fn became(body: Tokens<'_>) -> Option<NewBatch> {
    let at = (1..body.len()).find(|&at| key_phrase("became", body.after(at)).is_ok())?;
    let (rest, ()) = key_phrase("became", body.after(at)).ok()?;
    let raw = ingredient(body.range(0, at)).ok()?;
    let (rest, cooked) = grams(rest).ok()?;
    let said = rest.slice.iter().all(|token| {
        matches!(
            token.norm(),
            "cooked" | "done" | "of" | "it" | "in" | "total" | "net" | "boiled"
        ) || raw.name.text.to_lowercase().contains(token.norm())
    });
    let stated = body
        .slice
        .iter()
        .any(|token| is_raw(token) || is_cooked(token));
    let Some(Amount::Mass(grams) | Amount::Bare(grams)) = raw.amount else {
        return None;
    };
    (said && stated).then(|| batch(body, raw.name, grams, cooked))?
}

/// "raw 900 cooked 650 parsnips": each reading with its state, the name somewhere beside them.
fn both_told(body: Tokens<'_>) -> Option<NewBatch> {
    let (mut raw, mut cooked) = (None, None);
    let mut named: Option<(usize, usize)> = None;
    let mut state: Option<&Token> = None;
    let mut unstated = None;
    // "baked parsnips 900 raw, 650 after": what was done opens it, and states no weight.
    let mut at =
        usize::from(body.first().is_some_and(is_cooked) && body.last().is_some_and(is_cooked));
    while at < body.len() {
        let token = &body.slice[at];
        if let Ok((rest, value)) = grams(body.after(at)) {
            at = body.len() - rest.len();
            match state.take() {
                Some(state) if is_raw(state) => raw = Some(value),
                Some(_) => cooked = Some(value),
                None if unstated.is_none() => unstated = Some(value),
                None => return None,
            }
            continue;
        }
        if is_raw(token) || is_cooked(token) {
            match unstated.take() {
                Some(value) if is_raw(token) => raw = Some(value),
                Some(value) => cooked = Some(value),
                None => state = Some(token),
            }
        } else if matches!(token.kind, Kind::Word(_)) && !is_idle(token) {
            named = match named {
                None => Some((at, at + 1)),
                Some((from, to)) if to == at => Some((from, at + 1)),
                Some(_) => return None,
            };
        }
        at += 1;
    }
    let (from, to) = named.filter(|_| state.is_none() && unstated.is_none())?;
    batch(body, body.range(from, to).words(), raw?, cooked?)
}

fn is_raw(token: &Token) -> bool {
    matches!(token.norm(), "raw" | "dry" | "uncooked" | "dried")
}

fn is_cooked(token: &Token) -> bool {
    matches!(
        token.norm(),
        "cooked" | "boiled" | "roasted" | "baked" | "after" | "afterwards" | "done"
    )
}

fn is_idle(token: &Token) -> bool {
    matches!(
        token.norm(),
        "the"
            | "of"
            | "and"
            | "then"
            | "to"
            | "from"
            | "went"
            | "was"
            | "is"
            | "now"
            | "its"
            | "were"
            | "are"
    )
}

/// The batch that both readings tell, if what it is of has a name.
fn batch(body: Tokens<'_>, of: Words, raw: f64, cooked: f64) -> Option<NewBatch> {
    if raw < GRAMS_MIN || cooked < GRAMS_MIN {
        return None;
    }
    let dish: Vec<&str> = of
        .text
        .split([' ', ','])
        .filter(|word| {
            !word.is_empty() && !matches!(word.to_lowercase().as_str(), "raw" | "dry" | "uncooked")
        })
        .collect();
    let name = Words::new(dish.join(" "), of.span.clone());
    let known = familiarity(&name.text, body) >= Familiarity::Food;
    if !known || dish.len() > NAME_WORDS_MAX {
        return None;
    }
    let line = IngredientLine {
        // The line alone: what it came to is no part of what went in.
        text: format!("{raw} g {}", of.text),
        span: body.span(),
        part: None,
        content: LineContent::Ingredient {
            amount: Some(Amount::Mass(raw)),
            name: of,
        },
    };
    Some(NewBatch {
        name,
        lines: vec![line],
        weighings: vec![Weighing::net(cooked, body.span())],
        ..NewBatch::default()
    })
}
