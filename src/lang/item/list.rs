//! A list of things with their amounts, what of it could not be read, and what only keeps it company: the
//! body of a portion, of what was wasted, of what is put back.

use super::held::held;
use super::{Named, in_order, items, whole_amount};
use crate::lang::amount::{grams, tidy};
use crate::lang::command::takes_back;
use crate::lang::lexicon::is_food_word;
use crate::lang::line::unknown_unit;
use crate::lang::name::{Familiarity, bare, familiarity};
use crate::lang::number::number;
use crate::lang::segment::{joined, segments, without_fillers};
use crate::lang::syntax::{Amount, Error, ErrorKind, Item, Span};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::{
    at_table, containers, fillers, number_words, outros, sharing, tails, taken_off, units,
};

/// Items, what could not be read as one, and what only keeps them company.
#[derive(Debug, Clone, Default)]
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

/// Without "twice" or "3 times" at the end, and how often that is.
fn how_often(segment: Tokens<'_>) -> (Tokens<'_>, f64) {
    let end = segment.len();
    let last = segment.last().map_or("", Token::norm);
    let from = match last {
        "twice" => end - 1,
        "times" if end > 1 => end - 2,
        _ => return (segment, 1.0),
    };
    let times = match number(segment.after(from)) {
        _ if last == "twice" => 2.0,
        Ok((_, count)) if count.value.fract() == 0.0 && TIMES.contains(&count.value) => count.value,
        _ => return (segment, 1.0),
    };
    let rest = segment.range(0, from);
    match rest.is_empty() || rest.has_number() {
        true => (rest, times),
        false => (segment, 1.0),
    }
}

/// Nobody takes the same more often at once.
const TIMES: std::ops::RangeInclusive<f64> = 2.0..=6.0;

/// A clause of other things: no number, no word of food, no name of the household; nothing that divides what
/// was said, or takes it back.
fn is_comment(input: Tokens<'_>) -> bool {
    let telling = |token: &Token| match &token.kind {
        Kind::Word(norm) => {
            input.vocabulary.has_word(norm)
                || is_food_word(norm)
                || containers().holds(token)
                || number_words().holds(token)
                || units().holds(token)
                || sharing().holds(token)
        }
        Kind::Symbol(c) => matches!(c, '?' | '$'),
        _ => token.is_numeric(),
    };
    input.len() <= COMMENT_TOKENS_MAX
        && !input.slice.iter().any(telling)
        && takes_back(input).is_none()
        && !(0..input.len()).any(|at| compares(input.after(at)))
}

/// "twice as much": how much of what was weighed.
fn compares(input: Tokens<'_>) -> bool {
    at_table()
        .longest(input.slice)
        .is_some_and(|(length, key)| length > 1 && key.ends_with(" times"))
}

const COMMENT_TOKENS_MAX: usize = 14;

/// A list of things with their amounts.
pub fn list(input: Tokens<'_>) -> Items {
    input.once(|memory| &memory.lists, || listed(input))
}

