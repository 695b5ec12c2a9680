//! Plates told by what is in hand: "Ana too", "mine was half that", "Tom got exactly as much".
//!
//! ```text
//! relative := people ["had"] "too" | whose ("was" | "had") times | ["make"] "mine" ["was"] amount
//! times    := "half that", "as much" (data/at_table.txt)
//! ```
//! Which plate that is the books tell (`domain/in_hand.rs`); by themselves these words say nothing.

use crate::lang::amount::{Stands, amount};
use crate::lang::command::only_marks;
use crate::lang::person::people;
use crate::lang::rank::SCALE_GRAMS_MIN;
use crate::lang::syntax::{Again, AgainOf, Amount, But, Command, Words};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{at_table, corrections, in_hand, repeats};

const TOKENS_MAX: usize = 10;
/// How much of it, as the lists call it.
const TIMES: [(&str, f64); 4] = [
    ("0.5 times", 0.5),
    ("2 times", 2.0),
    ("3 times", 3.0),
    ("same", 1.0),
];

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = without_leads(input.trimmed());
    let asked = input.slice.iter().any(|token| token.is('?'));
    let told = (!asked && input.len() <= TOKENS_MAX)
        .then(|| as_well(body).or_else(|| times(body)).or_else(|| mine(body)))
        .flatten();
    match told {
        Some(again) => Ok((input.after(input.len()), Command::Again(again))),
        None => input.no(),
    }
}

fn without_leads(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input;
    while let Some(length) = corrections()
        .longest_of(rest.slice, "lead")
        .or_else(|| corrections().longest_of(rest.slice, "excuse"))
    {
        rest = rest.after(length).trimmed_front();
    }
    rest
}

/// "Ana too", "Tom as well"
fn as_well(body: Tokens<'_>) -> Option<Again> {
    let at = (1..body.len()).find(|&at| {
        in_hand()
            .longest_of(body.after(at).slice, "as well")
            .is_some()
    })?;
    let behind = body.after(at + in_hand().longest_of(body.after(at).slice, "as well")?);
    let subject = body.range(0, at);
    let had = (1..subject.len()).find(|&at| {
        repeats().longest_of(subject.after(at).slice, "had") == Some(subject.len() - at)
    });
    let (count, who) = people(subject.range(0, had.unwrap_or(subject.len())))?;
    let named = count as usize == who.len();
    (named && is_over(behind)).then(|| again(who, 1.0))
}

/// "mine was half that", "Tom had twice that"
fn times(body: Tokens<'_>) -> Option<Again> {
    let (at, length, times) = (1..body.len()).find_map(|at| {
        let rest = body.after(at).slice;
        TIMES.iter().find_map(|(key, times)| {
            let length = at_table().longest_of(rest, key)?;
            Some((at, length, *times))
        })
    })?;
    let verb = (1..at).find(|&verb| {
        let rest = body.range(verb, at);
        let whole = |length: Option<usize>| length == Some(rest.len());
        let only = usize::from(matches!(
            rest.last().map(|last| last.norm()),
            Some("exactly" | "only" | "just" | "about")
        ));
        let said = body.range(verb, at - only);
        let had = repeats().longest_of(said.slice, "had");
        let was = corrections().longest_of(said.slice, "was");
        !said.is_empty() && (had == Some(said.len()) || was == Some(said.len()) || whole(had))
    })?;
    let subject = body.range(0, verb);
    let own = matches!(subject.norm(0), "mine" | "i" | "ive" | "id") && subject.len() == 1;
    let who = match own {
        true => Vec::new(),
        false => {
            let (count, who) = people(subject)?;
            (count as usize == who.len()).then_some(who)?
        }
    };
    is_over(body.after(at + length)).then(|| again(who, times))
}

/// "make mine 180", "mine was 140": so much of what somebody else has had.
fn mine(body: Tokens<'_>) -> Option<Again> {
    let rest = body.after(usize::from(body.norm(0) == "make"));
    if rest.norm(0) != "mine" {
        return None;
    }
    let rest = rest.after(1);
    let rest = rest.after(corrections().longest_of(rest.slice, "was").unwrap_or(0));
    let (behind, amount) = amount(rest, Stands::AfterName).ok()?;
    let weighed = match amount {
        Amount::Bare(grams) => grams >= SCALE_GRAMS_MIN,
        Amount::Mass(_) => true,
        _ => false,
    };
    (weighed && is_over(behind)).then(|| Again {
        but: vec![But::Amount(amount)],
        ..again(Vec::new(), 1.0)
    })
}

fn again(who: Vec<Words>, times: f64) -> Again {
    let of = match who.is_empty() {
        true => AgainOf::Theirs,
        false => AgainOf::Last,
    };
    Again {
        of,
        meal: None,
        who,
        times,
        but: Vec::new(),
    }
}

fn is_over(input: Tokens<'_>) -> bool {
    let rest = input.trimmed();
    let tail = repeats().longest_of(rest.slice, "tail") == Some(rest.len());
    only_marks(rest) || tail
}
