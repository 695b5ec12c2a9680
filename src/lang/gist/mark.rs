//! What stands in a sentence: amounts, names, people, days, numbers that are no weights, and the words
//! between them.

use super::aside::aside;
use crate::lang::amount::{Stands, amount, may_begin};
use crate::lang::date::{day, meal};
use crate::lang::lexicon::{Meant, describes, in_table, is_food, is_food_word};
use crate::lang::name::bare;
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{Amount, Day, MealName, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;
use crate::lang::words::{asides, cues, fillers, measures, preparation, talk};

/// No name in a sentence is longer.
const NAME_WORDS_MAX: usize = 5;
const FOOD_WORDS_MAX: usize = 3;
const SLIPPED_WORDS_MAX: usize = 2;
/// With fewer digits it is a name of its own: "u2", "m25".
const GLUED_DIGITS_MIN: usize = 3;
/// A number in words below this may be an article: "one", "a couple".
const SPOKEN_MIN: f64 = 20.0;

#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    Amount(Amount),
    /// "a splash of": so much of what is named behind it as is told elsewhere, or nowhere.
    Vague,
    /// Something that the household has to eat: a batch, a packet, a food that was chosen.
    Dish(Words),
    /// A food of the table.
    Food(Words),
    /// Words that could mean several foods.
    Foods,
    Person(Words),
    Day(Day),
    Meal(MealName),
    /// A number that is no weight, with what says so: "7pm", "12 bucks".
    Aside,
    /// A number that nothing explains.
    Stray,
    /// The end of a sentence, or (soft) a comma or a word that begins another thought.
    Break {
        soft: bool,
    },
    Word,
}

/// A mark and the tokens that it covers.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked {
    pub mark: Mark,
    pub from: usize,
    pub to: usize,
}

/// Everything in the sentence, in order; every token belongs to one mark.
pub fn marks(input: Tokens<'_>) -> Vec<Marked> {
    let mut out = Vec::new();
    let mut at = 0;
    while at < input.len() {
        let (mark, length) = mark(input, at, out.last());
        out.push(Marked {
            mark,
            from: at,
            to: at + length,
        });
        at += length;
    }
    out
}

/// What stands at a token behind another mark, and how many tokens it takes.
pub fn mark(input: Tokens<'_>, at: usize, before: Option<&Marked>) -> (Mark, usize) {
    let rest = input.after(at);
    if let Some(soft) = breaks(rest) {
        return (Mark::Break { soft }, 1);
    }
    // "300-50%": a share that is reckoned with.
    let reckons = |token: &Token| {
        token.is_numeric() || matches!(token.kind, Kind::Symbol('-' | '+' | '*' | '/' | '×'))
    };
    if matches!(rest.slice[0].kind, Kind::Percent(_)) && at > 0 && reckons(&input.slice[at - 1]) {
        return (Mark::Stray, 1);
    }
    if let Some(length) = aside(input, at) {
        return (Mark::Aside, length);
    }
    // "not Sunday's": what it was instead is not told by that.
    let denied = before.is_some_and(|marked| {
        let word = &input.slice[marked.from..marked.to];
        marked.mark == Mark::Word && cues().longest_of(word, "not").is_some()
    });
    if let Some((mark, length)) = when(rest) {
        let mark = if denied && matches!(mark, Mark::Day(_)) {
            Mark::Stray
        } else {
            mark
        };
        return (mark, length);
    }
    if let Some((length, who)) = person(rest) {
        return (Mark::Person(who), length);
    }
    if let Some((mark, length)) = weight(rest) {
        return (mark, length);
    }
    if let Some(length) = spoken(rest) {
        return (Mark::Stray, length);
    }
    let (own, slip) = (name(rest), slipped(rest, before));
    // "lentil doll" is no lentil.
    let longest = [own, slip].into_iter().flatten().rev();
    let longest = longest.max_by_key(|(_, length)| *length);
    longest.unwrap_or_else(|| (nameless(rest.norm(0)), 1))
}

/// A word that is no name: a number may be glued into it, "al140soup".
fn nameless(norm: &str) -> Mark {
    match norm.bytes().filter(u8::is_ascii_digit).count() {
        0..GLUED_DIGITS_MIN => Mark::Word,
        _ => Mark::Stray,
    }
}

/// A name that is written nearly, right beside a number: "230 lentl dall", "barly 140".
fn slipped(rest: Tokens<'_>, before: Option<&Marked>) -> Option<(Mark, usize)> {
    let weighed = before.is_some_and(|marked| matches!(marked.mark, Mark::Amount(_)));
    let (length, mark) = rest.longest_run(SLIPPED_WORDS_MAX, |said| {
        let numeric = rest.get(said.len()).is_some_and(Token::is_numeric);
        let words = norms(said);
        let known = |word: &&str| talk().has(word) || fillers().has(word) || word.is_empty();
        if !(weighed || numeric) || words.iter().all(known) || is_food(&words) {
            return None;
        }
        let name = said.vocabulary.nearly(&words)?;
        Some(Mark::Dish(Words::new(name.to_owned(), said.span())))
    })?;
    Some((mark, length))
}

