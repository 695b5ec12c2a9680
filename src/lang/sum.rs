//! Sums that say what they come to, or that need brackets, reckoned before anything else is read:
//! "soup 715-402=313" is 313 of it, "(95+40)-12 rice" is 123.
//!
//! ```text
//! reckoned := sum, with a bracket and an operator outside of it
//!           | sum with an operator "=" number | number "=" sum with an operator
//! sum      := product { ("+" | "-") product }
//! product  := factor { ("*" | "x" | "×") factor }
//! factor   := number ["g"] | "(" sum ")"
//! aloud    := numbers among other words, and at the end "=" what they come to: their sum, or the difference of
//!             two of which a vessel or a time is told
//! ```
//! Operators are words too (`data/operators.txt`). Brackets alone are an aside ("rice (95+40)"). What stands
//! behind a name is one sum only if it is glued, or says what it comes to: "2 eggs (50+50) + 30 butter" is
//! none. A sum that does not come to what is said is left as it is: which of its numbers is meant nobody knows.
//! "In three goes" before three weights counts them, and is dropped. Differences alone need no word of the vessel behind them ("same bowl"). A result aloud is nothing new behind its readings, and is dropped: "plate 390, with rice 530, so 140". Of several
//! weights of one thing it is all that is kept: "rice 80, 80 and 40, so 200".

use super::amount::{GRAMS_MAX, tidy};
use super::numeral::Numeral;
use super::token::{Kind, Token};
use super::words::{at_scale, containers, explained, number_words, operators, units};

/// So far a sum may be from what it is said to come to: a scale shows whole grams.
const ROUNDED_GRAMS: f64 = 0.51;

/// The key of the unit that a bare number has.
const GRAM: &str = "mass 1";

/// "which is", "so that's": no result is led up to by more.
const RESULT_WORDS_MAX: usize = 4;
/// ", all in my belly"
const TAIL_TOKENS_MAX: usize = 5;

/// Put one number in the place of each sum that can be reckoned.
pub fn reckon(tokens: &mut Vec<Token>) {
    if let Some((from, to, goes)) = (1..tokens.len()).find_map(|at| in_goes(tokens, at)) {
        for sign in tokens[to..].iter_mut().skip(1).step_by(2).take(goes - 1) {
            *sign = Token::new(Kind::Symbol('+'), sign.span.clone(), sign.spaced);
        }
        tokens.drain(from..to);
    }
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
    let told = tokens.len() - tail(tokens);
    if let Some((at, result)) = aloud(&tokens[..told]) {
        tokens.drain(at..told);
        if let Some((from, to)) = of_one_thing(tokens) {
            tokens[from].span.end = tokens[to - 1].span.end;
            tokens[from].kind = Kind::Number(Numeral::plain(result));
            tokens.drain(from + 1..to);
        }
    } else if let Some(at) = same_vessel(tokens) {
        tokens.truncate(at);
    }
}

/// "rice 80, 80 and 40, so 200": where the weights of one thing stand, that are told before its name or behind it.
fn of_one_thing(tokens: &[Token]) -> Option<(usize, usize)> {
    let from = tokens.iter().position(Token::is_numeric)?;
    let to = 1 + tokens.iter().rposition(Token::is_numeric)?;
    let joins = |token: &Token| {
        matches!(token.kind, Kind::Symbol(',' | '+' | '&'))
            || matches!(token.norm(), "and" | "plus" | "then" | "n")
    };
    let run = &tokens[from..to];
    let plain = run
        .iter()
        .all(|token| value(token).is_some() || joins(token));
    let behind = tokens[to..].iter().any(|token| !token.norm().is_empty());
    let several = run.iter().filter(|token| token.is_numeric()).count() > 2;
    (plain && several && behind != (from > 0)).then_some((from, to))
}

/// What is weighed one after the other.
const GOES: [&str; 8] = [
    "goes",
    "rounds",
    "helpings",
    "scoops",
    "servings",
    "trips",
    "turns",
    "weighings",
];

