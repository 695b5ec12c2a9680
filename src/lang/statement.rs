//! Several commands in one message: on lines, in sentences, or in the clauses of one sentence.
//!
//! ```text
//! message := statement { mark statement }
//! mark    := newline | "." | ";" | "!" | "," | "and" | "n" | "then" | "also" | "but"
//! ```
//! A clause that is a command by itself ("binned 90 beans") stands alone; what stands between such clauses
//! is read in one piece ("140 dal, 60 rice"). Every piece must be certain, or nothing is.

use super::clause::leads;
use super::command::key_phrase;
use super::syntax::{Command, Reading};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::veto::governs;

/// Pieces that may each be a command of their own.
const LINES_MAX: usize = 40;
const CLAUSES_MAX: usize = 12;

/// Several commands, when the whole is not one. `read` gives every reading of a piece as one command, `but_plates`
/// those that are no plate.
pub fn several<'a>(
    input: Tokens<'a>,
    whole: &[Reading],
    read: impl Fn(Tokens<'a>) -> Vec<Reading> + Copy,
    but_plates: impl Fn(Tokens<'a>) -> Vec<Reading>,
) -> Option<Reading> {
    if let Some(batches) = batch_by_batch(input, read) {
        return Some(batches);
    }
    let is_batch = |reading: &Reading| {
        matches!(
            reading.commands.first(),
            Some(Command::Batch(_) | Command::Add { .. } | Command::Packet(_))
        )
    };
    if whole
        .iter()
        .any(|reading| reading.is_certain() || is_batch(reading))
    {
        return None;
    }
    line_by_line(input, read).or_else(|| clause_by_clause(input, read, but_plates))
}

fn best<'a>(input: Tokens<'a>, read: impl Fn(Tokens<'a>) -> Vec<Reading>) -> Option<Reading> {
    let best = read(input).into_iter().max_by_key(|reading| reading.rank)?;
    stands(&best).then_some(best)
}

fn stands(reading: &Reading) -> bool {
    match reading.commands.as_slice() {
        // "done" closes what the same message put in the bowl.
        [Command::Done] => true,
        // A scale's reading beside a plate is a weighing that nobody would book.
        [Command::Choose(_) | Command::OnScale(_), ..] => false,
        _ => reading.is_certain(),
    }
}

/// A batch begins on a line with its verb: where several do, they are so many batches.
fn batch_by_batch<'a>(
    input: Tokens<'a>,
    read: impl Fn(Tokens<'a>) -> Vec<Reading> + Copy,
) -> Option<Reading> {
    let begins = |at: usize| {
        let fresh = at == 0 || input.slice[at - 1].kind == Kind::Newline;
        let here = input.after(at);
        let named = |rest: Tokens<'_>| {
            matches!(rest.first().map(|token| &token.kind), Some(Kind::Word(_))) && !leads(rest)
        };
        let verbs = ["raw batch", "batch"];
        fresh
            && verbs
                .iter()
                .any(|verb| key_phrase(verb, here).is_ok_and(|(rest, ())| named(rest)))
    };
    let starts: Vec<usize> = (0..input.len()).filter(|&at| begins(at)).collect();
    if starts.len() < 2 || starts.len() > CLAUSES_MAX || starts[0] != 0 {
        return None;
    }
    let ends = starts.iter().skip(1).copied().chain([input.len()]);
    let all: Option<Vec<Reading>> = starts
        .iter()
        .zip(ends)
        .map(|(&from, to)| best(input.range(from, to).trimmed(), read))
        .collect();
    let mut several = joined(all?)?;
    // Rather than one batch with the others among its lines.
    several.rank += 1;
    Some(several)
}

/// One command on each line.
fn line_by_line<'a>(
    input: Tokens<'a>,
    read: impl Fn(Tokens<'a>) -> Vec<Reading> + Copy,
) -> Option<Reading> {
    let lines = parts(input, |input, at| input.slice[at].kind == Kind::Newline);
    if lines.len() < 2 || lines.len() > LINES_MAX {
        return None;
    }
    let all: Option<Vec<Reading>> = lines.into_iter().map(|line| best(line, read)).collect();
    joined(all?)
}

