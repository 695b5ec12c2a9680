//! A message cut into marks: people, days, words of sharing, and what stands between them.

use super::content::{Content, Found, contents};
use super::loose;
use super::party::{self, Before, Role, Said, Who};
use super::relation::relation;
use super::size::Size;
use super::ways::ways;
use super::when::{denied_amount, denied_day, when};
use crate::lang::item::tricky_length;
use crate::lang::name::Familiarity;
use crate::lang::number::number;
use crate::lang::segment::without_fillers;
use crate::lang::syntax::{Day, MealName, Span};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;
use crate::lang::words::{at_table, outros};

#[derive(Debug, Clone)]
pub enum Mark {
    /// What parts two plates; a colon parts a heading from what it heads.
    Break {
        colon: bool,
    },
    Who(Said),
    When(Option<Day>, Option<MealName>),
    Each,
    /// "split", "equally", "half each"; a number when it was said ("3 ways").
    Split(Option<u32>),
    /// "one each": what was said is for all.
    OneEach,
    /// "60/40", "2:1:1"
    Ratio(Vec<f64>),
    /// "none", "skipped"
    Nothing,
    /// "too": like the one before.
    Too,
    /// "the day after" the last that was told
    DayAfter,
    /// Words that carry nothing, wherever they stand.
    Idle,
    /// Words that were passed over.
    Talk,
    /// "finished the salsa", without a word of who
    Finishes,
    Content(Content),
}

/// A message as marks, with the places of its contents and of words that carry nothing.
#[derive(Debug, Default)]
pub struct Marks {
    pub all: Vec<Mark>,
    pub bodies: Vec<Span>,
    pub comments: Vec<Span>,
    pub idle: Vec<Span>,
    /// Words may be passed over.
    freely: bool,
    /// Nothing is the sender's that is not said to be.
    pub expressly: bool,
}

/// The names of a household are no longer.
const NAME_WORDS_MAX: usize = 4;

/// Cut the whole message; `None` when something in it is neither a mark nor an amount nor a name. Read freely,
/// words that are none of these are passed over.
pub fn marks(input: Tokens<'_>, freely: bool) -> Option<Marks> {
    let mut out = Marks {
        freely,
        ..Marks::default()
    };
    let mut before = Before::default();
    let (mut from, mut at) = (0, 0);
    while at < input.len() {
        let rest = input.after(at);
        // "2 cans (400 g each)"
        if rest.slice[0].is('(') && rest.get(1).is_some_and(Token::is_numeric) {
            at += rest
                .find(|token| token.is(')'))
                .map_or(rest.len(), |close| close + 1);
            continue;
        }
        let known = name_length(rest);
        if known > 0 {
            at += known;
            continue;
        }
        let idle = without_fillers(input.range(from, at).trimmed()).is_empty();
        before.open = out.is_open() || !idle;
        let begins = idle || input.range(from, at).last().is_none_or(parts);
        let Some((length, mark)) = mark(rest, begins, &mut before)
            .or_else(|| out.now(rest).filter(|_| !idle))
            .or_else(|| out.shared(rest).filter(|_| idle))
        else {
            at += 1;
            continue;
        };
        // "50 rice from Tom", "not Ana": they are not told to eat.
        let named = matches!(&mark, Mark::Who(said) if said.role == Role::Plain);
        if named && at > 0 && turns_away(input.norm(at - 1)) {
            return None;
        }
        out.close(input.range(from, at), from == 0, false)?;
        match mark {
            Mark::Idle => out.idle.push(rest.range(0, length).span()),
            mark => out.all.push(mark),
        }
        at += length;
        from = at;
    }
    out.close(input.after(from), from == 0, true)?;
    Some(out)
}