/// "rice in three goes 80+80+40", "80, 80 and 40": how many weights there are, said beside as many of them.
fn in_goes(tokens: &[Token], at: usize) -> Option<(usize, usize, usize)> {
    let [into, count, goes, rest @ ..] = &tokens[at..] else {
        return None;
    };
    if !matches!(into.norm(), "in" | "over") || !GOES.contains(&goes.norm()) {
        return None;
    }
    let spoken = |token: &Token| number_words().get(token.norm())?.parse().ok();
    let said: f64 = value(count).or_else(|| spoken(count))?;
    let marked = |token: &Token| token.is(':') || token.is(',');
    let mark = usize::from(rest.first().is_some_and(marked));
    let weights = rest[mark..].chunks(2);
    let weights = weights.take_while(|two| value(&two[0]).is_some());
    let joins = |sign: &Token| {
        matches!(sign.kind, Kind::Symbol('+' | ',' | '&')) || matches!(sign.norm(), "and" | "n")
    };
    let joined = |two: &&[Token]| two.get(1).is_some_and(joins);
    let signs = weights.clone().take_while(joined).count();
    let counted = weights.count().min(signs + 1) as f64;
    (counted == said && counted >= 2.0).then_some((at, at + 3 + mark, counted as usize))
}

/// "chilli 812-430, rice 590-430, same bowl": what was taken off each time stood in its difference already.
fn same_vessel(tokens: &[Token]) -> Option<usize> {
    let [.., same, vessel] = tokens else {
        return None;
    };
    if same.norm() != "same" || !containers().holds(vessel) {
        return None;
    }
    let end = tokens.len() - 2;
    if end == 0 {
        return None;
    }
    let numeric = |at: usize| tokens[..end].get(at).is_some_and(Token::is_numeric);
    let less = |at: &usize| tokens[*at].is('-') && *at > 0 && numeric(at - 1) && numeric(at + 1);
    let differences = (0..end).filter(less).count();
    let numbers = (0..end).filter(|&at| numeric(at)).count();
    let comma = usize::from(tokens[end - 1].is(','));
    (differences > 0 && numbers == 2 * differences).then_some(end - comma)
}

/// ", eaten": how many tokens at the end say nothing but that somebody ate it.
fn tail(tokens: &[Token]) -> usize {
    let eaten = |at: &usize| {
        let length = explained().longest_of(&tokens[at + 1..], "eats");
        tokens[*at].is(',') && length == Some(tokens.len() - at - 1)
    };
    let at = (0..tokens.len()).rev().take(TAIL_TOKENS_MAX).find(eaten);
    at.map_or(0, |at| tokens.len() - at)
}

/// Where what the numbers before it come to is said at the end, and how much that is.
fn aloud(tokens: &[Token]) -> Option<(usize, f64)> {
    let end = tokens.len() - usize::from(tokens.last().is_some_and(is_unit));
    let result = value(tokens.get(end.checked_sub(1)?)?)?;
    let at = (0..end - 1).rev().take(RESULT_WORDS_MAX).find(|&at| {
        let words = operators().longest_of(&tokens[at..], "=");
        words.is_some_and(|length| at + length == end - 1)
    })?;
    let before = &tokens[..at];
    let numbers: Vec<f64> = before.iter().filter_map(value).collect();
    let told = |token: &Token| {
        let time = matches!(
            at_scale().get(token.norm()),
            Some("before" | "after" | "now")
        );
        time || containers().holds(token)
    };
    let comes_to = |reckoned: f64| (reckoned - result).abs() <= ROUNDED_GRAMS;
    let agrees = match numbers.as_slice() {
        [one, other] if comes_to((one - other).abs()) => before.iter().any(told),
        [_, _, ..] => comes_to(numbers.iter().sum()),
        _ => false,
    };
    let plain = before.iter().filter(|token| token.is_numeric()).count() == numbers.len();
    (agrees && plain).then_some((at, result))
}

fn value(token: &Token) -> Option<f64> {
    match token.kind {
        Kind::Number(numeral) if numeral.other.is_none() => Some(numeral.value),
        _ => None,
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

/// Grams, which a bare number has.
fn is_unit(token: &Token) -> bool {
    units().get(token.norm()) == Some(GRAM)
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
        if matches!(token.kind, Kind::Number(_)) {
            self.at += 1;
            return value(token);
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
        let unit = self.tokens.get(self.at).is_some_and(is_unit);
        usize::from(unit && !self.glued)
    }
}
