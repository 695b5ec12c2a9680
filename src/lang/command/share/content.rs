//! What stands between people and days: things with their amounts, a name alone, or only how much.
//!
//! ```text
//! content := items | name | size { sep size } | size ["out"] "of" items | name "was" amount
//! size    := size.rs
//! ```

use super::mark::parts;
use super::size::{Size, size};
use crate::lang::amount::{Stands, amount};
use crate::lang::item::list;
use crate::lang::item::whole_amount;
use crate::lang::name::{Familiarity, bare, familiarity};
use crate::lang::number::number;
use crate::lang::segment::without_fillers;
use crate::lang::syntax::{Amount, Item, Span, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::{at_scale, at_table, containers, pots, sharing};

#[derive(Debug, Clone, PartialEq)]
pub enum Content {
    Items(Vec<Item>),
    Name(Words),
    Sizes(Vec<Size>),
    /// "90 of it": of what was told before.
    Part(Size),
    /// "290 of 500 dal"
    Of(Size, Vec<Item>),
    /// "half as much rice as me", "the same of spinach"
    Sized(Size, Words),
}

pub struct Found {
    pub content: Option<Content>,
    /// Where it stands, but for words that only join it.
    pub spans: Vec<Span>,
    pub idle: Vec<Span>,
    pub comments: Vec<Span>,
}

/// So many places are tried to cut a run in two.
const SEPARATORS_MAX: usize = 4;
/// No more than so many tokens are a size.
const SIZE_TOKENS_MAX: usize = 5;

/// Read a run between two marks wholly: one content, or sizes beside it: "250 rice half", "210, and 160 dal".
pub fn contents(run: Tokens<'_>) -> Option<Vec<Found>> {
    match content(run) {
        Some(found) if found.is_familiar(run, Familiarity::Partly) => Some(vec![found]),
        whole => two(run).or(whole.map(|found| vec![found])),
    }
}

impl Found {
    /// Whether its names are known so well.
    pub fn is_familiar(&self, run: Tokens<'_>, least: Familiarity) -> bool {
        match &self.content {
            Some(Content::Items(items) | Content::Of(_, items)) => items
                .iter()
                .all(|item| familiarity(&item.name.text, run) >= least),
            Some(Content::Name(name)) => familiarity(&name.text, run) >= least,
            _ => true,
        }
    }
}

fn two(run: Tokens<'_>) -> Option<Vec<Found>> {
    let told = |found: &Found| found.content.is_some();
    let separated = (1..run.len())
        .filter(|&at| parts(&run.slice[at]))
        .take(SEPARATORS_MAX)
        .find_map(|at| {
            let first = unlisted(run.range(0, at))
                .filter(|found| !matches!(found.content, Some(Content::Items(_))))?;
            let rest = run.after(at).trimmed_front();
            Some(vec![first, content(rest).filter(told)?])
        });
    if separated.is_some() {
        return separated;
    }
    let longest = SIZE_TOKENS_MAX.min(run.len().saturating_sub(1));
    (1..=longest).rev().find_map(|length| {
        let at = run.len() - length;
        let size = unlisted(run.after(at))
            .filter(|found| matches!(found.content, Some(Content::Sizes(_) | Content::Part(_))))?;
        let first = content(without_joint(run.range(0, at))).filter(told)?;
        Some(vec![first, size])
    })
}

/// "400 barley but"
fn without_joint(run: Tokens<'_>) -> Tokens<'_> {
    let run = run.trimmed();
    match run.last() {
        Some(last) if run.len() > 1 && parts(last) => without_joint(run.range(0, run.len() - 1)),
        _ => run,
    }
}

/// What a run is about; nothing when it holds a size of something else.
fn body(run: Tokens<'_>) -> Option<Tokens<'_>> {
    let body = run.trimmed();
    if asides(body) {
        return None;
    }
    // "one pan 540 dal"
    let led = at_table().longest_of(body.slice, "lead");
    if led.is_some_and(|length| body.get(length).is_some_and(Token::is_numeric)) {
        return Some(without_lead(body));
    }
    // "the last of the dal" is an amount.
    Some(match amount(body, Stands::BeforeName) {
        Ok(_) => body,
        Err(_) => without_lead(without_fillers(body)),
    })
}

fn around(run: Tokens<'_>, body: Tokens<'_>) -> Vec<Span> {
    let (run, body) = (run.span(), body.span());
    vec![run.start..body.start, body.end..run.end]
}

/// One content that needs no list to tell.
fn unlisted(run: Tokens<'_>) -> Option<Found> {
    let body = body(run).filter(|body| !body.is_empty())?;
    let whole = |content| (content, vec![body.span()]);
    let (content, spans) = part(body)
        .map(|part| whole(Content::Part(part)))
        .or_else(|| sizes(body).map(|sizes| whole(Content::Sizes(sizes))))
        .or_else(|| of(body))
        .or_else(|| name(body).map(|name| whole(Content::Name(name))))?;
    Some(Found {
        content: Some(content),
        spans,
        idle: around(run, body),
        comments: Vec::new(),
    })
}

/// The whole run as one content.
pub fn content(run: Tokens<'_>) -> Option<Found> {
    unlisted(run).or_else(|| items(run))
}

fn items(run: Tokens<'_>) -> Option<Found> {
    let body = body(run)?;
    if body.is_empty() {
        return Some(Found {
            content: None,
            spans: Vec::new(),
            idle: vec![run.span()],
            comments: Vec::new(),
        });
    }
    let around = around(run, body);
    let one = product(body).map(|item| (item, vec![body.span()]));
    if let Some((item, spans)) = one.or_else(|| told(body)) {
        return Some(Found {
            content: Some(Content::Items(vec![item])),
            spans,
            idle: around,
            comments: Vec::new(),
        });
    }
    let listed = list(body);
    // "300 dal, half" is no dal with talk beside it.
    let shares = |span: &Span| {
        let within = |token: &&Token| span.contains(&token.span.start);
        body.slice
            .iter()
            .filter(within)
            .any(|token| sharing().holds(token))
    };
    // "500 barley: 2 parts"
    let part = |item: &Item| {
        matches!(
            item.name.text.as_str(),
            "part" | "parts" | "share" | "shares"
        )
    };
    // "barley: 55%"
    let odd = |item: &Item| {
        let within = |token: &&Token| item.name.span.contains(&token.span.start);
        let mut said = body.slice.iter().filter(within);
        said.any(|token| matches!(token.kind, Kind::Percent(_)))
    };
    if listed.items.iter().any(|item| part(item) || odd(item))
        || !listed.errors.is_empty()
        || listed.comments.iter().chain(&listed.idle).any(shares)
    {
        return None;
    }
    let items: Vec<Item> = listed
        .items
        .into_iter()
        .map(|item| of_vessel(item, body))
        .collect();
    Some(Found {
        content: (!items.is_empty()).then_some(Content::Items(items)),
        spans: vec![body.span()],
        idle: [around, listed.idle].concat(),
        comments: listed.comments,
    })
}

/// "(with 30 cheddar)": something that stands in brackets and is no size of what is before it.
fn asides(run: Tokens<'_>) -> bool {
    let opens =
        |at: &usize| run.slice[*at].is('(') && !run.get(at + 1).is_some_and(Token::is_numeric);
    (0..run.len())
        .filter(opens)
        .any(|at| run.after(at).has_number())
}

/// "there was", "a pan of": what may stand before the whole.
fn without_lead(input: Tokens<'_>) -> Tokens<'_> {
    match at_table().longest_of(input.slice, "lead") {
        Some(length) if length < input.len() => without_lead(without_fillers(input.after(length))),
        _ => input,
    }
}

fn sizes(body: Tokens<'_>) -> Option<Vec<Size>> {
    if let Some(size) = size(body) {
        return Some(vec![size]);
    }
    let parts = body.split(|token| {
        matches!(token.kind, Kind::Symbol(',' | '/' | '&') | Kind::Newline) || token.norm() == "and"
    });
    let parts = parts
        .into_iter()
        .map(|part| part.trimmed())
        .filter(|part| !part.is_empty());
    let all: Option<Vec<Size>> = parts.map(size).collect();
    all.filter(|all| all.len() > 1)
}

/// "90 of it"
fn part(body: Tokens<'_>) -> Option<Size> {
    let at = body.len().checked_sub(2).filter(|at| *at > 0)?;
    let told = body.norm(at) == "of"
        && matches!(
            body.norm(at + 1),
            "it" | "that" | "those" | "them" | "this" | "which"
        );
    if told { size(body.range(0, at)) } else { None }
}

/// "290 of 500 dal", "half of 500 g dal": a part of what was weighed.
fn of(body: Tokens<'_>) -> Option<(Content, Vec<Span>)> {
    let at = body
        .slice
        .iter()
        .take(8)
        .position(|token| token.norm() == "of")?;
    let front = body.range(0, at);
    let part = match front.last() {
        Some(last) if last.norm() == "out" => size(front.range(0, at - 1))?,
        _ => size(front)?,
    };
    let mut rest = body.after(at + 1);
    while matches!(
        rest.norm(0),
        "the" | "a" | "my" | "our" | "that" | "this" | "about" | "an"
    ) {
        rest = rest.take_one();
    }
    // "half of the 2% milk" tells no weight.
    let weight = |token: &Token| token.is_numeric() && !matches!(token.kind, Kind::Percent(_));
    if !rest.first().is_some_and(weight) {
        return None;
    }
    let spans = vec![front.range(0, 1).span(), rest.span()];
    if let Some(item) = dished(rest) {
        return Some((Content::Of(part, vec![item]), spans));
    }
    let mut listed = list(rest);
    // "5 portions of 120 beans"
    if let (Size::Amount(Amount::Pieces { count, .. }), [item]) =
        (&part, listed.items.as_mut_slice())
        && let Amount::Bare(grams) | Amount::Mass(grams) = item.amount
        && count.fract() == 0.0
        && *count > 1.0
    {
        item.amount = portions(*count, grams);
        return Some((Content::Items(listed.items), spans));
    }
    let whole = listed.errors.is_empty() && listed.comments.is_empty() && !listed.items.is_empty();
    whole.then_some((Content::Of(part, listed.items), spans))
}

/// "450 portion of rice", "500 g pan of chilli"
fn dished(input: Tokens<'_>) -> Option<Item> {
    let (rest, weight) = number(input).ok()?;
    let unit = usize::from(matches!(rest.norm(0), "g" | "gram" | "grams"));
    let (rest, weight) = (rest.after(unit), weight.value);
    let vessel = containers().has(rest.norm(0))
        || pots().has(rest.norm(0))
        || at_table().longest_of(rest.slice, "plate").is_some();
    if !vessel || rest.norm(1) != "of" || weight < 20.0 {
        return None;
    }
    Some(Item::new(Amount::Mass(weight), name(rest.after(2))?).at(input.span()))
}

/// A name of something to eat and nothing else.
fn name(body: Tokens<'_>) -> Option<Words> {
    let words = without_vessel(bare(body)).words();
    let wordy = body
        .slice
        .iter()
        .all(|token| matches!(token.kind, Kind::Word(_)));
    (wordy && familiarity(&words.text, body) >= Familiarity::Food).then_some(words)
}

/// "chilli pan", "tray of parsnips": what it stood in is no part of the name.
fn without_vessel(name: Tokens<'_>) -> Tokens<'_> {
    let vessel = |token: &Token| containers().holds(token) || pots().holds(token);
    let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
    if name.vocabulary.known(&words).is_some() {
        return name;
    }
    match name.last() {
        Some(last) if name.len() > 1 && vessel(last) => name.range(0, name.len() - 1),
        // "one tray of parsnips"
        _ if name.norm(0) == "one" && name.get(1).is_some_and(vessel) => {
            without_vessel(name.take_one())
        }
        _ if name.len() > 2 && vessel(&name.slice[0]) && name.norm(1) == "of" => {
            bare(name.after(2))
        }
        _ => name,
    }
}

/// "900 g chilli pan", "600 g pot of dal": what is in it.
fn of_vessel(item: Item, body: Tokens<'_>) -> Item {
    if familiarity(&item.name.text, body) >= Familiarity::Food {
        return item;
    }
    let within = |token: &&Token| item.name.span.contains(&token.span.start);
    let from = body.slice.iter().take_while(|token| !within(token)).count();
    let length = body.slice[from..].iter().take_while(within).count();
    match name(body.range(from, from + length)) {
        Some(name) => Item { name, ..item },
        None => item,
    }
}

/// So many plates of so much each.
fn portions(count: f64, grams: f64) -> Amount {
    Amount::Each {
        count,
        grams,
        measure: vec!["portion".into()],
    }
}

/// "3 x 140 barley": so much, so many times.
fn product(body: Tokens<'_>) -> Option<Item> {
    let (rest, times) = number(body).ok()?;
    if rest.norm(0) != "x" && !rest.first().is_some_and(|token| token.is('×')) {
        return None;
    }
    let (rest, weight) = number(rest.take_one()).ok()?;
    let unit = usize::from(matches!(rest.norm(0), "g" | "gram" | "grams"));
    let plain = times.value.fract() == 0.0 && weight.value >= 20.0;
    Some(
        Item::new(
            portions(times.value, weight.value),
            name(rest.after(unit)).filter(|_| plain)?,
        )
        .at(body.span()),
    )
}

/// "the chili pan was 900", "pan of beans 420": what a whole weighed.
fn told(body: Tokens<'_>) -> Option<(Item, Vec<Span>)> {
    let at = body.slice.iter().position(|token| token.is_numeric())?;
    let copula = (0..at).find(|&at| {
        matches!(
            body.norm(at),
            "was" | "is" | "weighed" | "held" | "came" | "totalled"
        )
    });
    let end = copula.unwrap_or(at);
    let vessel = |token: &Token| containers().holds(token) || pots().holds(token);
    // "Ana's salsa was 70" puts something right.
    let puts_right = copula.is_some_and(|at| matches!(body.norm(at), "was" | "is"));
    if puts_right && !body.slice[..end].iter().any(vessel) {
        return None;
    }
    let named = name(body.range(0, end))?;
    let mut from = copula.map_or(at, |at| at + 1);
    while matches!(body.norm(from), "to" | "out" | "about" | "in" | "at") {
        from += 1;
    }
    let weight = body.after(from);
    // "720 in total"
    let total = (1..weight.len()).find(|&at| {
        at_scale().longest_of(weight.after(at).slice, "gross") == Some(weight.len() - at)
    });
    let (_, amount) = whole_amount(weight.range(0, total.unwrap_or(weight.len()))).ok()?;
    let spans = vec![named.span.clone(), weight.span()];
    let item = Item::new(amount, named).at(body.span());
    Some((item, spans))
}
