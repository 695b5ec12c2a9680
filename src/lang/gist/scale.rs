//! Readings of a scale in a sentence: each number with the words around it.
//!
//! ```text
//! readings := { reading { word } }, no number of which is anything else
//! ```
//! What the readings say together is for `jar.rs` and `running.rs`.

use std::ops::Range;

use super::mark::Mark;
use super::sentence::Sentence;
use super::tale::regions;
use crate::lang::lexicon::describes;
use crate::lang::syntax::{Amount, Item, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::vocabulary::Sense;
use crate::lang::words::{at_scale, containers, preparation};

/// What a kitchen scale shows.
pub const SHOWN_GRAMS: Range<f64> = 20.0..8000.0;
const VESSEL_WORDS_MAX: usize = 3;

/// `None` is the sender.
pub type Who = Option<Words>;

pub struct Reading {
    pub grams: f64,
    /// The mark of its number.
    pub at: usize,
    /// It was told as two readings in one: "688-402".
    pub difference: bool,
    /// The marks around it.
    pub region: Range<usize>,
}

/// Every number of the message as a reading, if each of them is one.
pub fn readings(sentence: &Sentence<'_>) -> Option<Vec<Reading>> {
    let mut shown = Vec::new();
    for (at, marked) in sentence.marks.iter().enumerate() {
        match &marked.mark {
            Mark::Amount(Amount::Bare(grams) | Amount::Mass(grams)) => shown.push((at, *grams)),
            // "a scrape of butter", "one plate": an article counts nothing here.
            Mark::Amount(Amount::Pieces { count: 1.0, .. }) if !is_numeric(sentence, at) => {}
            Mark::Amount(_) | Mark::Stray => return None,
            _ => {}
        }
    }
    let spots: Vec<Range<usize>> = shown.iter().map(|(at, _)| *at..at + 1).collect();
    let regions = regions(sentence, &spots);
    let read = |((at, grams), region)| Reading {
        grams,
        at,
        difference: is_difference(sentence, at),
        region,
    };
    Some(shown.into_iter().zip(regions).map(read).collect())
}

pub fn is_difference(sentence: &Sentence<'_>, at: usize) -> bool {
    let marked = &sentence.marks[at];
    let said = &sentence.input.slice[marked.from..marked.to];
    let joined = |token: &Token| {
        matches!(token.kind, Kind::Symbol('-' | '→' | '>'))
            || matches!(token.norm(), "to" | "minus" | "less")
    };
    said.iter().filter(|token| token.is_numeric()).count() > 1 && said.iter().any(joined)
}

fn is_numeric(sentence: &Sentence<'_>, at: usize) -> bool {
    sentence.input.slice[sentence.marks[at].from].is_numeric()
}

pub fn is_shown(reading: &Reading) -> bool {
    SHOWN_GRAMS.contains(&reading.grams)
}

/// Whether a phrase of this mode (`data/at_scale.txt`) begins in the range.
pub fn says(sentence: &Sentence<'_>, mut range: Range<usize>, mode: &'static str) -> bool {
    range.any(|at| phrase(sentence, at, mode).is_some())
}

/// How many tokens a phrase of this mode takes here.
pub fn phrase(sentence: &Sentence<'_>, at: usize, mode: &'static str) -> Option<usize> {
    let marked = sentence.marks.get(at)?;
    at_scale().longest_of(sentence.input.after(marked.from).slice, mode)
}

/// The vessel whose tare the household knows, in the range.
pub fn known_vessel(sentence: &Sentence<'_>, mut range: Range<usize>) -> Option<Words> {
    let input = sentence.input;
    range.find_map(|at| {
        let rest = input.after(sentence.marks[at].from);
        let named = rest.longest_run(VESSEL_WORDS_MAX, |said| {
            let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
            let known = input.vocabulary.is(Sense::Container, &words);
            known.then(|| said.words())
        });
        named.map(|(_, name)| name)
    })
}

/// Whether a word of a vessel stands in the range.
pub fn vessel(sentence: &Sentence<'_>, mut range: Range<usize>) -> bool {
    range.any(|at| {
        let marked = &sentence.marks[at];
        (marked.from..marked.to).any(|token| is_vessel(sentence.input.norm(token)))
    })
}

pub fn is_vessel(norm: &str) -> bool {
    let one = norm.strip_suffix('s').unwrap_or(norm);
    containers().has(norm) || containers().has(one) || at_scale().get(norm) == Some("vessel")
}

/// The foods that are named, each once, with their places.
pub fn foods(sentence: &Sentence<'_>, range: Range<usize>) -> Vec<(usize, Words)> {
    let mut found: Vec<(usize, Words)> = Vec::new();
    for at in range {
        if !matches!(
            sentence.mark(at),
            Some(Mark::Dish(_) | Mark::Food(_) | Mark::Foods)
        ) {
            continue;
        }
        let marked = &sentence.marks[at];
        let said = sentence.input.range(marked.from, marked.to);
        // "the blue pot"
        if known_vessel(sentence, at..at + 1).is_some() {
            continue;
        }
        // "722 frying"
        if said
            .slice
            .iter()
            .all(|token| preparation().has(token.norm()) || describes(token.norm()))
        {
            continue;
        }
        // "yogurt tub"
        let to = (marked.from + 1..marked.to).find(|&token| is_vessel(sentence.input.norm(token)));
        let name = match sentence.mark(at) {
            Some(Mark::Dish(name)) => name.clone(),
            _ => sentence
                .input
                .range(marked.from, to.unwrap_or(marked.to))
                .words(),
        };
        let again = |(_, other): &(usize, Words)| other.text.eq_ignore_ascii_case(&name.text);
        if !found.iter().any(again) {
            found.push((at, name));
        }
    }
    found
}

/// Grams of a food on somebody's plate.
pub fn eaten(sentence: &Sentence<'_>, name: &Words, grams: f64, at: usize) -> Item {
    // Readings are decimal: to the milligram.
    let amount = Amount::Mass((grams * 1e6).round() / 1e6);
    let said = &sentence.marks[at];
    Item::new(amount, name.clone()).at(sentence.input.range(said.from, said.to).span())
}

/// Who is told of in the words around a reading; nothing when two are.
pub fn whose(sentence: &Sentence<'_>, reading: &Reading) -> Option<Option<Who>> {
    let mut told: Option<Who> = None;
    for at in reading.region.clone() {
        // "Tom none"
        let nothing = matches!(sentence.norm(at + 1), "none" | "nothing" | "nowt");
        let who = match sentence.mark(at) {
            Some(Mark::Person(_)) if nothing => continue,
            Some(Mark::Person(who)) => Some(who.clone()),
            Some(Mark::Word) if sentence.cue(at, "me").is_some() => None,
            _ => continue,
        };
        if told.as_ref().is_some_and(|told| *told != who) {
            return None;
        }
        told = Some(who);
    }
    Some(told)
}

/// "dal takes it to 295", "210 with the parsnips": more on the scale than before.
pub fn is_added(sentence: &Sentence<'_>, reading: &Reading) -> bool {
    let region: Range<usize> = reading.region.clone();
    // "90 beans for lunch and 240 soup now" tells when.
    let timed = sentence
        .marks
        .iter()
        .any(|it| matches!(it.mark, Mark::Meal(_) | Mark::Day(_)));
    // "85 salsa with my 140 of beans" tells of each by itself.
    let beside = |at: usize| sentence.after_links(at + 1) == reading.at;
    let up = |at: usize| {
        let mode = |mode: &'static str| phrase(sentence, at, mode).is_some();
        ["up", "gross"].into_iter().any(mode)
            || !timed && mode("now")
            || mode("with") && !beside(at)
    };
    let to = |at: usize| phrase(sentence, at, "to").is_some() && at + 1 == reading.at;
    // "35 cheddar in with it and 50 salsa" tells where it went.
    let in_with = |at: usize| at > 0 && sentence.norm(at - 1) == "in";
    region.clone().any(|at| up(at) && !in_with(at) || to(at))
}