fn breaks(rest: Tokens<'_>) -> Option<bool> {
    match rest.first()?.kind {
        Kind::Newline | Kind::Symbol('!' | '?' | ';' | '(' | ')') => Some(false),
        Kind::Symbol('.') => Some(false),
        Kind::Symbol(',') => Some(true),
        Kind::Word(_) => {
            // "so far" begins no other thought, nor does "as 300 g".
            let counts = rest.norm(0) == "as" && number(rest.after(1)).is_ok();
            let begins = cues().longest_of(rest.slice, "but") == Some(1) && rest.norm(1) != "far";
            // "put 2 spoons in once and cried": some time ago, and no "once I got home".
            let ends = rest.norm(1).is_empty() || matches!(rest.norm(1), "and" | "n" | "but");
            let long_ago = rest.norm(0) == "once" && ends;
            let begins = begins && !counts && !long_ago;
            begins.then_some(true)
        }
        _ => None,
    }
}

fn when(rest: Tokens<'_>) -> Option<(Mark, usize)> {
    let length = |after: Tokens<'_>| rest.len() - after.len();
    if let Ok((after, day)) = day(rest) {
        // "sunday's dal" is a dish, not a day.
        let selects = rest.longest_run(NAME_WORDS_MAX, |said| {
            (said.len() > 1 && is_dish(said)).then_some(())
        });
        if selects.is_none() {
            return Some((Mark::Day(day), length(after)));
        }
    }
    meal(rest)
        .ok()
        .map(|(after, meal)| (Mark::Meal(meal), length(after)))
}

/// A number in words that nothing explains: more than an article, and no "the two of us".
fn spoken(rest: Tokens<'_>) -> Option<usize> {
    // "then one more", "another one": of what was counted before.
    let more = matches!(
        (rest.norm(0), rest.norm(1)),
        ("one", "more") | ("another", "one")
    );
    if more && (rest.norm(2).is_empty() || measures().has(rest.norm(2))) {
        return Some(2);
    }
    let (after, said) = number(rest).ok()?;
    let counted = asides().longest_of(after.slice, "people").is_some();
    // "one and half ladle": the rest of the number.
    let goes_on = after.norm(0) == "and" && matches!(after.norm(1), "half" | "quarter");
    ((said.value >= 2.0 || goes_on) && !counted).then_some(rest.len() - after.len())
}

/// An amount that may belong to a name.
fn weight(rest: Tokens<'_>) -> Option<(Mark, usize)> {
    let numeric = rest.first()?.is_numeric();
    if !numeric && !may_begin(rest) {
        return None;
    }
    let stray = numeric.then_some((Mark::Stray, 1));
    let Ok((after, said)) = amount(rest, Stands::BeforeName) else {
        return stray;
    };
    let length = rest.len() - after.len();
    // "Ana 60 less": a difference to somebody else's.
    let ends = after
        .get(1)
        .is_none_or(|next| next.norm().is_empty() || next.norm() == "than");
    if matches!(after.norm(0), "less" | "fewer") && ends {
        return stray;
    }
    let named = || {
        let links = links(after);
        name(after.after(links)).is_some()
    };
    let told = match &said {
        Amount::Mass(_) | Amount::Weighed { .. } | Amount::Volume { .. } => true,
        Amount::Bare(count) => numeric || length > 1 || *count >= SPOKEN_MIN || named(),
        Amount::Pieces { .. } | Amount::Each { .. } => named(),
        Amount::Share(_) => matches!(name(after.after(links(after))), Some((Mark::Dish(_), _))),
        Amount::Uncounted(_) if named() => return Some((Mark::Vague, length)),
        Amount::Uncounted(_) => false,
        Amount::Between { .. } | Amount::Sum(_) => return stray,
    };
    match told {
        true => Some((Mark::Amount(said), length)),
        false => stray,
    }
}

/// How many words that only lead to a name stand here.
pub fn links(rest: Tokens<'_>) -> usize {
    let mut count = 0;
    while let Some(length) = cues().longest_of(rest.after(count).slice, "link") {
        count += length;
    }
    count
}

fn name(rest: Tokens<'_>) -> Option<(Mark, usize)> {
    let dish = rest.longest_run(NAME_WORDS_MAX, |said| {
        is_dish(said).then(|| bare(said).words())
    });
    if let Some((length, words)) = dish {
        return Some((Mark::Dish(words), length));
    }
    if !is_food_word(rest.norm(0)) {
        return None;
    }
    let (length, mark) = rest.longest_run(FOOD_WORDS_MAX, |said| {
        let words = norms(said);
        // "double" is of the cream as long as the cream stands behind it.
        if said.len() == 1 && cues().longest_of(said.slice, "share").is_some() {
            return None;
        }
        // "butter melted in": what was done to it is no part of its name.
        let done = |word: &&str| said.len() > 1 && (describes(word) || preparation().has(word));
        if said.slice.iter().any(is_idle) || words.last().is_some_and(done) || !is_food(&words) {
            return None;
        }
        match in_table(&words) {
            Meant::One => Some(Mark::Food(said.words())),
            _ => Some(Mark::Foods),
        }
    })?;
    Some((mark, length))
}

/// A word that stands around names, and is none.
fn is_idle(token: &Token) -> bool {
    let around = ["join", "link", "to", "cooked", "eat", "is", "log"];
    let one = std::slice::from_ref(token);
    token.norm().len() < 3
        || around
            .iter()
            .any(|key| cues().longest_of(one, key).is_some())
}

/// Whether the words are what the household calls something to eat.
fn is_dish(said: Tokens<'_>) -> bool {
    matches!(
        said.vocabulary.called(&norms(said)),
        Some(Sense::Batch | Sense::Code | Sense::Packet | Sense::Food)
    )
}

fn norms<'a>(said: Tokens<'a>) -> Vec<&'a str> {
    said.slice.iter().map(Token::norm).collect()
}
