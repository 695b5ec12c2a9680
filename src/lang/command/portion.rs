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
use crate::lang::item::{self, Named};
use crate::lang::lexicon::is_food_word;
use crate::lang::line::unknown_unit;
use crate::lang::segment::{joined, segments, without_fillers};
use crate::lang::syntax::{Amount, Error, ErrorKind, Item, Portion, Span};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::{containers, fillers, number_words, outros, selectors, units};

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
    let item = Item {
        amount: Amount::Share(1.0),
        name: name.words(),
        container: None,
        span: input.span(),
    };
    Some(Plates {
        portions: vec![Portion {
            items: vec![item],
            ..Portion::default()
        }],
        ..Plates::default()
    })
}

/// "-5 g dal" alone is no list with one bullet.
fn below_zero(input: Tokens<'_>) -> Option<Error> {
    let glued = input.first()?.is('-')
        && input
            .get(1)
            .is_some_and(|token| token.is_numeric() && !token.spaced);
    let listed = input
        .slice
        .iter()
        .any(|token| matches!(token.kind, Kind::Newline | Kind::Symbol(',' | ';' | '+')));
    if !glued || listed {
        return None;
    }
    let unit =
        crate::lang::unit::unit(input.after(2)).map_or(0, |(rest, _)| input.len() - 2 - rest.len());
    let said = input.range(0, 2 + unit);
    Some(said.error(ErrorKind::NotAMass(said.words().text)))
}

/// One plate.
fn one(input: Tokens<'_>) -> Option<Plates> {
    if let Some(plates) = finished(input) {
        return Some(plates);
    }
    if let Some(error) = below_zero(input) {
        return Some(Plates {
            portions: vec![Portion::default()],
            errors: vec![error],
            ..Plates::default()
        });
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
                    | "finished"
                    | "polished"
            ) || number_words().has(norm)
        }
        _ => token.is_numeric(),
    }
}

/// Items, what could not be read as one, and what only keeps them company.
#[derive(Debug, Default)]
pub struct Items {
    pub items: Vec<Item>,
    pub errors: Vec<Error>,
    /// Clauses without a number or a food in them: "wet hands sry".
    pub comments: Vec<Span>,
    /// Words around items that carry nothing: "just had", "I think it said".
    pub idle: Vec<Span>,
}

/// What of the whole stands before and after the part.
fn around(whole: Tokens<'_>, part: Tokens<'_>) -> Vec<Span> {
    if part.is_empty() {
        return Vec::new();
    }
    let (whole, part) = (whole.span(), part.span());
    vec![whole.start..part.start, part.end..whole.end]
}

/// A clause of other things: no number, no word of food, no name of the household.
fn is_comment(input: Tokens<'_>) -> bool {
    let telling = |token: &Token| match &token.kind {
        Kind::Word(norm) => {
            input.vocabulary.has_word(norm)
                || is_food_word(norm)
                || containers().has(norm)
                || number_words().has(norm)
                || units().has(norm)
        }
        Kind::Symbol(c) => matches!(c, '?' | '$'),
        _ => token.is_numeric(),
    };
    input.len() <= COMMENT_TOKENS_MAX && !input.slice.iter().any(telling)
}

const COMMENT_TOKENS_MAX: usize = 14;

/// A list of things with their amounts.
pub fn list(input: Tokens<'_>) -> Items {
    let mut out = Items::default();
    for whole in joined(input, &segments(input)) {
        let segment = without_fillers(whole.trimmed());
        out.idle.extend(around(whole, segment));
        if segment.is_empty() {
            continue;
        }
        let idle = fillers()
            .longest(segment.slice)
            .or_else(|| outros().longest(segment.slice));
        if idle.is_some_and(|(length, _)| length == segment.len()) {
            out.idle.push(segment.span());
            continue;
        }
        if out.chosen(segment) {
            continue;
        }
        if is_comment(segment) {
            out.comments.push(segment.span());
            continue;
        }
        match item::items(segment) {
            Ok(named) => {
                for named in named {
                    match unknown_unit(&named, segment) {
                        Some(error) => out.errors.push(error),
                        None => out.push(named),
                    }
                }
            }
            Err(error) => out.errors.push(error),
        }
    }
    out
}

impl Items {
    /// "260 stew, the new one": words that choose among the batches of the name before.
    fn chosen(&mut self, segment: Tokens<'_>) -> bool {
        let skip = usize::from(segment.norm(0) == "the");
        let chooses = selectors().has(segment.norm(skip))
            && segment.norm(skip + 1) == "one"
            && segment.len() == skip + 2;
        let Some(item) = self.items.last_mut().filter(|_| chooses) else {
            return false;
        };
        item.name.text = format!("{} {}", segment.norm(skip), item.name.text);
        true
    }

    fn push(&mut self, named: Named) {
        // "had some soup, 225 of it"
        if let (Some(amount), "it" | "that", Some(last)) = (
            &named.amount,
            named.name.text.as_str(),
            self.items.last_mut(),
        ) && matches!(last.amount, Amount::Uncounted(_))
        {
            last.amount = amount.clone();
            return;
        }
        match named.amount {
            Some(amount) if !named.name.text.is_empty() => self.items.push(Item {
                container: named.container,
                amount,
                name: named.name,
                span: named.span,
            }),
            Some(_) => self.errors.push(Error {
                kind: ErrorKind::MissingName,
                span: named.span,
            }),
            None => self.errors.push(Error {
                kind: ErrorKind::MissingAmount,
                span: named.name.span,
            }),
        }
    }
}
