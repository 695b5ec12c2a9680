//! The same weight several times: "had soup 3 times today, 150 each" is 450 of it. Before anything is read, the
//! weight is put as all of them come to, and how many there were is dropped.
//!
//! ```text
//! several := count ("times" | "helpings" ["of"]) | "twice"        beside one weight "each"
//! ```
//! Where somebody else is named, "each" may be of people, and nothing is put. The phrases stand in `data/so_many_times.txt`.

use super::amount::tidy;
use super::number::number;
use super::numeral::Numeral;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::unit;
use super::vocabulary::{Sense, Vocabulary};
use super::words::{number_words, so_many_times};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 40;
/// Nobody eats of one thing so often in a day.
const TIMES_MOST: f64 = 6.0;
/// Between a weight and "each".
const UNIT_TOKENS_MAX: usize = 2;

/// Put the weight of one as that of all, in place.
pub fn multiply(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let input = Tokens::unread(tokens, text, vocabulary);
    if tokens.len() > TOKENS_MAX || names_somebody(input) {
        return;
    }
    let Some((from, length, times)) = (0..input.len()).find_map(|at| {
        let (length, times) = several(input.after(at))?;
        Some((at, length, times))
    }) else {
        return;
    };
    let apart = |at: usize| !(from..from + length).contains(&at);
    let counts = |token: &Token| token.is_numeric() || number_words().holds(token);
    let mut numbers = (0..input.len()).filter(|&at| apart(at) && counts(&input.slice[at]));
    let (Some(weight), None) = (numbers.next(), numbers.next()) else {
        return;
    };
    let rest = input.after(weight + 1);
    let skip = unit(rest).map_or(0, |(behind, _)| rest.len() - behind.len());
    let each = weight + 1 + skip.min(UNIT_TOKENS_MAX);
    let Some(said) = so_many_times().longest_of(input.after(each).slice, "each") else {
        return;
    };
    let Kind::Number(numeral) = tokens[weight].kind else {
        return;
    };
    tokens[weight].kind = Kind::Number(Numeral::plain(tidy(numeral.value * times)));
    // "150 all three times": one phrase may stand in the other.
    let mut at = 0;
    tokens.retain(|_| {
        let told = (each..each + said).contains(&at) || !apart(at);
        at += 1;
        !told
    });
}

/// How many tokens tell how often, and how often it was.
fn several(input: Tokens<'_>) -> Option<(usize, f64)> {
    if let Some(length) = so_many_times().longest_of(input.slice, "twice") {
        return Some((length, 2.0));
    }
    let (rest, count) = number(input).ok()?;
    let whole = count.value.fract() == 0.0 && (2.0..=TIMES_MOST).contains(&count.value);
    let length = so_many_times()
        .longest_of(rest.slice, "times")
        .filter(|_| whole)?;
    Some((input.len() - rest.len() + length, count.value))
}

fn names_somebody(input: Tokens<'_>) -> bool {
    let person = |token: &Token| input.vocabulary.is(Sense::Person, &[token.norm()]);
    let shares = |token: &Token| matches!(token.norm(), "us" | "both" | "we" | "everyone");
    input
        .slice
        .iter()
        .any(|token| person(token) || shares(token))
}
