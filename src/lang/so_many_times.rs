//! The same weight several times: "had soup 3 times today, 150 each" is 450 of it. Before anything is read, the
//! weight is put as all of them come to, and how many there were is dropped.
//!
//! ```text
//! several := count ("times" | "helpings" ["of"]) | "twice"        beside one weight "each"
//! again   := weight dish [","] [went] "the same again"            at the end, of one weight
//! ```
//! Where somebody else is named, "each" may be of people, and nothing is put. The phrases stand in `data/so_many_times.txt`.

use super::amount::tidy;
use super::number::number;
use super::numeral::Numeral;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::unit;
use super::vocabulary::{Sense, Vocabulary};
use super::which::dish_at_end;
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
    if let Some((weight, end)) = once_more(input) {
        if let Kind::Number(numeral) = tokens[weight].kind {
            tokens[weight].kind = Kind::Number(Numeral::plain(tidy(numeral.value * 2.0)));
            tokens.truncate(end);
        }
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
    let numbers = (0..input.len()).filter(|&at| apart(at) && counts(&input.slice[at]));
    let numbers: Vec<usize> = numbers.collect();
    // "soup twice, 180 and then 145": as many weights are told.
    if numbers.len() > 1 && numbers.len() as f64 == times && from > 0 && numbers[0] > from {
        let mark = tokens
            .get(from + length)
            .is_some_and(|token| matches!(token.kind, Kind::Symbol(',' | ':' | '-')));
        tokens.drain(from..from + length + usize::from(mark));
        return;
    }
    let [weight] = numbers[..] else {
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

/// "90 dal, then went back for the same again": the only weight, and where what tells of it ends.
fn once_more(input: Tokens<'_>) -> Option<(usize, usize)> {
    let said = |at: usize, key| so_many_times().longest_of(input.after(at).slice, key);
    let counts =
        |at: &usize| input.slice[*at].is_numeric() || number_words().holds(&input.slice[*at]);
    let phrase = (0..input.len()).find(|&at| {
        said(at, "once more").is_some_and(|length| input.after(at + length).trimmed().is_empty())
    })?;
    let mut numbers = (0..input.len()).filter(counts);
    let (Some(weight), None) = (numbers.next(), numbers.next()) else {
        return None;
    };
    let joins = |at: usize| {
        input.norm(at).is_empty()
            || matches!(
                input.norm(at),
                "and" | "then" | "n" | "i" | "later" | "again"
            )
    };
    let mut end = phrase;
    let mut went = false;
    loop {
        let near = (weight + 1).max(end.saturating_sub(4))..end;
        let lead = near
            .into_iter()
            .find(|&at| said(at, "went") == Some(end - at));
        match lead {
            Some(at) => {
                went = true;
                end = at;
            }
            None if end > weight + 1 && joins(end - 1) => {
                went = true;
                end -= 1;
            }
            None => break,
        }
    }
    let named = dish_at_end(input.range(0, end)).is_some();
    (went && named && weight < phrase).then_some((weight, end))
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
