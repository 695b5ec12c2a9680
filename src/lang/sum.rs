//! Sums that say what they come to, or that need brackets, reckoned before anything else is read:
//! "soup 715-402=313" is 313 of it, "(95+40)-12 rice" is 123.
//!
//! ```text
//! reckoned := sum, with a bracket and an operator outside of it
//!           | sum with an operator "=" number | number "=" sum with an operator
//! sum      := product { ("+" | "-") product }
//! product  := factor { ("*" | "x" | "×") factor }
//! factor   := number ["g"] | "(" sum ")"
//! ```
//! Operators are words too (`data/operators.txt`). Brackets alone are an aside ("rice (95+40)"). What stands
//! behind a name is one sum only if it is glued, or says what it comes to: "2 eggs (50+50) + 30 butter" is
//! none. A sum that does not come to what is said is left as it is: which of its numbers is meant nobody knows.

use super::amount::{GRAMS_MAX, tidy};
use super::numeral::Numeral;
use super::token::{Kind, Token};
use super::words::{operators, units};

/// So far a sum may be from what it is said to come to: a scale shows whole grams.
const ROUNDED_GRAMS: f64 = 0.51;

/// The key of the unit that a bare number has.
const GRAM: &str = "mass 1";

/// Put one number in the place of each sum that can be reckoned.
pub fn reckon(tokens: &mut Vec<Token>) {
    let mut at = 0;
    while at < tokens.len() {
        let (end, value) = match said(tokens, at) {
            Some((end, value)) => (end, Some(value)),
            None => bracketed(tokens, at),
        };
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
    let leads = from == 0
        || matches!(
            tokens[from - 1].kind,
            Kind::Newline | Kind::Symbol(',' | ';')
        );
    let mut sum = Sum::new(tokens, from);
    sum.glued = !leads;
    let value = opens(&tokens[from]).then(|| sum.sum(0)).flatten();
    let whole = sum.brackets > 0 && sum.outside;
    (sum.at, value.filter(|value| whole && is_mass(*value)))
}

fn is_mass(grams: f64) -> bool {
    grams > 0.0 && grams <= GRAMS_MAX
}

/// Where a sum with its result ends, before or behind it, and what it comes to.
fn said(tokens: &[Token], from: usize) -> Option<(usize, f64)> {
    // "2 - 715 - 402 = 313" is no sum from its middle.
    let goes_on = from > 0 && (tokens[from - 1].is_numeric() || reckons(&tokens[from - 1..]));
    if goes_on || !opens(&tokens[from]) {
        return None;
    }
    let mut one = Sum::new(tokens, from);
    let first = one.sum(0)?;
    let mut other = Sum::new(tokens, one.equals()?);
    let second = other.sum(0)?;
    let (result, reckoned) = match (one.outside, other.outside) {
        (true, false) => (second, first),
        (false, true) => (first, second),
        _ => return None,
    };
    let agrees = (result - reckoned).abs() <= ROUNDED_GRAMS && is_mass(result);
    agrees.then_some((other.at, result))
}

fn opens(token: &Token) -> bool {
    token.is('(') || matches!(token.kind, Kind::Number(_))
}

fn is_sign(token: &Token, sign: char) -> bool {
    token.is(sign) || sign == 'x' && token.norm() == "x"
}

/// An operator that stands before another number.
fn reckons(tokens: &[Token]) -> bool {
    let sign = matches!(
        tokens[0].kind,
        Kind::Symbol('+' | '-' | '*' | '×' | '/' | '=')
    );
    sign || operators()
        .longest(tokens)
        .is_some_and(|(_, key)| key != "=")
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

impl<'a> Sum<'a> {
    fn new(tokens: &'a [Token], at: usize) -> Self {
        Self {
            tokens,
            at,
            glued: false,
            brackets: 0,
            outside: false,
        }
    }

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
        let rest = &self.tokens[self.at + self.grams()..];
        let token = rest.first()?;
        let (length, sign) = match operators().longest(rest) {
            Some((length, key)) => (length, key.chars().next()?),
            None => (1, among.iter().copied().find(|&sign| is_sign(token, sign))?),
        };
        let next = rest.get(length)?;
        let spaced = token.spaced || next.spaced;
        if !among.contains(&sign) || !opens(next) || self.glued && spaced {
            return None;
        }
        self.at += self.grams() + length;
        self.outside |= depth == 0;
        Some(sign)
    }

    /// Where what the sum is said to come to stands, or the sum of what is said first.
    fn equals(&self) -> Option<usize> {
        let from = self.at + self.grams();
        let rest = &self.tokens[from..];
        let sign = rest.first()?.is('=').then_some(1);
        let length = sign.or_else(|| operators().longest_of(rest, "="))?;
        opens(rest.get(length)?).then_some(from + length)
    }

    /// Grams between two numbers of a sum are passed over.
    fn grams(&self) -> usize {
        let unit = self.tokens.get(self.at).map_or("", Token::norm);
        usize::from(!self.glued && units().get(unit) == Some(GRAM))
    }
}
