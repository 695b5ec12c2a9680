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

use crate::lang::amount::{Stands, amount, may_begin};
use crate::lang::command::anyway;
use crate::lang::date::{day, meal};
use crate::lang::item::{self, Named, tricky_length};
use crate::lang::name::{is_filler, is_preparation};
use crate::lang::syntax::{Error, ErrorKind, Item, Portion};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;
use crate::lang::words::number_words;

/// The plate that a message may describe, and what of it could not be read.
pub fn read(input: Tokens<'_>) -> Option<(Portion, Vec<Error>)> {
    if !input.slice.iter().any(may_count) {
        return None;
    }
    let (input, anyway) = anyway(input);
    let mut portion = Portion {
        anyway,
        ..Portion::default()
    };
    let body = around(input, &mut portion);
    let Items { items, errors } = list(body);
    if items.is_empty() && errors.is_empty() {
        return None;
    }
    portion.items = items;
    Some((portion, errors))
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
            ) || number_words().has(norm)
        }
        _ => token.is_numeric(),
    }
}

/// Take the day, the meal and whose plate it is off both ends.
fn around<'a>(input: Tokens<'a>, portion: &mut Portion) -> Tokens<'a> {
    let mut rest = input.trimmed();
    while let Some(next) = front(rest, portion) {
        rest = next.without_lead();
    }
    while let Some(next) = back(rest, portion) {
        rest = next.trimmed_end();
    }
    rest
}

fn front<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    if input.is_empty() {
        return None;
    }
    if portion.meal.is_none() {
        if let Ok((rest, meal)) = meal(input) {
            portion.meal = Some(meal);
            return Some(rest);
        }
    }
    if portion.day.is_none() && !input.slice[0].is_numeric() {
        if let Ok((rest, day)) = day(input) {
            // "yesterday's dal", "Sunday dal 200": the day chooses the batch.
            let chooses =
                input.norm(0).ends_with('s') && input.norm(0) != "tues" && input.norm(0) != "thurs";
            let ends = rest.is_empty()
                || rest
                    .first()
                    .is_some_and(|token| token.is(':') || token.is(',') || token.is_numeric())
                || meal(rest).is_ok()
                || is_filler(&rest.slice[0]);
            if !chooses && ends {
                portion.day = Some(day);
                return Some(rest);
            }
        }
    }
    if portion.who.is_none() {
        if let Some(rest) = who_front(input, portion) {
            return Some(rest);
        }
    }
    None
}

/// "Ana had", "Ana:", "for Ana", "Ana's lunch"
fn who_front<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    let skip = usize::from(input.norm(0) == "for");
    let said = input.norm(skip);
    let possessive = said
        .strip_suffix('s')
        .filter(|name| input.vocabulary.is(Sense::Person, &[name]));
    if said.is_empty() || !(possessive.is_some() || input.vocabulary.is(Sense::Person, &[said])) {
        return None;
    }
    let rest = input.after(skip + 1);
    let leads = skip > 0
        || possessive.is_some()
        || matches!(
            rest.norm(0),
            "had" | "ate" | "has" | "is" | "gets" | "got" | "took" | "having" | "eats"
        )
        || rest
            .first()
            .is_some_and(|token| token.is(':') || token.is_numeric() || token.is('-'));
    if !leads {
        return None;
    }
    portion.who = Some(input.range(skip, skip + 1).words());
    let verb = usize::from(matches!(rest.norm(0), "has" | "is" | "gets" | "eats"));
    let verb = verb + usize::from(verb == 1 && rest.norm(1) == "having");
    Some(rest.after(verb))
}

fn back<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    let length = input.len();
    for take in (1..=4.min(length.saturating_sub(1))).rev() {
        let tail = input.after(length - take);
        if portion.meal.is_none() && !matches!(tail.norm(0), "tea" | "snack") {
            if let Ok((rest, meal)) = meal(tail) {
                if rest.is_empty() {
                    portion.meal = Some(meal);
                    return Some(input.range(0, length - take));
                }
            }
        }
        if portion.day.is_none() {
            if let Ok((rest, day)) = day(tail) {
                if rest.is_empty() && !tail.slice[0].is_numeric() {
                    portion.day = Some(day);
                    return Some(input.range(0, length - take));
                }
            }
        }
        if portion.who.is_none()
            && take == 2
            && tail.norm(0) == "for"
            && input.vocabulary.is(Sense::Person, &[tail.norm(1)])
        {
            portion.who = Some(tail.after(1).words());
            return Some(input.range(0, length - take));
        }
    }
    let last = input.last()?;
    let polite = matches!(
        last.norm(),
        "please" | "pls" | "plz" | "thanks" | "thx" | "now" | "me"
    ) || last.is('!');
    if polite && last.norm() == "me" && input.norm(length.saturating_sub(2)) == "for" {
        return Some(input.range(0, length - 2));
    }
    (polite && length > 1 && last.norm() != "me").then(|| input.range(0, length - 1))
}

/// Items, and what could not be read as one.
#[derive(Debug, Default)]
pub struct Items {
    pub items: Vec<Item>,
    pub errors: Vec<Error>,
}

/// A list of things with their amounts.
pub fn list(input: Tokens<'_>) -> Items {
    let mut out = Items::default();
    for segment in joined(input, &segments(input)) {
        let segment = without_fillers(segment.trimmed());
        if segment.is_empty() {
            continue;
        }
        match item::items(segment) {
            Ok(named) => {
                for named in named {
                    out.push(named);
                }
            }
            Err(error) => out.errors.push(error),
        }
    }
    out
}

