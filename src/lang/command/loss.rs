//! A loss that is told in a sentence: "the barley went off, chucked it all", "knocked over the soup, lost
//! about 400", "dog nicked 200 off the counter, parsnips".
//!
//! ```text
//! loss := one dish of the household, one amount of it, and what became of it, in any order
//! ```
//! The amount stands before the dish ("150 of the beans"), or apart from it before what became of it or
//! behind it ("binned 300 of them"). A disposal of "it", or of all of it, is of all that is left; a mishap
//! needs its amount. What else is said is the reason, as long as no number in it could be another amount.

use crate::lang::amount::{Stands, amount};
use crate::lang::command::on_scale::is_plate;
use crate::lang::syntax::{Amount, Command, Item, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::veto::forbids;
use crate::lang::words::{losses, number_words, vetoes};

const TOKENS_MAX: usize = 40;
const DISH_WORDS_MAX: usize = 4;
/// So far before what became of it a "not" still denies it.
const DENIAL_TOKENS: usize = 3;
/// Less than this is a count.
const LOST_GRAMS_MIN: f64 = 5.0;
/// What says that all that is left is meant.
const ALL: [&str; 4] = ["all", "whole", "entire", "rest"];

/// What the message tells, in the order of the text.
#[derive(Debug)]
enum Told {
    Dish(Words),
    Amount(Amount),
    Became(&'static str),
    It,
    All,
    Mark,
    Word,
}

impl Told {
    fn became(&self, key: &str) -> bool {
        matches!(self, Told::Became(said) if *said == key)
    }
}

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match loss(input.trimmed()) {
        Some(item) => Ok((
            input.after(input.len()),
            Command::Waste {
                items: vec![item],
                reason: None,
                anyway: false,
            },
        )),
        None => input.no(),
    }
}

fn loss(input: Tokens<'_>) -> Option<Item> {
    // "chucked 95 parsnips on my plate"
    let plated = input.slice.iter().any(|token| is_plate(token.norm()));
    if input.len() > TOKENS_MAX || plated || forbids(input) {
        return None;
    }
    let told = told(input)?;
    let became = |key: &str| told.iter().filter(|told| told.became(key)).count();
    let of_it = became("disposal of it") > 0 || ends_disposed(&told);
    let strong = became("disposal") + became("disposal of it") + became("mishap");
    if strong + became("weak") / 2 == 0 || became("none") > 0 {
        return None;
    }
    let name = one_dish(&told)?;
    let mut amounts = told.iter().enumerate().filter_map(|(at, told)| match told {
        Told::Amount(amount) => Some((at, amount)),
        _ => None,
    });
    let amount = match (amounts.next(), amounts.next()) {
        (Some((at, amount)), None) => belongs(&told, at, of_it).then(|| amount.clone())?,
        (None, _) if told.iter().any(|told| matches!(told, Told::All)) => Amount::Share(1.0),
        (None, _) if of_it => Amount::Share(1.0),
        _ => return None,
    };
    Some(Item {
        amount,
        name,
        container: None,
        span: input.span(),
    })
}

/// The one dish that is named; nothing for two.
fn one_dish(told: &[Told]) -> Option<Words> {
    let mut dishes = told.iter().filter_map(|told| match told {
        Told::Dish(name) => Some(name),
        _ => None,
    });
    let first = dishes.next()?;
    dishes
        .all(|other| other.text.eq_ignore_ascii_case(&first.text))
        .then(|| first.clone())
}

/// Whether the amount is the dish's: right before it, or in another clause beside what became of it.
fn belongs(told: &[Told], at: usize, of_it: bool) -> bool {
    if matches!(told.get(at + 1), Some(Told::Dish(_))) {
        // "210 soup, was too hot, dropped my spoon": that is told of something else.
        let clause = told
            .split(|told| matches!(told, Told::Mark))
            .find(|clause| clause.iter().any(|one| std::ptr::eq(one, &told[at])));
        let same = |clause: &[Told]| clause.iter().any(|told| matches!(told, Told::Became(_)));
        return of_it || clause.is_some_and(same);
    }
    let next = told[at + 1..].iter().find(|told| !matches!(told, Told::It));
    let behind = matches!(next, None | Some(Told::Became(_) | Told::Mark));
    let mut before = told[..at].iter().rev();
    let led = match before.next() {
        Some(Told::Word) => matches!(before.next(), Some(Told::Became(_))),
        Some(Told::Became(_)) => true,
        _ => false,
    };
    let apart = told.iter().any(|told| matches!(told, Told::Mark));
    apart && (behind || led)
}

/// A disposal that ends its clause is of what was named: "rest of the dal, binned".
fn ends_disposed(told: &[Told]) -> bool {
    (0..told.len()).any(|at| {
        told[at].became("disposal")
            && matches!(told.get(at + 1), Some(Told::It | Told::Mark) | None)
    })
}

fn told(input: Tokens<'_>) -> Option<Vec<Told>> {
    let mut out = Vec::new();
    let mut at = 0;
    while at < input.len() {
        let rest = input.after(at);
        let (length, told) = element(rest, at > 0 && is_denied(input, at))?;
        out.push(told);
        at += length;
    }
    Some(out)
}

/// Whether "not" stands before what became of it.
fn is_denied(input: Tokens<'_>, at: usize) -> bool {
    let from = at.saturating_sub(DENIAL_TOKENS);
    let clause = input.range(from, at);
    let clause = match clause.slice.iter().rposition(is_mark) {
        Some(mark) => clause.after(mark + 1),
        None => clause,
    };
    clause
        .slice
        .iter()
        .any(|token| vetoes().get(token.norm()) == Some("negation"))
}

fn is_mark(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '!' | '-' | ':')
    )
}

