//! The weight of things that were counted, told beside them: "2 eggs, 112 g together" is "2 eggs (112 g together)".
//!
//! ```text
//! beside := count [measure] name ["," | "-"] figure      at the end of its clause
//! figure := own weight of one or of all (item/own_weight.rs) | mass with its unit
//! ```
//! A dish is weighed and not counted, so it is only counted in a measure of its own: "2 ladles of dal, 340 g
//! together".

use super::amount::{Of, grams};
use super::item::own_weight_alone;
use super::lexicon::is_food;
use super::number::number;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::unit;
use super::vocabulary::{Sense, Vocabulary, singular};
use super::words::{containers, fillers, pots};

/// More are weighed, not counted.
const COUNT_MAX: f64 = 12.0;
const NAME_WORDS_MAX: usize = 4;

/// Put such a weight in brackets, in place.
pub fn bracket(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let mut at = 0;
    while at < tokens.len() {
        let input = Tokens::unread(tokens, text, vocabulary);
        let Some(beside) = begins(input, at).then(|| beside(input.after(at))).flatten() else {
            at += 1;
            continue;
        };
        let (from, end) = (at + beside.from, at + beside.to);
        let sign = |sign, place: usize| Token::new(Kind::Symbol(sign), place..place, false);
        let (open, close) = (tokens[from].span.start, tokens[end - 1].span.end);
        tokens.insert(end, sign(')', close));
        // A comma goes where the bracket comes.
        tokens.splice(at + beside.named..from, [sign('(', open)]);
        at = end;
    }
}

/// An item may begin here: at the front, behind a mark, behind words that carry nothing.
fn begins(input: Tokens<'_>, at: usize) -> bool {
    let Some(before) = at.checked_sub(1).map(|before| &input.slice[before]) else {
        return true;
    };
    match &before.kind {
        Kind::Word(norm) => {
            fillers().holds(before) || ["and", "plus", "with"].contains(&norm.as_str())
        }
        Kind::Symbol(c) => matches!(c, ',' | '+' | '&' | '.' | ':' | ';'),
        Kind::Newline => true,
        _ => false,
    }
}

/// The places of a weight behind what was counted.
struct Beside {
    /// Where the name ends.
    named: usize,
    from: usize,
    to: usize,
}

fn beside(input: Tokens<'_>) -> Option<Beside> {
    let (rest, count) = number(input).ok()?;
    let whole = count.value.fract() == 0.0 && !count.article;
    if !whole || !(2.0..=COUNT_MAX).contains(&count.value) || unit(rest).is_ok() {
        return None;
    }
    let first = input.len() - rest.len();
    let word = |token: &&Token| !token.norm().is_empty();
    let run = rest.slice.iter().take_while(word).count();
    let end = rest.slice[run..].iter().position(is_break);
    let separated = rest
        .get(run)
        .is_some_and(|token| token.is(',') || token.is('-'));
    let behind = run + usize::from(separated);
    let end = match separated {
        true => rest.slice[behind..]
            .iter()
            .position(is_break)
            .map_or(rest.len(), |at| behind + at),
        false => end.map_or(rest.len(), |at| run + at),
    };
    // "2 eggs at 56 g each": the words that lead to the figure are no name.
    (1..=run.min(NAME_WORDS_MAX)).rev().find_map(|length| {
        let from = if separated && length == run {
            behind
        } else {
            length
        };
        let figure = rest.range(from.min(end), end);
        let fits = is_counted(rest.range(0, length)) && weighs(figure, separated);
        (fits && (!separated || length == run)).then_some(Beside {
            named: first + length,
            from: first + from,
            to: first + end,
        })
    })
}

fn is_break(token: &Token) -> bool {
    match &token.kind {
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '!' | '+' | '&' | '(' | ')') => true,
        Kind::Word(norm) => ["and", "plus", "with"].contains(&norm.as_str()),
        _ => false,
    }
}

/// Words that end in something which comes in pieces, or in a dish by a measure of its own.
fn is_counted(name: Tokens<'_>) -> bool {
    let Some(token) = name.last() else {
        return false;
    };
    let last = token.norm();
    let vessel = containers().holds(token) || pots().holds(token);
    let known = !vessel && (is_food(&[last]) || name.vocabulary.has_word(last));
    let measured = || {
        let measure = singular(name.norm(0));
        name.vocabulary.is(Sense::Measure, &[&measure])
    };
    known && (!name.vocabulary.is_batch(&[last]) || measured())
}

fn weighs(figure: Tokens<'_>, separated: bool) -> bool {
    let own = own_weight_alone(figure).is_some_and(|own| matches!(own.of, Of::Each | Of::All));
    let alone = || {
        let weighed = grams(figure).is_ok_and(|(rest, _)| rest.is_empty());
        weighed && number(figure).is_ok_and(|(rest, _)| unit(rest).is_ok())
    };
    own || separated && alone()
}