fn listed(input: Tokens<'_>) -> Items {
    if let Some(out) = in_order(input) {
        return Items {
            items: out.into_iter().filter_map(as_item).collect(),
            ..Items::default()
        };
    }
    if let Some(items) = of_each(input) {
        return Items {
            items,
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
        let (segment, times) = how_often(segment);
        let of_last = times > 1.0
            && segment.is_empty()
            && out.repeated(out.items.len().saturating_sub(1), times)
            || out.lessened(segment)
            || out.counted(segment);
        if of_last || out.had_more(whole.trimmed()) {
            out.idle.push(segment.span());
            continue;
        }
        if is_comment(segment) {
            out.comments.push(segment.span());
            continue;
        }
        match held(segment).map_or_else(|| items(segment), Ok) {
            Ok(named) => {
                let from = out.items.len();
                for named in named {
                    match unknown_unit(&named, segment) {
                        Some(error) => out.errors.push(error),
                        None => out.push(named),
                    }
                }
                if times > 1.0 && !out.repeated(from, times) {
                    let often = whole.range(whole.len() - 1, whole.len());
                    out.errors
                        .push(often.error(ErrorKind::LeftOver(often.words().text)));
                }
            }
            Err(error) => out.errors.push(error),
        }
    }
    out
}

/// "90 each of beans and salsa", "80 of both rice and beans": so much of everything that is named.
fn of_each(input: Tokens<'_>) -> Option<Vec<Item>> {
    let input = without_fillers(input.trimmed());
    let at = (1..input.len().min(4)).find(|&at| {
        matches!(
            (input.norm(at), input.norm(at + 1)),
            ("each", "of") | ("of", "each" | "both")
        )
    })?;
    let (_, amount) = whole_amount(input.range(0, at)).ok()?;
    let names = input.after(at + 2).split(|token| {
        matches!(token.kind, Kind::Symbol(',' | '&')) || matches!(token.norm(), "and" | "n")
    });
    let names = names.into_iter().map(|name| bare(name.trimmed()));
    let names: Vec<Tokens<'_>> = names.filter(|name| !name.is_empty()).collect();
    let known = |name: &Tokens<'_>| familiarity(&name.words().text, input) >= Familiarity::Food;
    let all = names.len() > 1 && names.iter().all(known);
    let item = |name: Tokens<'_>| Item::new(amount.clone(), name.words()).at(input.span());
    all.then(|| names.into_iter().map(item).collect())
}

/// "another 40 of it"
fn without_of_it(said: Tokens<'_>) -> Tokens<'_> {
    let end = said.len().saturating_sub(2);
    let of_it = end > 0 && said.norm(end) == "of";
    match said.norm(end + 1) {
        "it" | "that" | "them" | "those" if of_it => said.range(0, end),
        _ => said,
    }
}

fn is_counted(token: &Token) -> bool {
    let spoken = || number_words().holds(token) && !matches!(token.norm(), "a" | "an");
    token.is_numeric() || token.norm() == "half" || spoken()
}

/// "one more" of two ladles is a ladle; of 140 g it is nothing that was weighed.
fn of_last(amount: Amount, last: &Amount) -> Option<Amount> {
    let Amount::Bare(count) = amount else {
        return Some(amount);
    };
    match last {
        _ if count >= MORE_GRAMS_MIN => Some(amount),
        Amount::Pieces { measure, .. } => Some(Amount::Pieces {
            count,
            measure: measure.clone(),
        }),
        Amount::Volume {
            unit, qualifiers, ..
        } => Some(Amount::Volume {
            count,
            unit: *unit,
            qualifiers: qualifiers.clone(),
        }),
        _ => None,
    }
}

/// Less is a count.
const MORE_GRAMS_MIN: f64 = 10.0;

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
            Amount::Bare(_) | Amount::Mass(_) => false,
            // "3 ladles dal less 30": no "less" is eaten.
            _ => {
                let over = ErrorKind::LeftOver(segment.words().text);
                self.errors.push(segment.error(over));
                true
            }
        }
    }

    /// "a bit of rice, 150": how much of it that was.
    fn counted(&mut self, segment: Tokens<'_>) -> bool {
        let uncounted = |item: &&mut Item| matches!(item.amount, Amount::Uncounted(_));
        let (Some(item), Ok((_, amount))) = (
            self.items.last_mut().filter(uncounted),
            whole_amount(segment),
        ) else {
            return false;
        };
        item.amount = amount;
        true
    }

    /// "150 soup twice", "soup 150, 3 times": so often the same, if it is one thing and was weighed.
    fn repeated(&mut self, from: usize, times: f64) -> bool {
        let [item] = &mut self.items[from..] else {
            return false;
        };
        match item.amount {
            Amount::Bare(grams) | Amount::Mass(grams) => {
                item.amount = Amount::Mass(tidy(grams * times));
                true
            }
            _ => false,
        }
    }

    /// "half the dal then another 80", "40 and then another 25", "two ladles, then one more": as much more of the
    /// same. Every number of it must be so.
    fn had_more(&mut self, segment: Tokens<'_>) -> bool {
        let Some(at) = segment.find(|token| matches!(token.norm(), "another" | "more")) else {
            return false;
        };
        let parts = [segment.range(0, at), segment.after(at + 1)].map(without_fillers);
        let counts = |part: &&Tokens<'_>| part.slice.iter().any(is_counted);
        let Some(last) = self.items.last().cloned() else {
            return false;
        };
        // "60 more rice" names what it is of.
        let names =
            |token: &Token| segment.vocabulary.has_word(token.norm()) || is_food_word(token.norm());
        let mut others = parts.iter().filter(|part| !counts(part));
        if others.any(|part| part.slice.iter().any(names)) {
            return false;
        }
        let more = parts.iter().filter(counts).map(|part| {
            let (_, amount) = whole_amount(without_of_it(*part)).ok()?;
            Some(Item {
                amount: of_last(amount, &last.amount)?,
                span: segment.span(),
                ..last.clone()
            })
        });
        let more: Option<Vec<Item>> = more.collect();
        let more = more.filter(|more| !more.is_empty());
        let told = more.is_some();
        self.items.extend(more.into_iter().flatten());
        told
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