/// What stands at the front; nothing for a number that is no amount, or for a loss that is denied.
fn element(input: Tokens<'_>, denied: bool) -> Option<(usize, Told)> {
    let first = &input.slice[0];
    if is_mark(first) {
        return Some((1, Told::Mark));
    }
    if let Some((length, key)) = losses().longest(input.slice) {
        return match key {
            "it" => Some((length, Told::It)),
            "all" => Some((length, Told::All)),
            _ if denied => None,
            key => Some((length, Told::Became(key))),
        };
    }
    let spoken =
        number_words().has(first.norm()) || matches!(first.norm(), "half" | "rest" | "the");
    if (first.is_numeric() || spoken)
        && let Ok((rest, amount)) = amount(input, Stands::BeforeName)
    {
        return counted(input, rest, amount);
    }
    if first.is_numeric() {
        return None;
    }
    if ALL.contains(&first.norm()) && is_all_of_it(input) {
        return Some((1, Told::All));
    }
    if let Some((length, name)) = dish(input) {
        return Some((length, Told::Dish(name)));
    }
    let joins = matches!(
        first.norm(),
        "so" | "and" | "because" | "bc" | "but" | "cos"
    );
    Some((1, if joins { Told::Mark } else { Told::Word }))
}

/// "all of the salsa", "the whole salsa": before the dish.
fn is_all_of_it(input: Tokens<'_>) -> bool {
    let skip = input.slice[1..]
        .iter()
        .take_while(|token| {
            matches!(
                token.norm(),
                "of" | "the" | "my" | "our" | "that" | "lot" | "batch"
            )
        })
        .count();
    dish(input.after(1 + skip)).is_some()
}

/// An amount of food, or a count of something else: "4 days old".
fn counted<'a>(input: Tokens<'a>, rest: Tokens<'a>, amount: Amount) -> Option<(usize, Told)> {
    let length = input.len() - rest.len();
    let of_time = vetoes().get(rest.norm(0)) == Some("clock time");
    match amount {
        Amount::Bare(_) if of_time => Some((length + 1, Told::Word)),
        Amount::Bare(grams) if grams < LOST_GRAMS_MIN => None,
        Amount::Bare(_) | Amount::Mass(_) | Amount::Volume { .. } | Amount::Share(_) => {
            Some((length, Told::Amount(amount)))
        }
        _ => None,
    }
}

/// The longest name of a dish of the household at the front.
fn dish(input: Tokens<'_>) -> Option<(usize, Words)> {
    input.longest_run(DISH_WORDS_MAX, |said| {
        let norms: Vec<&str> = said.slice.iter().map(Token::norm).collect();
        let idle = matches!(norms[0], "the" | "my" | "our" | "that" | "this");
        (!idle && input.vocabulary.is_batch(&norms)).then(|| said.words())
    })
}