impl Marks {
    /// "we r off", "Tom's at work so only me and Ana": people of whom something else is told. What was eaten must
    /// then be somebody's expressly, unless they are the sender.
    pub fn without_bystanders(mut self) -> Self {
        let mut named = false;
        for at in (1..self.all.len()).rev() {
            let Mark::Who(said) = &self.all[at - 1] else {
                continue;
            };
            let told = matches!(said.role, Role::Plain | Role::Subject) && !said.finishes;
            if !matches!(self.all[at], Mark::Talk) || !told {
                continue;
            }
            named |= matches!(&said.who, Who::Named(named) if named.iter().any(Option::is_some));
            self.all.remove(at - 1);
        }
        self.expressly = named;
        self
    }

    /// "soup: Ana 210 yesterday, me 180 now": today, where another day was told.
    fn now(&self, rest: Tokens<'_>) -> Option<(usize, Mark)> {
        let dated = |mark: &Mark| matches!(mark, Mark::When(Some(_), _));
        let now = rest.norm(0) == "now" && rest.get(1).is_none_or(parts);
        (now && self.all.iter().any(dated)).then_some((1, Mark::When(Some(Day::Today), None)))
    }

    /// "for me and Ana to share", "the other half Ana and Tom share"
    fn shared(&self, rest: Tokens<'_>) -> Option<(usize, Mark)> {
        let to = usize::from(rest.norm(0) == "to");
        let ends = rest.get(to + 1).is_none_or(parts);
        let several = |said: &Said| said.who.one().is_none();
        let told = matches!(self.all.last(), Some(Mark::Who(said)) if several(said));
        (rest.norm(to) == "share" && ends && told).then_some((to + 1, Mark::Split(None)))
    }

    /// Whether the last amount or name belongs to nobody yet.
    fn is_open(&self) -> bool {
        matches!(
            self.all
                .iter()
                .rev()
                .find(|mark| !matches!(mark, Mark::Break { .. } | Mark::When(..))),
            Some(Mark::Content(_))
        )
    }

    /// Take what stands between two marks, or at an end of the message.
    fn close(&mut self, run: Tokens<'_>, first: bool, last: bool) -> Option<()> {
        let start = run.slice.iter().take_while(|token| parts(token)).count();
        self.part(run.range(0, start));
        let end = run.slice[start..]
            .iter()
            .rev()
            .take_while(|token| parts(token))
            .count();
        let body = run.range(start, run.len() - end);
        if body.is_empty() {
            return Some(());
        }
        let read = contents(body).filter(|found| {
            // What is said beside stands apart, or gives a reason.
            let apart = (first || start > 0 || last && gives_reason(body)) && (last || end > 0);
            let beside =
                |found: &Found| found.content.is_none() && !found.comments.is_empty() && !apart;
            !found.iter().any(beside)
        });
        let familiar = |found: &Vec<Found>| {
            found
                .iter()
                .all(|found| found.is_familiar(body, Familiarity::Food))
        };
        let found = match read.filter(|found| !self.freely || familiar(found)) {
            None if self.freely => loose::contents(body)?,
            read => read?,
        };
        for (at, found) in found.into_iter().enumerate() {
            let parted = |token: &Token| {
                let mut passed = found.comments.iter();
                parts(token) && passed.any(|span| span.contains(&token.span.start))
            };
            if self.freely && body.slice.iter().any(parted) {
                self.all.push(Mark::Break { colon: false });
            }
            if self.freely && !found.comments.is_empty() {
                self.all.push(Mark::Talk);
            }
            self.idle.extend(found.idle);
            self.comments.extend(found.comments);
            if let Some(content) = found.content {
                if at > 0 {
                    self.all.push(Mark::Break { colon: false });
                }
                self.bodies.extend(found.spans);
                self.all.push(Mark::Content(content));
            }
        }
        self.part(run.range(run.len() - end, run.len()));
        Some(())
    }

    fn part(&mut self, between: Tokens<'_>) {
        let parting = between.slice.iter().any(parts);
        if parting {
            let colon = between
                .slice
                .iter()
                .all(|token| token.is(':') || token.is('='));
            self.all.push(Mark::Break { colon });
        }
    }
}