impl Items {
    fn push(&mut self, named: Named) {
        match named.amount {
            Some(amount) if !named.name.text.is_empty() => self.items.push(Item {
                container: None,
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

/// Skip words that carry nothing, up to an amount or a name.
fn without_fillers(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input;
    while let Some(first) = rest.first() {
        if !is_filler(first) || rest.len() == 1 && !matches!(first.kind, Kind::Symbol(_)) {
            break;
        }
        if may_begin(rest) && amount(rest, Stands::BeforeName).is_ok() {
            break;
        }
        rest = rest.after(1);
    }
    rest
}

/// A run between separators (places in the input), and whether the separator before it may belong to a
/// name or a sum.
struct Segment {
    from: usize,
    to: usize,
    soft: bool,
}

fn segments(input: Tokens<'_>) -> Vec<Segment> {
    let mut out = Vec::new();
    let (mut from, mut at, mut depth) = (0, 0, 0_i32);
    let mut soft = false;
    while at < input.len() {
        let known = tricky_length(input.after(at));
        if known > 1 {
            at += known;
            continue;
        }
        match input.slice[at].kind {
            Kind::Symbol('(') => depth += 1,
            Kind::Symbol(')') => depth -= 1,
            _ => {}
        }
        if let Some(next_soft) = separator(input, at).filter(|_| depth <= 0) {
            out.push(Segment { from, to: at, soft });
            from = at + 1;
            soft = next_soft;
        }
        at += 1;
    }
    let to = input.len();
    out.push(Segment { from, to, soft });
    out.retain(|segment| !input.range(segment.from, segment.to).trimmed().is_empty());
    out
}

/// Whether the token separates, and whether softly.
fn separator(input: Tokens<'_>, at: usize) -> Option<bool> {
    let token = &input.slice[at];
    let between_numbers = at > 0
        && input.slice[at - 1].is_numeric()
        && input.get(at + 1).is_some_and(Token::is_numeric);
    match token.kind {
        Kind::Newline | Kind::Symbol(',' | ';' | '!') => Some(false),
        Kind::Symbol('.')
            if input.get(at + 1).is_none_or(|next| next.spaced) && !is_unit_before(input, at) =>
        {
            Some(false)
        }
        Kind::Symbol('+' | '&') if !between_numbers => Some(true),
        Kind::Symbol('-') if token.spaced && !between_numbers => Some(true),
        Kind::Symbol('/') if token.spaced => Some(true),
        Kind::Word(ref norm)
            if matches!(
                norm.as_str(),
                "and" | "with" | "plus" | "then" | "n" | "und" | "et" | "y"
            ) =>
        {
            // "two and a half": within a number.
            let half = matches!(input.norm(at + 1), "half" | "quarter")
                || (input.norm(at + 1) == "a" && matches!(input.norm(at + 2), "half" | "quarter"));
            let counted = at > 0
                && (input.slice[at - 1].is_numeric() || number_words().has(input.norm(at - 1)));
            let hundred = at > 0
                && matches!(input.norm(at - 1), "hundred" | "thousand")
                && number_words().has(input.norm(at + 1));
            (!(half && counted) && !hundred).then_some(true)
        }
        _ => None,
    }
}

fn is_unit_before(input: Tokens<'_>, at: usize) -> bool {
    at >= 2
        && input.slice[at - 2].is_numeric()
        && crate::lang::unit::unit(input.range(at - 1, at)).is_ok()
}

/// Put segments together again that are one item: "mac" "and" "cheese", "soup" newline "130".
fn joined<'a>(input: Tokens<'a>, segments: &[Segment]) -> Vec<Tokens<'a>> {
    let mut out: Vec<(usize, usize)> = Vec::new();
    let mut before = Content::Both;
    for segment in segments {
        let tokens = input.range(segment.from, segment.to);
        let here = content(tokens);
        let prepared = !segment.soft
            && before == Content::Both
            && here == Content::Name
            && is_preparation(tokens.trimmed());
        if prepared && !out.is_empty() {
            continue;
        }
        let name_first = !may_begin(without_fillers(tokens.trimmed()));
        let joins = match (segment.soft, before, here) {
            (_, Content::Amount, Content::Name) | (_, Content::Name, Content::Amount) => true,
            (true, _, Content::Name) | (true, Content::Amount, _) => true,
            (true, Content::Name, Content::Both) => name_first,
            _ => false,
        };
        match out.last_mut() {
            Some(last) if joins => {
                last.1 = segment.to;
                before = before.and(here);
            }
            _ => {
                out.push((segment.from, segment.to));
                before = here;
            }
        }
    }
    out.into_iter()
        .map(|(from, to)| input.range(from, to))
        .collect()
}

/// What a segment holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Content {
    Amount,
    Name,
    Both,
}

impl Content {
    fn and(self, other: Self) -> Self {
        if self == other { self } else { Self::Both }
    }
}

fn content(input: Tokens<'_>) -> Content {
    let input = without_fillers(input.trimmed());
    let Ok(pieces) = item::pieces(input) else {
        return Content::Both;
    };
    let amount = pieces
        .iter()
        .any(|piece| matches!(piece, item::Piece::Amount { .. }));
    let name = pieces
        .iter()
        .any(|piece| matches!(piece, item::Piece::Name(_)));
    match (amount, name) {
        (true, false) => Content::Amount,
        (false, true) => Content::Name,
        _ => Content::Both,
    }
}
