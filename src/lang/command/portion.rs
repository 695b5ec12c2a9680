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

use crate::lang::amount::{grams, tidy};
use crate::lang::command::share::REST;
use crate::lang::command::{anyway, plate};
use crate::lang::item::{self, Named};
use crate::lang::lexicon::is_food_word;
use crate::lang::line::unknown_unit;
use crate::lang::segment::{joined, segments, without_fillers};
use crate::lang::syntax::{Amount, Error, ErrorKind, Item, PartSize, Portion, Share, Span};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::{
    containers, fillers, number_words, outros, selectors, tails, taken_off, units,
};

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
    let pieces = plate::plates(input);
    let first = one(input)?;
    let shared = first.portions.iter().any(|portion| portion.share.is_some());
    if pieces.len() < 2 || first.errors.is_empty() && shared {
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
    portion.items = items;
    let mut errors = errors;
    if !share_rest(&mut portion) {
        errors.push(input.error(ErrorKind::MissingAmount));
    }
    Some(Plates {
        portions: vec![portion],
        errors,
        comments,
        bodies: vec![body.span()],
        idle,
    })
}

/// Tell "the rest" in what the other parts leave over; false when that cannot be told.
fn share_rest(portion: &mut Portion) -> bool {
    let total = match portion.items.as_slice() {
        [
            Item {
                amount: Amount::Bare(grams) | Amount::Mass(grams),
                ..
            },
        ] => Some(*grams),
        _ => None,
    };
    let Some(Share::Parts(parts)) = &mut portion.share else {
        return true;
    };
    let told: f64 = parts
        .iter()
        .map(|part| {
            if let PartSize::Grams(grams) = part.size {
                grams
            } else {
                0.0
            }
        })
        .sum();
    if total.is_some_and(|total| told > total) {
        return false;
    }
    let Some(at) = parts.iter().position(|part| part.size == REST) else {
        return true;
    };
    let (mut shares, mut grams) = (0.0, 0.0);
    for part in parts.iter() {
        match part.size {
            PartSize::Of(share) => shares += share,
            PartSize::Grams(mass) => grams += mass,
        }
    }
    let rest = match total {
        _ if grams == 0.0 && shares < 1.0 => PartSize::Of(1.0 - shares),
        Some(total) if shares == 0.0 && grams < total => PartSize::Grams(total - grams),
        _ => return false,
    };
    parts[at].size = rest;
    true
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
    if let Some(out) = item::in_order(input) {
        return Items {
            items: out.into_iter().filter_map(as_item).collect(),
            ..Items::default()
        };
    }
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
        if out.chosen(segment) || out.lessened(segment) || out.had_more(whole.trimmed()) {
            out.idle.push(segment.span());
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

fn as_item(named: Named) -> Option<Item> {
    Some(Item {
        amount: named.amount?,
        name: named.name,
        container: named.container,
        span: named.span,
    })
}

impl Items {
    /// "190 dal, less 20 for the spoon", "200 soup, left 35 of it": taken off what was said before.
    fn lessened(&mut self, segment: Tokens<'_>) -> bool {
        let own = segment
            .slice
            .iter()
            .take_while(|token| matches!(token.norm(), "i" | "and" | "but" | "minus" | "less"))
            .count();
        let skip = own + usize::from(taken_off().has(segment.norm(own)));
        let takes = (0..skip).any(|at| taken_off().has(segment.norm(at)));
        let Ok((rest, less)) = grams(segment.after(skip)) else {
            return false;
        };
        let said_why = rest.is_empty()
            || tails().longest(rest.slice).is_some()
            || matches!(rest.norm(0), "for" | "of" | "behind");
        let Some(item) = self
            .items
            .last_mut()
            .filter(|_| takes && said_why && !rest.has_number())
        else {
            return false;
        };
        match item.amount {
            Amount::Bare(whole) | Amount::Mass(whole) if less < whole => {
                item.amount = Amount::Mass(tidy(whole - less));
                true
            }
            _ => false,
        }
    }

    /// "half the dal then another 80": as much more of the same.
    fn had_more(&mut self, segment: Tokens<'_>) -> bool {
        let Some(at) = segment.find(|token| matches!(token.norm(), "another" | "more")) else {
            return false;
        };
        let before = without_fillers(segment.range(0, at));
        let said = if before.has_number() {
            before
        } else {
            segment.after(at + 1)
        };
        let Ok((_, amount)) = item::whole_amount(without_fillers(said)) else {
            return false;
        };
        let Some(last) = self.items.last().filter(|_| said.has_number()) else {
            return false;
        };
        let more = Item {
            amount,
            span: segment.span(),
            ..last.clone()
        };
        self.items.push(more);
        true
    }

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
