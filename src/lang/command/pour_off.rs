//! Something poured away: "poured off 120 g marinade", "drained 35 g fat from the mince".
//!
//! ```text
//! pour-off := [batch] verb amount ["of" "the"] what [("from" | "off") ["the"] batch] ["anyway"]
//!           | [batch [":"]] amount ["of"] what verb [("from" | "off") ["the"] batch] ["anyway"]
//!           | ("poured" | "took") amount ["of"] what "off" [["the"] batch]
//! ```
//! In the last two forms it is one of the things that are poured (`poured.txt`).

use nom::Parser;
use nom::combinator::opt;

use crate::lang::amount::{Stands, amount};
use crate::lang::command::{anyway, key_phrase};
use crate::lang::name;
use crate::lang::syntax::{Command, ErrorKind, PourOff, Words};
use crate::lang::tokens::{Read, Tokens, word};
use crate::lang::words::poured;

/// What is poured when nothing is said of it.
const ALL_OF_IT: &str = "liquid";

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (input, anyway) = anyway(input);
    if let Some((batch, poured)) = verb_last(input).or_else(|| taken_off(input)) {
        let command = Command::PourOff {
            batch,
            poured,
            anyway,
        };
        return Ok((input.after(input.len()), command));
    }
    let verb_at = (0..input.len().min(8)).find(|&at| key_phrase("pour", input.after(at)).is_ok());
    let Some(at) = verb_at else {
        return input.no();
    };
    let before = name::bare(input.range(0, at));
    if !(before.is_empty() || before.is_wordy()) {
        return input.no();
    }
    let spoken = before.is_empty()
        || before
            .slice
            .iter()
            .all(|token| matches!(token.norm(), "i" | "we" | "have" | "just" | "ive" | "then"));
    let (rest, (poured, from)) = clause(input.after(at).trimmed_end())?;
    let batch = if spoken { from } else { Some(before.words()) };
    Ok((
        rest,
        Command::PourOff {
            batch,
            poured,
            anyway,
        },
    ))
}

/// "bacon: 60 g fat drained", "20 g of fat drained off the bacon"
fn verb_last(input: Tokens<'_>) -> Option<(Option<Words>, PourOff)> {
    let input = input.trimmed().trimmed_end();
    let verb = (1..input.len()).find(|&at| key_phrase("pour", input.after(at)).is_ok())?;
    let (after, ()) = key_phrase("pour", input.after(verb)).ok()?;
    let from = usize::from(matches!(after.norm(0), "from" | "off" | "of" | "out"));
    let source = name::bare(after.after(from));
    let at = (0..verb).find(|&at| input.slice[at].is_numeric())?;
    let named = name::bare(input.range(0, at));
    let poured = amount_of(input.range(at, verb))?;
    let batch = [named, source].into_iter().find(|name| !name.is_empty());
    let whole = named.is_empty() || source.is_empty();
    let wordy = batch.is_none_or(|batch| batch.is_wordy() && batch.len() <= 6);
    (whole && wordy).then(|| (batch.map(|batch| batch.words()), poured))
}

/// "took 20 g fat off the stew"
fn taken_off(input: Tokens<'_>) -> Option<(Option<Words>, PourOff)> {
    let input = input.trimmed().trimmed_end();
    let own = usize::from(matches!(input.norm(0), "i" | "we" | "just"));
    let verb = input.norm(own);
    if !matches!(
        verb,
        "poured" | "took" | "skimmed" | "ladled" | "spooned" | "drained"
    ) {
        return None;
    }
    let off = input.find(|token| token.norm() == "off")?;
    let poured = amount_of(input.range(own + 1, off.max(own + 1)))?;
    let source = name::bare(input.after(off + 1));
    let wordy = source.is_empty() || source.is_wordy() && source.len() <= 6;
    let batch = (!source.is_empty()).then(|| source.words());
    wordy.then_some((batch, poured))
}

/// An amount of something that is poured, and nothing else.
fn amount_of(input: Tokens<'_>) -> Option<PourOff> {
    let (rest, amount) = amount(input, Stands::BeforeName).ok()?;
    let what = name::bare(rest);
    let (length, _) = poured().longest(what.slice)?;
    (length == what.len()).then(|| PourOff {
        amount,
        what: what.words(),
    })
}

/// What was poured, and from which batch if that is said.
pub fn clause(input: Tokens<'_>) -> Read<'_, (PourOff, Option<Words>)> {
    let start = input;
    let (rest, ()) = key_phrase("pour", input)?;
    let (rest, _) = opt(word(&["about", "the", "off"])).parse(rest)?;
    if !rest.has_number() && amount(rest, Stands::BeforeName).is_err() {
        return start.no();
    }
    let (rest, amount) = amount(rest, Stands::BeforeName)?;
    let (what, batch) = match rest.find(|token| matches!(token.norm(), "from" | "off" | "out")) {
        Some(at) => {
            let source = name::bare(rest.after(at + 1));
            (rest.range(0, at), (!source.is_empty()).then_some(source))
        }
        None => (rest, None),
    };
    let what = name::bare(what);
    if what.is_empty() && batch.is_none() {
        return start.fail(ErrorKind::MissingName);
    }
    // "poured off 150 g from the soup": of all that is in it.
    let said = match what.is_empty() {
        true => Words::new(ALL_OF_IT, input.span()),
        false => what.words(),
    };
    if !what.is_empty() && !what.is_wordy() || batch.is_some_and(|batch| batch.has_number()) {
        let odd = rest;
        return odd.fail(ErrorKind::LeftOver(odd.words().text));
    }
    let poured = PourOff { amount, what: said };
    let source = batch
        .filter(|batch| batch.norm(0) != "it")
        .map(|batch| batch.words());
    Ok((rest.after(rest.len()), (poured, source)))
}
