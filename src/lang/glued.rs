//! Words glued to a number or to each other, which only the household's names can cut: "160gdal",
//! "85whitebeans", "90gdal+60rice".

use super::lexicon::{is_food, is_food_word};
use super::token::{Kind, Token};
use super::vocabulary::{Sense, Vocabulary};
use super::words::{measures, units};

/// Units that are written onto their number and the name after it.
const UNITS: [&str; 5] = ["g", "kg", "ml", "gr", "oz"];

/// "X1": where a batch has that code, and nothing says that it is a multiplication.
fn join_codes(tokens: &mut Vec<Token>, vocabulary: &Vocabulary) {
    for at in (0..tokens.len().saturating_sub(1)).rev() {
        let (sign, number) = (&tokens[at], &tokens[at + 1]);
        let Kind::Number(numeral) = &number.kind else {
            continue;
        };
        let code = format!("x{}", numeral.value);
        let glued = !number.spaced && number.span.len() + 1 == code.len();
        let apart = at == 0 || sign.spaced || !tokens[at - 1].is_numeric();
        // "eggs x2", "x2 tins"
        let counts = at > 0 && is_food_word(tokens[at - 1].norm());
        let unit = tokens
            .get(at + 2)
            .is_some_and(|next| units().has(next.norm()) || measures().has(next.norm()));
        // "X9 + 10 g oil": nothing is added to a number, also where no batch has the code.
        let added_to = at == 0 && tokens.get(at + 2).is_some_and(|next| next.is('+'));
        let known = added_to || vocabulary.is(Sense::Code, &[&code]);
        if sign.norm() != "x" || !glued || !apart || counts || unit || !known {
            continue;
        }
        let end = number.span.end;
        tokens[at].kind = Kind::Word(code);
        tokens[at].span.end = end;
        tokens.remove(at + 1);
    }
}

/// Cut glued words in place.
pub fn cut(tokens: &mut Vec<Token>, vocabulary: &Vocabulary) {
    join_codes(tokens, vocabulary);
    let mut at = 1;
    while at < tokens.len() {
        let glued = !tokens[at].spaced && tokens[at - 1].is_numeric();
        let norm = tokens[at].norm().to_owned();
        let whole = norm.is_empty()
            || units().has(&norm)
            || measures().has(&norm)
            || norm == "x"
            || !norm.is_ascii();
        // A word with accents or apostrophes has other lengths than its folded form.
        let plain = tokens[at].span.len() == norm.len();
        if glued
            && !whole
            && plain
            && let Some(pieces) = pieces(&norm, vocabulary)
        {
            let count = pieces.len();
            replace(tokens, at, &pieces);
            at += count;
            continue;
        }
        at += 1;
    }
}

/// The unit and the words that a glued word is made of.
fn pieces(norm: &str, vocabulary: &Vocabulary) -> Option<Vec<usize>> {
    if let Some(lengths) = names(norm, vocabulary) {
        return (lengths.len() > 1).then_some(lengths);
    }
    UNITS.iter().find_map(|unit| {
        let rest = norm.strip_prefix(unit)?;
        let mut lengths = names(rest, vocabulary)?;
        lengths.insert(0, unit.len());
        Some(lengths)
    })
}

/// The words of a known name, written with or without spaces: their lengths.
fn names(norm: &str, vocabulary: &Vocabulary) -> Option<Vec<usize>> {
    if norm.len() < 3 {
        return None;
    }
    if vocabulary.known(&[norm]).is_some() || is_food(&[norm]) {
        return Some(vec![norm.len()]);
    }
    (3..norm.len().saturating_sub(2)).find_map(|cut| {
        let (first, second) = norm.split_at(cut);
        vocabulary.known(&[first, second])?;
        Some(vec![cut, norm.len() - cut])
    })
}

fn replace(tokens: &mut Vec<Token>, at: usize, lengths: &[usize]) {
    let whole = tokens.remove(at);
    let norm = whole.norm().to_owned();
    let mut from = 0;
    for (index, length) in lengths.iter().enumerate() {
        let start = whole.span.start + from;
        let token = Token {
            kind: Kind::Word(norm[from..from + length].to_owned()),
            span: start..start + length,
            spaced: index > 0,
        };
        tokens.insert(at + index, token);
        from += length;
    }
}
