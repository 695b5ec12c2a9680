//! Something poured away: "poured off 120 g marinade", "drained 35 g fat from the mince".
//!
//! ```text
//! pour-off := [batch] verb amount ["of" "the"] what [("from" | "off") ["the"] batch] ["anyway"]
//! ```

use nom::Parser;
use nom::combinator::opt;

use crate::lang::amount::{Stands, amount};
use crate::lang::command::{anyway, key_phrase};
use crate::lang::name;
use crate::lang::syntax::{Command, ErrorKind, PourOff, Words};
use crate::lang::tokens::{Read, Tokens, word};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (input, anyway) = anyway(input);
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
    if what.is_empty() {
        return start.fail(ErrorKind::MissingName);
    }
    if !what.is_wordy() || batch.is_some_and(|batch| batch.has_number()) {
        let odd = rest;
        return odd.fail(ErrorKind::LeftOver(odd.words().text));
    }
    let poured = PourOff {
        amount,
        what: what.words(),
    };
    let source = batch
        .filter(|batch| batch.norm(0) != "it")
        .map(|batch| batch.words());
    Ok((rest.after(rest.len()), (poured, source)))
}