/// Commands in clauses: at least one that is no plate, and the plates around it.
fn clause_by_clause<'a>(
    input: Tokens<'a>,
    read: impl Fn(Tokens<'a>) -> Vec<Reading> + Copy,
    but_plates: impl Fn(Tokens<'a>) -> Vec<Reading>,
) -> Option<Reading> {
    let clauses = parts(input, separates);
    if clauses.len() < 2 || clauses.len() > CLAUSES_MAX || governs(input) {
        return None;
    }
    let alone: Vec<Option<Reading>> = clauses
        .iter()
        .map(|clause| {
            // What stands as nothing else is a plate at best.
            let may_stand = but_plates(*clause).iter().any(stands);
            let best = may_stand.then(|| best(*clause, read)).flatten();
            best.filter(|reading| !is_plate(reading))
        })
        .collect();
    if alone.iter().all(Option::is_none) {
        return None;
    }
    let start = |at: usize| {
        input
            .slice
            .iter()
            .position(|token| token.span == clauses[at].slice[0].span)
    };
    let mut all = Vec::new();
    let mut at = 0;
    while at < clauses.len() {
        let from = start(at)?;
        let mut next = at + 1;
        let mut piece = alone[at].clone();
        match &piece {
            // "binned 90 beans, 40 rice": the list goes on as long as it is one command.
            Some(_) => {
                while next < clauses.len() && alone[next].is_none() {
                    let until = from_end(input, clauses[next]);
                    match best(input.range(from, until), read).filter(|reading| !is_plate(reading))
                    {
                        Some(longer) => piece = Some(longer),
                        None => break,
                    }
                    next += 1;
                }
            }
            None => {
                while next < clauses.len() && alone[next].is_none() {
                    next += 1;
                }
                piece = best(input.range(from, from_end(input, clauses[next - 1])), read);
            }
        }
        let piece = piece?;
        if is_plate(&piece)
            && all
                .last()
                .is_some_and(|last| governs_list(last, clauses[at]))
        {
            return None;
        }
        all.push(piece);
        at = next;
    }
    joined(all)
}

/// "discarded 60 beans and 90 barley", "plate empty 520, with rice 700": what was said first may hold for the
/// list that follows.
fn governs_list(before: &Reading, list: Tokens<'_>) -> bool {
    match before.commands.last() {
        Some(Command::PourOff { batch: None, .. }) => list.first().is_some_and(Token::is_numeric),
        Some(Command::TeachContainer { .. }) => list.norm(0) == "with",
        // "I had the same, but only 100 rice" tells what was different.
        Some(Command::Again(_)) => true,
        _ => false,
    }
}

fn from_end(input: Tokens<'_>, clause: Tokens<'_>) -> usize {
    let end = clause.span().end;
    input
        .slice
        .iter()
        .take_while(|token| token.span.end <= end)
        .count()
}

fn is_plate(reading: &Reading) -> bool {
    matches!(reading.commands.first(), Some(Command::Portion(_)))
}

fn separates(input: Tokens<'_>, at: usize) -> bool {
    let token = &input.slice[at];
    let spaced_after = input.get(at + 1).is_none_or(|next| next.spaced);
    match token.kind {
        Kind::Newline | Kind::Symbol(',' | ';' | '!') => true,
        Kind::Symbol('.') => spaced_after,
        Kind::Symbol('-') => token.spaced && spaced_after,
        Kind::Word(ref norm) => matches!(norm.as_str(), "and" | "n" | "then" | "also" | "but"),
        _ => false,
    }
}

fn parts<'a>(input: Tokens<'a>, separates: impl Fn(Tokens<'a>, usize) -> bool) -> Vec<Tokens<'a>> {
    let mut out = Vec::new();
    let mut from = 0;
    for at in 0..=input.len() {
        if at == input.len() || separates(input, at) {
            let part = input.range(from, at).trimmed();
            if !part.is_empty() {
                out.push(part);
            }
            from = at + 1;
        }
    }
    out
}

/// The readings of the pieces as one of the whole.
fn joined(readings: Vec<Reading>) -> Option<Reading> {
    let mut readings = readings.into_iter();
    let mut combined = readings.next()?;
    for reading in readings {
        combined.commands.extend(reading.commands);
        combined.reasons.extend(reading.reasons);
        combined.rank = combined.rank.min(reading.rank);
        combined.weighing_like |= reading.weighing_like;
    }
    Some(combined)
}
