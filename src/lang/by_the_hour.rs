//! Plates of one person at several hours: "at 12 I had 250 soup, at 4 another 90".
//!
//! ```text
//! message := hour plate { mark hour plate }        of one dish, the later ones need no name
//! ```
//! Each hour begins a part, and each part must be a sure plate by itself.

use super::hour;
use super::syntax::{Command, Reading, Reason};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::veto::governs;
use super::which::last_dish;
use super::words::units;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 60;
/// More than a plate that is read past what stands around it.
const RANK: i32 = 800;

/// The plates; `read` gives every reading of one part.
pub fn read(input: Tokens<'_>, read: fn(Tokens<'_>) -> Vec<Reading>) -> Option<Reading> {
    if input.len() > TOKENS_MAX || governs(input) {
        return None;
    }
    let begins = |at: usize| at == 0 || parts(&input.slice[at - 1]);
    let told = |at: usize| hour::in_front(input, at).map(|(length, hour)| (at, length, hour));
    let hours: Vec<_> = (0..input.len())
        .filter(|&at| begins(at))
        .filter_map(told)
        .collect();
    if hours.len() < 2 || hours[0].0 != 0 {
        return None;
    }
    let mut dish: Vec<Token> = Vec::new();
    let mut commands = Vec::new();
    for (place, &(at, length, hour)) in hours.iter().enumerate() {
        let end = hours.get(place + 1).map_or(input.len(), |next| next.0);
        let mut part = input.range(at + length, end).trimmed();
        while part.last().is_some_and(parts) {
            part = part.range(0, part.len() - 1);
        }
        let mut tokens = part.slice.to_vec();
        let behind = part.last()?;
        if is_amount(behind) {
            tokens.extend(Token::said_at(&dish, behind.span.end));
        }
        if let Some(last) = last_dish(part) {
            dish = part.slice[last].to_vec();
            dish[0].spaced = true;
        }
        let readings = read(part.with_tokens(&tokens)).into_iter();
        let best = readings.max_by_key(|reading| reading.rank)?;
        let [Command::Portion(portion)] = best.commands.as_slice() else {
            return None;
        };
        if !best.is_certain() || portion.hour.is_some() {
            return None;
        }
        let mut portion = portion.clone();
        portion.hour = Some(hour);
        commands.push(Command::Portion(portion));
    }
    Some(Reading {
        commands,
        errors: Vec::new(),
        reasons: vec![Reason::Cut("hours"), Reason::Complete],
        rank: RANK,
        sure: true,
        weighing_like: true,
    })
}

fn parts(token: &Token) -> bool {
    let mark = matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '-')
    );
    mark || matches!(token.norm(), "and" | "then" | "n" | "but")
}

/// "another 90", "60 g more": no dish is named behind it.
fn is_amount(last: &Token) -> bool {
    last.is_numeric() || units().holds(last)
}
