//! One thing and how much of it, in either order: "500 g red lentils", "red lentils 500 g",
//! "1 onion (110 g), chopped". A run of tokens becomes amounts and names in turn; how they pair
//! is the reading.

mod held;
mod list;
mod order;
mod own_weight;
mod pairing;
mod part_of;

use std::borrow::Cow;

use nom::Err;

use crate::lang::amount::{Of, Stands, amount, may_begin};
use crate::lang::lexicon::is_food_word;
use crate::lang::number::number;
use crate::lang::syntax::{Amount, Error, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;

pub use list::{Items, list};
pub use order::in_order;
pub use own_weight::own_weight_alone;
pub use pairing::{ingredient, items};

/// An amount or a name, in the order of the text.
#[derive(Debug, Clone)]
pub enum Piece<'a> {
    Amount {
        amount: Amount,
        said: Tokens<'a>,
        /// It stood in parentheses: it belongs to what is before it.
        aside: bool,
        /// "(400 g each)".
        of: Of,
    },
    Name(Tokens<'a>),
}

/// A name with its amount, if any.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    pub amount: Option<Amount>,
    pub name: Words,
    /// What it was weighed in: "310 dal in the blue bowl".
    pub container: Option<Words>,
    pub span: crate::lang::syntax::Span,
}

/// Cut a run of tokens into amounts and names.
pub fn pieces(input: Tokens<'_>) -> Result<Vec<Piece<'_>>, Error> {
    let mut out: Vec<Piece<'_>> = Vec::new();
    let mut named = false;
    let mut rest = input;
    while !rest.is_empty() {
        if rest.slice[0].is('(') {
            let close = rest.find(|token| token.is(')')).unwrap_or(rest.len());
            out.extend(aside(rest.range(1, close))?);
            rest = rest.after(close + 1);
            continue;
        }
        let stands = if named && !names_follow(rest) {
            Stands::AfterName
        } else {
            Stands::BeforeName
        };
        if let Some((next, amount)) = amount_here(rest, stands, out.last())? {
            let said = rest.range(0, rest.len() - next.len());
            out.push(Piece::Amount {
                amount,
                said,
                aside: false,
                of: Of::Unsaid,
            });
            rest = next;
            continue;
        }
        let length = name_length(rest)?;
        out.push(Piece::Name(rest.range(0, length)));
        named = true;
        rest = rest.after(length);
    }
    Ok(out)
}

/// An amount may begin a run, follow a name in digits, or end the run in words.
fn amount_here<'a>(
    input: Tokens<'a>,
    stands: Stands,
    before: Option<&Piece<'a>>,
) -> Result<Option<(Tokens<'a>, Amount)>, Error> {
    if is_tricky_name(input) || names_batch_a(input) {
        return Ok(None);
    }
    let digits = input.slice[0].is_numeric();
    let after_name = matches!(before, Some(Piece::Name(_)));
    // "the leek one" is the leek soup.
    let pronoun = input.norm(0) == "one" && input.len() == 1;
    if after_name && !digits && (pronoun || !may_begin(input)) {
        return Ok(None);
    }
    match amount(input, stands) {
        Ok((rest, amount))
            if digits || !after_name || rest.trimmed().is_empty() || is_worded_weight(input) =>
        {
            Ok(Some((rest, amount)))
        }
        Err(Err::Failure(error)) => Err(error),
        _ => Ok(None),
    }
}

/// A batch may be called "A": typed so, and at the end, it is no article.
fn names_batch_a(input: Tokens<'_>) -> bool {
    let alone = input.len() == 1 && input.words().text == "A";
    alone && input.vocabulary.is(Sense::Batch, &["a"])
}

/// "one ten", "two fifty": number words that a scale would show, also amid names.
fn is_worded_weight(input: Tokens<'_>) -> bool {
    number(input).is_ok_and(|(rest, number)| {
        let words = input.len() - rest.len();
        let named = rest.first().is_some_and(|token| {
            input.vocabulary.has_word(token.norm()) || is_food_word(token.norm())
        });
        number.worded && !number.article && number.value >= 20.0 && (words >= 2 || named)
    })
}

/// Whether a word follows the number that is no unit: in "beans 90 salsa 40" it is a name.
fn names_follow(input: Tokens<'_>) -> bool {
    input.len() > 3
}

