//! Names and their amounts in two rows: "dal and rice, 140 and 180", "salsa, beans, rice: 40, 90, 130"; and
//! a name in two parts before its amount: "beans, white, 85".

use super::{Named, Piece, pieces};
use crate::lang::name::{self, Familiarity, familiarity};
use crate::lang::segment::{segments, without_fillers};
use crate::lang::syntax::Words;
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;

/// Longer rows are a list of another kind.
const TOKENS_MAX: usize = 40;

/// As many known names as amounts, the names first.
pub fn in_order(input: Tokens<'_>) -> Option<Vec<Named>> {
    if input.len() > TOKENS_MAX || !input.has_number() {
        return None;
    }
    let (mut names, mut amounts) = (Vec::new(), Vec::new());
    for part in parts(input) {
        for piece in pieces(part).ok()? {
            match piece {
                Piece::Name(tokens) if amounts.is_empty() => names.push(tokens),
                Piece::Amount {
                    amount,
                    aside: false,
                    ..
                } => amounts.push(amount),
                _ => return None,
            }
        }
    }
    if names.len() < 2 {
        return None;
    }
    let names = together(&names, input);
    let known = |name: &Words| familiarity(&name.text, input) >= Familiarity::Food;
    if names.len() != amounts.len() || !names.iter().all(known) {
        return None;
    }
    let paired = names.into_iter().zip(amounts);
    Some(
        paired
            .map(|(name, amount)| Named {
                amount: Some(amount),
                span: name.span.clone(),
                container: None,
                name,
            })
            .collect(),
    )
}

/// Between separators and colons, without words that carry nothing.
fn parts(input: Tokens<'_>) -> Vec<Tokens<'_>> {
    let colon = |token: &Token| token.is(':') || token.is('=') || token.kind == Kind::Newline;
    segments(input)
        .iter()
        .flat_map(|segment| segment.of(input).split(colon))
        .map(|part| without_fillers(part.trimmed()))
        .filter(|part| !part.is_empty())
        .collect()
}

/// Names that are one only together: "beans" and "white".
fn together(names: &[Tokens<'_>], input: Tokens<'_>) -> Vec<Words> {
    let mut out: Vec<Words> = Vec::new();
    for tokens in names {
        let words = name::chosen(*tokens).unwrap_or_else(|| name::words(&[one_of_them(*tokens)]));
        let joined = out.last().map(|last| Words {
            text: format!("{} {}", last.text, words.text),
            span: last.span.start..words.span.end,
        });
        let household = |words: &Words| familiarity(&words.text, input) == Familiarity::Household;
        match joined.filter(household) {
            Some(joined) if !household(&words) => {
                out.pop();
                out.push(joined);
            }
            _ => out.push(words),
        }
    }
    out
}

/// "the white ones" are white.
fn one_of_them(name: Tokens<'_>) -> Tokens<'_> {
    match name.last() {
        Some(last) if matches!(last.norm(), "one" | "ones") && name.len() > 1 => {
            name.range(0, name.len() - 1)
        }
        _ => name,
    }
}
