//! As much of another dish: "125 rice and just as much dal" is 125 of each. Before anything is read, the amount that
//! was told last is put in the place of the words.
//!
//! ```text
//! again := amount { word } phrase ["of"] ["the"] dish
//! ```
//! "Half as much" is half of it, if it was written in digits. The phrases stand in `data/cues.txt`. "As much as Ana" compares plates, and is left alone.

use std::ops::Range;

use super::amount::tidy;
use super::lexicon::is_food_word;
use super::numeral::Numeral;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::unit;
use super::vocabulary::Vocabulary;
use super::words::{cues, number_words};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 100;

/// Put the amount where it is only referred to, in place.
pub fn repeat(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let mut at = 1;
    while at < tokens.len() && tokens.len() <= TOKENS_MAX {
        let input = Tokens::unread(tokens, text, vocabulary);
        let Some((length, amount, times)) = again(input, at) else {
            at += 1;
            continue;
        };
        let place = tokens[at].span.start;
        let mut told = Token::said_at(&tokens[amount], place);
        told[0].spaced = true;
        if times != 1.0 {
            let Kind::Number(numeral) = &mut told[0].kind else {
                at += 1;
                continue;
            };
            *numeral = Numeral::plain(tidy(numeral.value * times));
        }
        at += told.len();
        let from = at - told.len();
        tokens.splice(from..from + length, told);
        if let Some(next) = tokens.get_mut(at) {
            next.spaced = true;
        }
    }
}

/// How many tokens refer to an amount here, and where it was told.
fn again(input: Tokens<'_>, at: usize) -> Option<(usize, Range<usize>, f64)> {
    let said = |key| cues().longest_of(input.after(at).slice, key);
    let keys = [
        ("as much", 1.0),
        ("half as much", 0.5),
        ("twice as much", 2.0),
    ];
    let (mut length, times) = keys
        .into_iter()
        .find_map(|(key, times)| Some((said(key)?, times)))?;
    length += usize::from(input.norm(at + length) == "of");
    length += usize::from(input.norm(at + length) == "the");
    let named = input.norm(at + length);
    let dish = !named.is_empty() && (input.vocabulary.names_food(named) || is_food_word(named));
    let amount = dish.then(|| last_amount(input.range(0, at))).flatten()?;
    // "twice as much rice as dal" tells of the dal behind it.
    let compared = (1..3).any(|next| input.norm(at + length + next) == "as");
    (!compared).then_some((length, amount, times))
}

/// The last number with its unit, if it is one number only: no sum, no range.
fn last_amount(input: Tokens<'_>) -> Option<Range<usize>> {
    let counts =
        |token: &Token| matches!(token.kind, Kind::Number(_)) || number_words().holds(token);
    let last = input.slice.iter().rposition(counts)?;
    let before = input.slice[..last].iter().rev();
    let worded = number_words().holds(&input.slice[last]);
    let from = last
        - before
            .take_while(|token| worded && number_words().holds(token))
            .count();
    let signed = from > 0
        && matches!(
            input.slice[from - 1].kind,
            Kind::Symbol('+' | '-' | '/' | '→')
        );
    let rest = input.after(last + 1);
    let unit = unit(rest).map_or(0, |(behind, _)| rest.len() - behind.len());
    (!signed).then_some(from..last + 1 + unit)
}