/// Names with a number or a joining word in them that the household knows.
fn is_tricky_name(input: Tokens<'_>) -> bool {
    tricky_length(input) > 0
}

/// How many tokens at the front are a known name that holds a number or a joining word; the marks within it
/// ("7-up cake", "stew #2") are none of its words.
pub fn tricky_length(input: Tokens<'_>) -> usize {
    if !input.vocabulary.has_tricky_names() {
        return 0;
    }
    let is_mark =
        |token: &Token| matches!(token.kind, Kind::Symbol('-' | '#' | '(' | ')' | '.' | '&'));
    if input.first().is_none_or(is_mark) {
        return 0;
    }
    let told = || {
        input
            .slice
            .iter()
            .enumerate()
            .filter(|(_, token)| !is_mark(token))
    };
    let words = told().map(|(_, token)| match &token.kind {
        Kind::Word(norm) => Cow::Borrowed(norm.as_str()),
        _ => input.text[token.span.clone()].to_lowercase().into(),
    });
    let count = input.vocabulary.tricky_name(words);
    let last = count.checked_sub(1).and_then(|last| told().nth(last));
    last.map_or(0, |(at, _)| {
        let closes = input.get(at + 1).is_some_and(|token| token.is(')'));
        at + 1 + usize::from(closes && input.range(0, at).find(|token| token.is('(')).is_some())
    })
}

/// How many tokens belong to the name at the front: up to a number or a parenthesis.
fn name_length(input: Tokens<'_>) -> Result<usize, Error> {
    let mut at = tricky_length(input).max(1);
    while at < input.len() {
        let token = &input.slice[at];
        let numbered = input.slice[at - 1].norm() == "ndb";
        let in_name = matches!(token.kind, Kind::Percent(_) | Kind::Ratio(..));
        if token.is('(') || token.is_numeric() && !numbered && !in_name {
            break;
        }
        let rest = input.after(at);
        // "half and half" is cream.
        let cream = at > 1 && (input.norm(at - 2), input.norm(at - 1)) == ("half", "and");
        let joined = cream
            || matches!(
                input.norm(at - 1),
                "in" | "on" | "of" | "with" | "from" | "for" | "per"
            );
        if !numbered
            && (!joined || token.is_numeric())
            && may_begin(rest)
            && amount_here(rest, Stands::AfterName, Some(&Piece::Name(input)))?.is_some()
        {
            break;
        }
        at += 1;
    }
    Ok(at)
}

/// What stands in parentheses: an amount, or a comment that is passed over.
fn aside(input: Tokens<'_>) -> Result<Option<Piece<'_>>, Error> {
    let skip = input
        .slice
        .iter()
        .take_while(|token| {
            matches!(
                token.norm(),
                "about" | "approx" | "approximately" | "roughly" | "ca" | "around"
            )
        })
        .count();
    let input = input.after(skip);
    if !input.has_number() {
        return Ok(None);
    }
    if let Some(own) = own_weight_alone(input) {
        return Ok(Some(Piece::Amount {
            amount: Amount::Mass(own.grams),
            said: input,
            aside: true,
            of: own.of,
        }));
    }
    match amount(input, Stands::AfterName) {
        Ok((rest, amount)) => {
            let mut words = input.slice.iter();
            let of = words.find_map(|token| Of::word(token.norm()));
            let told = rest.slice.iter().all(|token| {
                let beside = matches!(token.norm(), "raw" | "in" | "all" | "cooked" | "weight");
                beside || Of::word(token.norm()).is_some()
            });
            if !told {
                return Ok(None);
            }
            Ok(Some(Piece::Amount {
                amount,
                said: input,
                aside: true,
                of: of.unwrap_or(Of::Unsaid),
            }))
        }
        Err(Err::Failure(error)) => Err(error),
        Err(_) => Ok(None),
    }
}

/// The whole of the tokens as one amount.
pub fn whole_amount(input: Tokens<'_>) -> Read<'_, Amount> {
    let (rest, amount) = amount(input, Stands::AfterName)?;
    if rest.trimmed().is_empty() {
        Ok((rest.after(rest.len()), amount))
    } else {
        input.no()
    }
}
