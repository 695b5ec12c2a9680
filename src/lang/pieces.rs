//! How many pieces a batch is: "makes 14", "8 slices", "cut into 12 squares", "14 meatballs, 610 g".
//!
//! ```text
//! pieces := lead n [word] | n word [[link] mass ["each"]]
//! word   := phrase of data/pieces.txt | the last word of the dish
//! lead   := phrase of data/counted_out.txt
//! link   := "," | "=" | "(" | "at" | "of" | "weighing"
//! ```
//! A number of what is itself an ingredient ("12 onions" for roast onions) counts no pieces.

use super::amount::grams;
use super::lexicon::is_food;
use super::number::number;
use super::syntax::{Pieces, Weighing};
use super::token::Token;
use super::tokens::Tokens;
use super::vocabulary::singular;
use super::words::{counted_out, pieces};
use crate::foods::{Found, table};

/// A batch of more is counted by nobody.
const COUNT_MAX: f64 = 500.0;
/// "makes 1840" is a weight.
const COUNT_UNNAMED_MAX: f64 = 99.0;
/// What pieces are called by the name of their dish, or by no other.
const PIECE: &str = "piece";

/// So many pieces, and what they weigh if that is said with them.
pub struct CountedOut {
    pub pieces: Pieces,
    pub weighing: Option<Weighing>,
    /// It was led by a word that says so.
    pub told: bool,
    /// It is called by another dish of the household.
    pub another: bool,
}

impl CountedOut {
    /// What they are called is something to eat by itself, and not the dish.
    pub fn is_food(&self) -> bool {
        let word = self.pieces.word.as_deref();
        word.is_some_and(|word| is_food(&[word]))
    }
}

/// A part of a batch that tells how many pieces it is, and nothing else. `dish`: what the batch is called.
pub fn counted(part: Tokens<'_>, dish: Tokens<'_>) -> Option<CountedOut> {
    let part = part.trimmed();
    let led = counted_out().longest_of(part.slice, "makes");
    let rest = part.after(led.unwrap_or(0)).without_lead();
    let (rest, count) = whole_number(rest)?;
    if rest.trimmed().is_empty() {
        let unnamed = led.is_some() && f64::from(count) <= COUNT_UNNAMED_MAX;
        return unnamed.then_some(CountedOut {
            pieces: Pieces { count, word: None },
            weighing: None,
            told: true,
            another: false,
        });
    }
    let said = rest;
    let (rest, word) = piece_word(said, dish)?;
    let weighing = weight(rest, count)?;
    let another = weighing.is_none() && is_another(said.range(0, said.len() - rest.len()), dish);
    Some(CountedOut {
        pieces: Pieces { count, word },
        weighing,
        told: led.is_some(),
        another,
    })
}

/// "300 soup" in a chicken soup: so many of a dish that it only ends with, and no plural, are of one that stands here.
fn is_another(said: Tokens<'_>, dish: Tokens<'_>) -> bool {
    let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
    let plural = words.last().is_some_and(|last| singular(last) != *last);
    said.len() < dish.len() && !plural && said.vocabulary.is_batch(&words)
}

/// A number of pieces: whole, and more than one.
pub fn whole_number(input: Tokens<'_>) -> Option<(Tokens<'_>, u32)> {
    let (rest, number) = number(input).ok()?;
    let whole = number.value.fract() == 0.0 && (2.0..=COUNT_MAX).contains(&number.value);
    (whole && number.other.is_none()).then_some((rest, number.value as u32))
}

/// What they are called: a word for pieces, or the last word of the dish, which needs no telling.
pub fn piece_word<'a>(input: Tokens<'a>, dish: Tokens<'_>) -> Option<(Tokens<'a>, Option<String>)> {
    let head = dish.last().map(|last| singular(last.norm()).into_owned());
    let is_head = |at: usize| {
        let said = singular(input.norm(at));
        !said.is_empty() && head.as_deref() == Some(&*said)
    };
    // "14 beef meatballs"
    let words = (1..=dish.len()).find(|&length| {
        is_head(length - 1)
            && (0..length - 1).all(|at| dish.slice.iter().any(|own| own.norm() == input.norm(at)))
    });
    if let Some(length) = words {
        return Some((input.after(length), None));
    }
    let (length, key) = pieces().longest(input.slice)?;
    let word = (key != PIECE).then(|| key.to_owned());
    Some((input.after(length), word))
}

/// What is behind the pieces: nothing, or what they weigh in all or each.
pub fn weight(input: Tokens<'_>, count: u32) -> Option<Option<Weighing>> {
    let rest = input.trimmed();
    if rest.is_empty() {
        return Some(None);
    }
    let link = |token: &&Token| {
        token.is('=')
            || token.is('(')
            || matches!(
                token.norm(),
                "at" | "of" | "weighing" | "weigh" | "in" | "total"
            )
    };
    let skip = rest.slice.iter().take_while(link).count();
    let said = rest.after(skip);
    let (rest, grams) = grams(said).ok()?;
    let tail = rest.trimmed();
    let tail = match tail.last() {
        Some(last) if last.is(')') => tail.range(0, tail.len() - 1),
        _ => tail,
    };
    let whole = [
        "",
        "in all",
        "the lot",
        "for the lot",
        "altogether",
        "total",
        "in total",
        "all told",
        "all together",
        "net",
        "cooked",
    ];
    let words: Vec<&str> = tail.slice.iter().map(Token::norm).collect();
    let words = words.join(" ");
    let grams = match words.as_str() {
        "each" | "apiece" | "a piece" => grams * f64::from(count),
        words if whole.contains(&words) => grams,
        _ => return None,
    };
    Some(Some(Weighing::net(grams, said.span())))
}

/// What the dish is called by is bought so: twelve onions are what goes into roast onions.
pub fn is_ingredient(dish: Tokens<'_>) -> bool {
    let Some(last) = dish.last() else {
        return false;
    };
    let plain = |text: &str| match table().find(text) {
        Found::Taken(found) => table().get(found.code).is_some_and(|food| {
            let words = crate::foods::compared_words(&food.description);
            words.iter().any(|word| word == "raw" || word == "dry")
        }),
        Found::Several(_) => true,
        Found::Nothing => false,
    };
    plain(last.norm()) || plain(&dish.words().text)
}
