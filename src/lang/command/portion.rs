//! What is on a plate, in any order and wrapping: "140 dal, 180 rice", "soup 130, beans 90",
//! "had 130 of the soup and 90 beans for lunch".
//!
//! ```text
//! portion := { filler | day | meal | who } items { day | meal | "for" who | filler } ["anyway"]
//! items   := item { sep item } | item item ...
//! item    := amount name | name [":"] amount
//! sep     := "," | ";" | newline | "." | "/" | "+" | "&" | "and" | "with" | "plus" | "then"
//! ```
//! "and" between two words stays in the name ("mac and cheese") unless an amount stands on both sides.

use crate::lang::command::{anyway, plate, share};
use crate::lang::item::{Items, list};
use crate::lang::person::person;
use crate::lang::syntax::{Amount, Error, ErrorKind, Item, Portion, Span};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::number_words;

/// The plates that a message describes, what of it could not be read, and what only keeps it company.
#[derive(Debug, Default)]
pub struct Plates {
    pub portions: Vec<Portion>,
    pub errors: Vec<Error>,
    pub comments: Vec<Span>,
    /// Where the items stand; what is around them was understood as when, whose and how shared.
    pub bodies: Vec<Span>,
    /// Words in them that carry nothing.
    pub idle: Vec<Span>,
}

/// The plates that a message may describe.
pub fn read(input: Tokens<'_>) -> Option<Plates> {
    if let Some(table) = share::read(input) {
        return Some(table);
    }
    let pieces = plate::plates(input);
    let first = one(input)?;
    if pieces.len() < 2 {
        return Some(first);
    }
    let mut portions = Vec::new();
    let mut comments = Vec::new();
    let mut bodies = Vec::new();
    let mut idle = Vec::new();
    for piece in pieces {
        let plate = one(piece);
        match plate {
            Some(plate) if plate.errors.is_empty() => {
                comments.extend(plate.comments);
                bodies.extend(plate.bodies);
                idle.extend(plate.idle);
                portions.extend(
                    plate
                        .portions
                        .into_iter()
                        .filter(|portion| !portion.items.is_empty()),
                );
            }
            Some(plate) => return Some(plate),
            None => {
                let errors = vec![piece.error(ErrorKind::NotUnderstood)];
                return Some(Plates { errors, ..first });
            }
        }
    }
    // The day and the meal that one plate tells hold for all.
    let day = portions.iter().find_map(|portion| portion.day.clone());
    let meal = portions.iter().find_map(|portion| portion.meal);
    for portion in &mut portions {
        portion.day = portion.day.take().or_else(|| day.clone());
        portion.meal = portion.meal.or(meal);
    }
    Some(Plates {
        portions,
        errors: Vec::new(),
        comments,
        bodies,
        idle,
    })
}

/// "finished off the old stew": all that is left of it.
fn finished(input: Tokens<'_>) -> Option<Plates> {
    // "Kim finished the dal"
    let (input, who) = match person(input) {
        Some((length, who)) => (input.after(length), Some(who)),
        None => (input, None),
    };
    let skip = input
        .slice
        .iter()
        .take_while(|token| matches!(token.norm(), "i" | "just" | "ive"))
        .count();
    let length = match (input.norm(skip), input.norm(skip + 1)) {
        ("finished" | "polished", "off") => 2,
        ("finished", _) => 1,
        _ => return None,
    };
    let name = crate::lang::name::bare(input.after(skip + length).trimmed());
    let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
    if !name.is_wordy() || !input.vocabulary.is_batch(&words) {
        return None;
    }
    let item = Item::new(Amount::Share(1.0), name.words()).at(input.span());
    Some(Plates {
        portions: vec![Portion {
            items: vec![item],
            who,
            ..Portion::default()
        }],
        ..Plates::default()
    })
}

/// One plate.
fn one(input: Tokens<'_>) -> Option<Plates> {
    if let Some(plates) = finished(input) {
        return Some(plates);
    }
    if !input.slice.iter().any(may_count) {
        return None;
    }
    let (input, anyway) = anyway(input);
    let mut portion = Portion {
        anyway,
        ..Portion::default()
    };
    let body = plate::around(input, &mut portion);
    let Items {
        items,
        errors,
        comments,
        idle,
    } = list(body);
    if items.is_empty() && errors.is_empty() {
        return None;
    }
    // "140 dal and 20 cheddar on it": on the dal.
    portion.with_that &= items.len() == 1 || plate::goes_with_last(input);
    portion.items = items;
    Some(Plates {
        portions: vec![portion],
        errors,
        comments,
        bodies: vec![body.span()],
        idle,
    })
}

/// A number, or a word that an amount may begin with.
fn may_count(token: &Token) -> bool {
    match &token.kind {
        Kind::Word(norm) => {
            matches!(
                norm.as_str(),
                "half"
                    | "quarter"
                    | "third"
                    | "rest"
                    | "all"
                    | "a"
                    | "an"
                    | "couple"
                    | "dozen"
                    | "some"
                    | "everything"
                    | "ladle"
                    | "finished"
                    | "polished"
            ) || number_words().holds(token)
        }
        _ => token.is_numeric(),
    }
}
