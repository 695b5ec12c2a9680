//! Numbers as a dictation writes what it heard: "too hundred soup" is 200 of it, "a hundred and for tea dal" 140.
//! What sounds like a number beside a number is the number, or nobody can tell: then it is made unreadable, so that
//! what stands beside it is never booked as all that was said. A mark that is said is that mark.
//!
//! ```text
//! heard := sound "hundred" | sound tens                        (where a clause begins, or behind a dish)
//!        | "hundred" "and" sound [ending] food | tens sound food
//! ```

use super::lexicon::is_food_word;
use super::name::is_filler;
use super::token::{Kind, Token};
use super::vocabulary::{Sense, Vocabulary};
use super::words::{heard, joiners, number_words, units};

/// Whether what sounds like a number is surely one.
#[derive(Clone, Copy, PartialEq)]
enum Sounds {
    Sure(u32),
    Perhaps(u32),
    /// Only behind another number.
    Behind(u32),
}

/// What to do with a word that sounds like a number.
enum Fate {
    /// It and so many behind it are this number.
    Number(u32, usize),
    Unreadable,
    /// It and so many behind it are a mark that was said: "full stop".
    Mark(char, usize),
}

/// Put numbers in the place of what sounds like them.
pub fn numbers(tokens: &mut Vec<Token>, vocabulary: &Vocabulary) {
    for at in 1..tokens.len().saturating_sub(1) {
        if is_for(tokens, at, vocabulary) {
            let span = tokens[at].span.clone();
            tokens[at] = Token::new(Kind::Word("for".to_owned()), span, tokens[at].spaced);
        }
    }
    let mut at = 0;
    while at < tokens.len() {
        let (kind, more) = match mark(&tokens[at..]).or_else(|| fate(tokens, at, vocabulary)) {
            Some(Fate::Mark(sign, more)) => (Kind::Symbol(sign), more),
            Some(Fate::Number(value, more)) => match number_words().word_for(&value.to_string()) {
                Some(word) => (Kind::Word(word.to_owned()), more),
                None => (Kind::Unreadable, more),
            },
            Some(Fate::Unreadable) => (Kind::Unreadable, 0),
            None => {
                at += 1;
                continue;
            }
        };
        let span = tokens[at].span.start..tokens[at + more].span.end;
        let token = Token::new(kind, span, tokens[at].spaced);
        tokens.splice(at..=at + more, [token]);
        at += 1;
    }
}

/// "80 dal 4 me": a 4 that stands between a weighed dish and somebody.
fn is_for(tokens: &[Token], at: usize, vocabulary: &Vocabulary) -> bool {
    let four = matches!(tokens[at].kind, Kind::Number(numeral) if numeral.value == 4.0);
    let names =
        |norm: &str| !norm.is_empty() && (vocabulary.names_food(norm) || is_food_word(norm));
    let who = tokens[at + 1].norm();
    let somebody = matches!(who, "me" | "us" | "everyone") || vocabulary.is(Sense::Person, &[who]);
    let weighed = tokens[..at].iter().any(Token::is_numeric);
    four && weighed && somebody && names(tokens[at - 1].norm())
}

fn mark(tokens: &[Token]) -> Option<Fate> {
    let (length, key) = heard().longest(tokens)?;
    let mut letters = key.chars();
    let sign = letters.next().filter(char::is_ascii_punctuation)?;
    Some(Fate::Mark(sign, length - 1))
}

fn fate(tokens: &[Token], at: usize, vocabulary: &Vocabulary) -> Option<Fate> {
    let sound = sounds(&tokens[at])?;
    let (Sounds::Sure(value) | Sounds::Perhaps(value) | Sounds::Behind(value)) = sound;
    let worth = |at: Option<usize>| value_of(tokens.get(at?)?);
    let before = worth(at.checked_sub(1));
    let names = |at: usize| {
        let norm = tokens.get(at).map_or("", Token::norm);
        units().has(norm)
            || norm == "of"
            || !norm.is_empty() && (vocabulary.names_food(norm) || is_food_word(norm))
    };
    let joined = at >= 2 && joiners().has(tokens[at - 1].norm());
    if joined && matches!(worth(Some(at - 2)), Some(100)) {
        let (value, more) = with_ending(value, tokens.get(at + 1));
        return names(at + 1 + more).then_some(Fate::Number(value, more));
    }
    if let Some(20..100) = before {
        return names(at + 1).then_some(Fate::Unreadable);
    }
    let begins = at == 0 || {
        let last = &tokens[at - 1];
        last.norm().is_empty() && !last.is_numeric() || joiners().has(last.norm())
    };
    let behind_dish = at > 0 && vocabulary.names_food(tokens[at - 1].norm());
    let stands = begins || behind_dish || at > 0 && is_filler(&tokens[at - 1]);
    let more = tokens[at + 1..]
        .iter()
        .take_while(|token| is_spoken(token))
        .count();
    let follows = names(at + 1 + more) || behind_dish && ends(tokens.get(at + 1 + more));
    match (sound, worth(Some(at + 1))?) {
        _ if before.is_some() || !follows => None,
        (Sounds::Sure(_), 100 | 1000) => Some(Fate::Number(value, 0)),
        (Sounds::Perhaps(_), 100 | 1000) => stands.then_some(Fate::Unreadable),
        (Sounds::Sure(_), 10..100) if stands => Some(Fate::Number(value, 0)),
        (Sounds::Sure(_) | Sounds::Perhaps(_), 10..100) => {
            (begins || behind_dish).then_some(Fate::Unreadable)
        }
        _ => None,
    }
}

/// A word of a spoken number.
fn is_spoken(token: &Token) -> bool {
    number_words().holds(token) || matches!(token.norm(), "and" | "n" | "an")
}

fn ends(next: Option<&Token>) -> bool {
    next.is_none_or(|next| next.norm().is_empty() && !next.is_numeric() || joiners().holds(next))
}

/// "for tea", "ate teen".
fn with_ending(value: u32, next: Option<&Token>) -> (u32, usize) {
    match next.and_then(|next| heard().get(next.norm())) {
        Some("ty") => (value * 10, 1),
        Some("teen") => (value + 10, 1),
        _ => (value, 0),
    }
}

fn sounds(token: &Token) -> Option<Sounds> {
    let (how, value) = heard().get(token.norm())?.split_once(' ')?;
    let value = value.parse().ok()?;
    Some(match how {
        "sure" => Sounds::Sure(value),
        "perhaps" => Sounds::Perhaps(value),
        _ => Sounds::Behind(value),
    })
}

fn value_of(token: &Token) -> Option<u32> {
    number_words().get(token.norm())?.parse().ok()
}