/// Whoever is named behind such a word is not told to eat.
pub fn turns_away(norm: &str) -> bool {
    matches!(
        norm,
        "from" | "off" | "not" | "without" | "except" | "bar" | "unlike"
    )
}

fn gives_reason(body: Tokens<'_>) -> bool {
    at_table().longest_of(body.slice, "because").is_some()
}

/// Whether the token parts two plates when it stands at the edge of a run.
pub fn parts(token: &Token) -> bool {
    match &token.kind {
        Kind::Newline => true,
        Kind::Symbol(c) => matches!(
            c,
            ',' | ';'
                | '.'
                | '!'
                | ':'
                | '='
                | '-'
                | '–'
                | '&'
                | '+'
                | '/'
                | '|'
                | '('
                | ')'
                | '['
                | ']'
                | '@'
        ),
        Kind::Word(norm) => matches!(
            norm.as_str(),
            "and" | "then" | "n" | "plus" | "while" | "but" | "so"
        ),
        _ => false,
    }
}

/// How many tokens at the front are the household's name of something to eat, however it sounds.
fn name_length(rest: Tokens<'_>) -> usize {
    let tricky = tricky_length(rest);
    if tricky > 0 {
        return tricky;
    }
    let words: Vec<&str> = rest
        .slice
        .iter()
        .take(NAME_WORDS_MAX)
        .map(Token::norm)
        .take_while(|norm| !norm.is_empty())
        .collect();
    let edible = |words: &[&str]| {
        matches!(
            rest.vocabulary.known(words),
            Some(Sense::Batch | Sense::Code | Sense::Packet | Sense::Food)
        )
    };
    (2..=words.len())
        .rev()
        .find(|&length| edible(&words[..length]))
        .unwrap_or(0)
}

fn mark(rest: Tokens<'_>, begins: bool, before: &mut Before) -> Option<(usize, Mark)> {
    if let Some(length) = at_table().longest_of(rest.slice, "idle") {
        return Some((length, Mark::Idle));
    }
    // "i think it said" is no person.
    if rest.norm(0) == "i"
        && let Some((length, _)) = outros()
            .longest(rest.slice)
            .filter(|(length, _)| *length > 1)
    {
        return Some((length, Mark::Idle));
    }
    if let Some(found) = ratio(rest) {
        return Some(found);
    }
    // "2 to 3 ladles" is a range, "2 to 1 to 1" none.
    if let Some((length, parts)) = spoken_ratio(rest, 3) {
        return Some((length, Mark::Ratio(parts)));
    }
    if let Some(length) = denied_day(rest).or_else(|| denied_amount(rest)) {
        return Some((length, Mark::Idle));
    }
    if let Some(found) = when(rest, begins) {
        return Some(found);
    }
    if let Some(found) = ways(rest) {
        return Some(found);
    }
    if let Some((length, related)) = relation(rest, before) {
        let content = match related.dish {
            Some(dish) => Content::Sized(related.size, dish),
            None => Content::Sizes(vec![related.size]),
        };
        return Some((length, Mark::Content(content)));
    }
    // "share 600 soup between us"
    if begins && rest.norm(0) == "share" && rest.get(1).is_some_and(Token::is_numeric) {
        return Some((1, Mark::Split(None)));
    }
    // "each of us three"
    if rest.norm(0) == "each"
        && rest.norm(1) == "of"
        && party::counted(rest.after(2), false).is_some()
    {
        return Some((2, Mark::Each));
    }
    if let Some((length, key)) = at_table().longest(rest.slice) {
        match key {
            "each" => return Some((length, Mark::Each)),
            "halves" => return Some((length, Mark::Split(Some(2)))),
            "evenly" => return Some((length, Mark::Split(None))),
            "one each" => return Some((length, Mark::OneEach)),
            "split" if !is_food_after(rest, length) => {
                let on = usize::from(matches!(rest.norm(length), "by" | "in"));
                return Some((length + on, Mark::Split(None)));
            }
            "nothing" => return Some((length, Mark::Nothing)),
            "too" => return Some((length, Mark::Too)),
            "day after" => return Some((length, Mark::DayAfter)),
            "ratio" => {
                let (more, parts) = spoken_ratio(rest.after(length), 2)?;
                return Some((length + more, Mark::Ratio(parts)));
            }
            "same" if name_after(rest, length) > 0 => {
                return Some((length + name_after(rest, length), Mark::Idle));
            }
            "rest" | "bigger" | "smaller" if rest.norm(length) != "of" => {
                let size = Size::named(key)?;
                return Some((length, Mark::Content(Content::Sizes(vec![size]))));
            }
            "finished" if begins && name_after(rest, length) > 0 => {
                return Some((length, Mark::Finishes));
            }
            _ => {}
        }
    }
    party::said(rest, before).map(|(length, said)| (length, Mark::Who(said)))
}

