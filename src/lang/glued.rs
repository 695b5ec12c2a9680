//! Words glued to a number or to each other, which only the household's names can cut: "160gdal",
//! "85whitebeans", "90gdal+60rice".

use super::lexicon::{is_food, is_food_word};
use super::numeral::Numeral;
use super::token::{Kind, Token};
use super::vocabulary::{Sense, Vocabulary};
use super::words::{measures, units};

/// Units that are written onto their number and the name after it.
const UNITS: [&str; 5] = ["g", "kg", "ml", "gr", "oz"];

/// Whoever writes of themselves, onto the number.
const EATER: &str = "me";
/// A shorter word is no dish of two.
const DISH_LETTERS_MIN: usize = 6;
/// A longer word is no two names: every place to cut it would have to be looked at.
const NAMES_LETTERS_MAX: usize = 64;

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
        let span = sign.span.start..number.span.end;
        tokens[at] = Token::new(Kind::Word(code), span, sign.spaced);
        tokens.remove(at + 1);
    }
}

/// Cut glued words in place.
pub fn cut(tokens: &mut Vec<Token>, vocabulary: &Vocabulary) {
    join_codes(tokens, vocabulary);
    part_eaters(tokens, vocabulary);
    let mut at = 0;
    while at < tokens.len() {
        let lengths = cuts(tokens, at, vocabulary);
        if let Some(lengths) = &lengths {
            replace(tokens, at, lengths);
        }
        at += lengths.map_or(1, |lengths| lengths.len());
    }
}

/// The pieces of the word at this place, if it is cut: their lengths.
fn cuts(tokens: &[Token], at: usize, vocabulary: &Vocabulary) -> Option<Vec<usize>> {
    let token = &tokens[at];
    let norm = token.norm();
    // A word with accents or apostrophes has other lengths than its folded form.
    let plain = norm.is_ascii() && token.span.len() == norm.len();
    let whole = norm.is_empty() || units().has(norm) || measures().has(norm) || norm == "x";
    if whole || !plain {
        return None;
    }
    let behind_number = at > 0 && !token.spaced && tokens[at - 1].is_numeric();
    match behind_number {
        true => pieces(norm, vocabulary),
        false => dish(norm, vocabulary),
    }
}

/// "leeksoup", "lentildal155": a dish of two words, written as one.
fn dish(norm: &str, vocabulary: &Vocabulary) -> Option<Vec<usize>> {
    let strange = norm.len() >= DISH_LETTERS_MIN
        && norm.bytes().all(|byte| byte.is_ascii_lowercase())
        && !vocabulary.has_word(norm)
        && !is_food_word(norm);
    let lengths = strange.then(|| names(norm, vocabulary)).flatten()?;
    (lengths.len() > 1).then_some(lengths)
}

/// "me130soup": no batch has such a code, and so it tells who had how much.
fn part_eaters(tokens: &mut Vec<Token>, vocabulary: &Vocabulary) {
    for at in (0..tokens.len()).rev() {
        let Token { span, spaced, .. } = tokens[at].clone();
        let norm = tokens[at].norm().to_owned();
        let Some(rest) = norm.strip_prefix(EATER) else {
            continue;
        };
        let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
        let number = rest[..digits].parse().ok().filter(|_| digits > 1);
        let plain = span.len() == norm.len() && !vocabulary.is(Sense::Code, &[&norm]);
        let Some(number) = number.filter(|_| plain) else {
            continue;
        };
        let behind_name = span.start + EATER.len();
        let behind_number = behind_name + digits;
        let kinds = [
            (
                Kind::Word(EATER.to_owned()),
                span.start..behind_name,
                spaced,
            ),
            (
                Kind::Number(Numeral::plain(number)),
                behind_name..behind_number,
                false,
            ),
            (
                Kind::Word(rest[digits..].to_owned()),
                behind_number..span.end,
                false,
            ),
        ];
        let parts = kinds.into_iter().filter(|(_, span, _)| !span.is_empty());
        let parts = parts.map(|(kind, span, spaced)| Token::new(kind, span, spaced));
        tokens.splice(at..=at, parts);
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
    if !(3..=NAMES_LETTERS_MAX).contains(&norm.len()) {
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
        let word = Kind::Word(norm[from..from + length].to_owned());
        let token = Token::new(word, start..start + length, index > 0);
        tokens.insert(at + index, token);
        from += length;
    }
}
