//! A new batch in one message, on many lines or one.
//!
//! ```text
//! batch    := verb ["raw"] name ["raw"] { sep part }
//! part     := heading | weighing-clause | poured | place | made | "raw" | ingredient
//! heading  := words ":" | "for the" words          (until the next heading or the weighing)
//! clause   := lead weighing | weighing with "net", "gross" or a container said
//! place    := ["in" | "into" | "→"] ["the"] place-name
//! made     := ("made" | "cooked") day | day
//! sep      := newline | ";" | ","
//! ```
//! A part that cannot be read is an unclear line and never costs the rest. On a line, a part without an
//! amount that only says how it is prepared belongs to the ingredient before it.

use nom::Err;

use crate::lang::amount::may_begin;
use crate::lang::body::body;
use crate::lang::clause::{clause, made, place};
use crate::lang::command::key_phrase;
use crate::lang::line::has_amount;
use crate::lang::name;
use crate::lang::syntax::{Command, Error, ErrorKind, NewBatch};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};

const FORM: &str = "batch lentil dal, then its ingredients";

/// "batch ...": the verb makes it one, whatever follows.
pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, raw) = match key_phrase("raw batch", input) {
        Ok((rest, ())) => (rest, true),
        Err(_) => (key_phrase("batch", input)?.0, false),
    };
    let mut batch = whole(rest, input)?;
    batch.raw |= raw;
    Ok((rest.after(rest.len()), Command::Batch(batch)))
}

/// "made dal with 500 g lentils ...": a batch only if ingredients or a weighing follow.
pub fn read_made(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, raw) = match key_phrase("raw", input) {
        Ok((rest, ())) => (rest, true),
        Err(_) => (key_phrase("made", input)?.0, false),
    };
    let Ok(mut batch) = whole(rest, input) else {
        return input.no();
    };
    let weighed = batch.lines.iter().filter(|line| has_amount(line)).count();
    if weighed == 0 && (batch.weighing.is_none() || batch.name.text.is_empty()) {
        return input.no();
    }
    batch.raw |= raw;
    Ok((rest.after(rest.len()), Command::Batch(batch)))
}

/// A name on the first line, ingredients under it and a weighing: a batch without the verb.
pub fn read_headless(input: Tokens<'_>) -> Read<'_, Command> {
    let Some(at) = input.find(|token| token.kind == Kind::Newline) else {
        return input.no();
    };
    let head = input.range(0, at).trimmed();
    let named = head
        .slice
        .last()
        .is_some_and(|token| token.norm() == "batch")
        && head.len() > 1;
    let head = if named {
        head.range(0, head.len() - 1)
    } else {
        head
    };
    if !head.is_wordy() || head.len() > 6 {
        return input.no();
    }
    let mut batch = body(input.after(at));
    let amounts = batch.lines.iter().filter(|line| has_amount(line)).count();
    if amounts == 0 || (!named && batch.weighing.is_none()) {
        return input.no();
    }
    batch.name = name::bare(head).words();
    Ok((input.after(input.len()), Command::Batch(batch)))
}

/// The head and the body that follow a verb.
fn whole<'a>(rest: Tokens<'a>, input: Tokens<'a>) -> Result<NewBatch, Err<Error>> {
    let rest = rest.without_lead();
    let (head, after) = head(rest);
    let (head, raw) = without_raw(head);
    let name = name::bare(head);
    let cooking = matches!(name.norm(0), "cooking" | "cook" | "cooked") && name.len() < 3;
    if cooking && after.trimmed().is_empty() {
        return Err(Err::Error(input.error(ErrorKind::NotUnderstood)));
    }
    if name.is_empty() {
        return Err(Err::Failure(
            input.error(ErrorKind::Malformed { form: FORM }),
        ));
    }
    let mut batch = body(after);
    batch.raw |= raw;
    batch.name = name.words();
    Ok(batch)
}

/// Where the name of the batch ends: at the line's end, a colon, a comma, the first amount, or the
/// first clause of the body.
fn head(input: Tokens<'_>) -> (Tokens<'_>, Tokens<'_>) {
    let end = input
        .find(|token| {
            token.kind == Kind::Newline || matches!(token.kind, Kind::Symbol(':' | ',' | ';'))
        })
        .unwrap_or(input.len());
    let own_line = input
        .get(end)
        .is_none_or(|token| !token.is(',') && !token.is(';'));
    let mut cut = end;
    for at in 0..end.min(16) {
        let here = input.range(at, input.len());
        let digits = matches!(input.slice[at].kind, Kind::Number(_) | Kind::Unreadable);
        if digits && at == 0 && own_line && end < input.len() && !has_unit(here) {
            continue;
        }
        let joined = matches!(here.norm(0), "with" | "from" | "using" | "of")
            && at > 0
            && may_begin(here.after(1));
        if digits && !(at > 0 && input.norm(at - 1) == "ndb") || joined {
            cut = at;
            break;
        }
        if at > 0 && begins_body(here, end - at) {
            cut = at;
            break;
        }
    }
    let joined =
        usize::from(cut < end && matches!(input.norm(cut), "with" | "from" | "using" | "of"));
    (input.range(0, cut), input.after(cut + joined))
}

fn has_unit(input: Tokens<'_>) -> bool {
    crate::lang::unit::unit(input.after(1)).is_ok()
}

/// A weighing, a place or a day that takes the rest of the head.
fn begins_body(input: Tokens<'_>, head_length: usize) -> bool {
    let head = input.range(0, head_length.min(input.len()));
    let placed = matches!(input.norm(0), "in" | "into" | "to") && place(head).is_some();
    let lately = matches!(input.norm(0), "yesterday" | "today")
        || (input.norm(0), input.norm(1)) == ("last", "night");
    placed
        || (lately && made(head).is_some())
        || clause(input).is_ok()
        || (matches!(input.norm(0), "made" | "cooked") && made(head).is_some())
}

fn without_raw(head: Tokens<'_>) -> (Tokens<'_>, bool) {
    let head = head.trimmed();
    let is_raw = |token: Option<&Token>| token.is_some_and(|token| token.norm() == "raw");
    let last = head.len().saturating_sub(1);
    if head.len() > 1 && is_raw(head.first()) {
        return (head.after(1), true);
    }
    if head.len() > 1 && is_raw(head.last()) {
        return (head.range(0, last), true);
    }
    if head.len() > 3 && head.slice[last].is(')') && is_raw(head.get(last - 1)) {
        return (head.range(0, last - 2), true);
    }
    (head, false)
}