/// "split peas"
fn is_food_after(rest: Tokens<'_>, length: usize) -> bool {
    matches!(
        rest.norm(length),
        "pea" | "peas" | "lentil" | "lentils" | "mung"
    )
}

/// How many tokens after these are a batch's name.
fn name_after(rest: Tokens<'_>, from: usize) -> usize {
    let rest = rest.after(from);
    let skip = usize::from(matches!(
        rest.norm(0),
        "the" | "my" | "our" | "that" | "off"
    ));
    let named = |length: &usize| {
        let words: Vec<&str> = rest
            .slice
            .iter()
            .skip(skip)
            .take(*length)
            .map(Token::norm)
            .collect();
        words.len() == *length && rest.vocabulary.is_batch(&words)
    };
    (1..=NAME_WORDS_MAX)
        .rev()
        .find(named)
        .map_or(0, |length| skip + length)
}

/// "60/40", "2:1:1", "30/30/40": whole numbers, as one word, that nobody would weigh.
pub fn ratio(rest: Tokens<'_>) -> Option<(usize, Mark)> {
    let first = rest.first()?;
    if !first.is_numeric() {
        return None;
    }
    let length = 1 + rest.slice[1..]
        .iter()
        .take_while(|token| !token.spaced && (token.is(':') || token.is_numeric()))
        .count();
    // "split 60/40: me 60"
    let length = length - usize::from(rest.slice[length - 1].is(':'));
    let said = &rest.text[first.span.start..rest.slice[length - 1].span.end];
    let parts: Vec<f64> = said
        .split([':', '/'])
        .map(|part| part.parse::<u32>().ok().map(f64::from))
        .collect::<Option<_>>()?;
    let sum: f64 = parts.iter().sum();
    let few = parts.iter().all(|part| *part >= 1.0 && *part <= 9.0);
    // "1/2" is a fraction, "7:30" a time.
    let fraction = parts.len() == 2 && said.contains('/') && sum != 100.0;
    let clock = matches!(first.kind, Kind::Clock);
    let told = parts.len() > 1 && !fraction && !clock && (few || sum == 100.0);
    told.then_some((length, Mark::Ratio(parts)))
}

/// "two to one to one": so many parts at least.
fn spoken_ratio(rest: Tokens<'_>, least: usize) -> Option<(usize, Vec<f64>)> {
    let (mut after, first) = number(rest).ok()?;
    let mut parts = vec![first.value];
    while after.norm(0) == "to"
        && let Ok((next, part)) = number(after.after(1))
    {
        parts.push(part.value);
        after = next;
    }
    let few = parts
        .iter()
        .all(|part| part.fract() == 0.0 && (1.0..=9.0).contains(part));
    (few && parts.len() >= least).then(|| (rest.len() - after.len(), parts))
}
