//! Sums with brackets, reckoned before anything else is read: "(95+40)-12 rice" is 123 of it.
//!
//! ```text
//! bracketed := sum, with a bracket and an operator outside of it
//! sum       := product { ("+" | "-") product }
//! product   := factor { ("*" | "x" | "×") factor }
//! factor    := number | "(" sum ")"
//! ```
//! Brackets alone are an aside ("rice (95+40)"). What stands behind a name is one sum only if it is glued:
//! "2 eggs (50+50) + 30 butter" is none.

use super::amount::{GRAMS_MAX, tidy};
use super::numeral::Numeral;
use super::token::{Kind, Token};

/// Put one number in the place of each sum with brackets.
pub fn reckon(tokens: &mut Vec<Token>) {
    let mut at = 0;
    while at < tokens.len() {
        let (end, value) = bracketed(tokens, at);
        if let Some(value) = value {
            tokens[at].span.end = tokens[end - 1].span.end;
            tokens[at].kind = Kind::Number(Numeral::plain(tidy(value)));
            tokens.drain(at + 1..end);
        } else if !tokens[at..end].iter().any(|token| token.is('(')) {
            // No sum that begins in this one has a bracket either.
            at = at.max(end.saturating_sub(1));
        }
        at += 1;
    }
}

/// How far the sum at this place was read, and what it comes to, if it has brackets.
fn bracketed(tokens: &[Token], from: usize) -> (usize, Option<f64>) {
    let opens = tokens[from].is('(') || matches!(tokens[from].kind, Kind::Number(_));
    let leads = from == 0
        || matches!(
            tokens[from - 1].kind,
            Kind::Newline | Kind::Symbol(',' | ';')
        );
    let mut sum = Sum {
        tokens,
        at: from,
        glued: !leads,
        brackets: 0,
        outside: false,
    };
    let value = opens.then(|| sum.sum(0)).flatten();
    let whole = sum.brackets > 0 && sum.outside;
    let in_range = |value: &f64| *value > 0.0 && *value <= GRAMS_MAX;
    (sum.at, value.filter(|value| whole && in_range(value)))
}

struct Sum<'a> {
    tokens: &'a [Token],
    at: usize,
    /// No space may stand in it.
    glued: bool,
    brackets: usize,
    /// An operator stands outside of the brackets.
    outside: bool,
}

/// No sum of a kitchen is deeper.
const DEPTH_MAX: usize = 4;

impl Sum<'_> {
    fn sum(&mut self, depth: usize) -> Option<f64> {
        let mut total = self.product(depth)?;
        while let Some(sign) = self.operator(&['+', '-'], depth) {
            let next = self.product(depth)?;
            total += if sign == '+' { next } else { -next };
        }
        Some(total)
    }

    fn product(&mut self, depth: usize) -> Option<f64> {
        let mut total = self.factor(depth)?;
        while self.operator(&['*', '×', 'x'], depth).is_some() {
            total *= self.factor(depth)?;
        }
        Some(total)
    }

    fn factor(&mut self, depth: usize) -> Option<f64> {
        let token = self.tokens.get(self.at)?;
        if let Kind::Number(numeral) = token.kind {
            self.at += 1;
            return numeral.other.is_none().then_some(numeral.value);
        }
        if !token.is('(') || depth == DEPTH_MAX {
            return None;
        }
        self.at += 1;
        let inside = self.sum(depth + 1)?;
        self.tokens.get(self.at).filter(|token| token.is(')'))?;
        self.at += 1;
        self.brackets += 1;
        Some(inside)
    }

    /// An operator of these, if a factor follows it.
    fn operator(&mut self, among: &[char], depth: usize) -> Option<char> {
        let token = self.tokens.get(self.at)?;
        let next = self.tokens.get(self.at + 1)?;
        let sign = among.iter().find(|&&sign| match sign {
            'x' => token.norm() == "x",
            _ => token.is(sign),
        })?;
        let factor = next.is('(') || matches!(next.kind, Kind::Number(_));
        let spaced = token.spaced || next.spaced;
        if !factor || self.glued && spaced {
            return None;
        }
        self.at += 1;
        self.outside |= depth == 0;
        Some(*sign)
    }
}
