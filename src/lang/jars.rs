//! A jar weighed before and after, beside what lies on the plate: "olive oil bottle 604 before dressing, 589
//! after, and 140 beans"; and several jars under one head: "both jars: salsa 742->690, beans 935->810".
//!
//! ```text
//! message := [head] part { sep part }
//! part    := jar | plate                  a jar may take several clauses
//! head    := [number | "both" | "the"] vessels [":" | ","]
//! sep     := "," | ";" | "." | newline | "+" | "and" | "plus" | "with" | "also"
//! ```
//! Each part must be certain by itself, so that no reading of a jar is taken for a plate.

use super::command::on_scale::is_plate;
use super::command::scale;
use super::gist;
use super::syntax::{Command, Reading, Reason};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::veto::governs;
use super::words::{at_scale, containers};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 60;
const CLAUSES_MAX: usize = 8;
/// "the tub was 940, 860 after tea": so many clauses tell of one jar.
const JAR_CLAUSES_MAX: usize = 3;

/// The jars and the plates of a message that names a vessel or draws an arrow; `read` gives every reading of a part.
pub fn beside<'a>(
    input: Tokens<'a>,
    read: impl Fn(Tokens<'a>) -> Vec<Reading> + Copy,
) -> Option<Reading> {
    let numbers = input.slice.iter().filter(|token| token.is_numeric());
    let arrow = |token: &Token| token.is('→') || token.norm() == "to";
    let vessel = input
        .slice
        .iter()
        .any(|token| is_vessel(token.norm()) || arrow(token));
    // What lies on a plate is weighed with it, and is no jar.
    let plate = input.slice.iter().any(|token| is_plate(token.norm()));
    if input.len() > TOKENS_MAX || !vessel || plate || numbers.count() < 3 {
        return None;
    }
    let head = head(input);
    if governs(input.after(head)) {
        return None;
    }
    let clauses = clauses(input.after(head));
    if clauses.len() > CLAUSES_MAX || clauses.len() < 2 {
        return None;
    }
    let plate = |part: Tokens<'a>| {
        let readings = read(part).into_iter();
        let mut eaten = readings.filter(|reading| reading.only_eaten() && reading.is_certain());
        eaten.next().map(|reading| reading.commands)
    };
    let whole = (head > 0).then(|| plate(input.after(head))).flatten();
    let commands = whole.or_else(|| parts(input, &clauses, plate))?;
    Some(Reading {
        commands,
        errors: Vec::new(),
        reasons: vec![Reason::Verb("jars"), Reason::Complete],
        rank: RANK,
        sure: true,
        weighing_like: true,
    })
}

/// As what the readings of a scale say together.
const RANK: i32 = 835;

/// At least one jar, and what stands before and behind it.
fn parts<'a>(
    input: Tokens<'a>,
    clauses: &[Tokens<'a>],
    plate: impl Fn(Tokens<'a>) -> Option<Vec<Command>>,
) -> Option<Vec<Command>> {
    let run = |from: usize, to: usize| joined(input, clauses[from], clauses[to - 1]);
    let mut commands = Vec::new();
    let mut jars = 0;
    let mut from = 0;
    let mut at = 0;
    while at < clauses.len() {
        let ends = (at + 1..=clauses.len().min(at + JAR_CLAUSES_MAX)).rev();
        let Some((end, jar)) = ends
            .filter_map(|end| Some((end, jar(run(at, end))?)))
            .next()
        else {
            at += 1;
            continue;
        };
        if from < at {
            commands.extend(plate(run(from, at))?);
        }
        commands.extend(jar);
        jars += 1;
        (from, at) = (end, end);
    }
    if jars == 0 || jars == 1 && from == clauses.len() && commands.len() == 1 {
        return None;
    }
    if from < clauses.len() {
        commands.extend(plate(run(from, clauses.len()))?);
    }
    Some(commands)
}

/// What left one jar.
fn jar(part: Tokens<'_>) -> Option<Vec<Command>> {
    let numbers = part.slice.iter().filter(|token| token.is_numeric()).count();
    if numbers != 2 {
        return None;
    }
    let shown = scale::read(part).filter(|said| said.doubt.is_none());
    let shown = shown.map(|said| said.command);
    let eaten = shown.filter(|command| matches!(command, Command::Portion(_)));
    eaten
        .map(|command| vec![command])
        .or_else(|| gist::of_a_jar(part))
}

/// From the first clause to the last, with what stands between them.
fn joined<'a>(input: Tokens<'a>, first: Tokens<'a>, last: Tokens<'a>) -> Tokens<'a> {
    let (start, end) = (first.span().start, last.span().end);
    let from = input
        .slice
        .partition_point(|token| token.span.start < start);
    let to = input.slice.partition_point(|token| token.span.start < end);
    input.range(from, to)
}

/// "both jars:": vessels and nothing in them yet.
fn head(input: Tokens<'_>) -> usize {
    let mut at = 0;
    while matches!(
        input.norm(at),
        "both" | "the" | "my" | "our" | "all" | "two" | "three" | "2" | "3"
    ) || input
        .get(at)
        .is_some_and(|token| matches!(token.kind, Kind::Number(numeral) if numeral.value < 10.0))
    {
        at += 1;
    }
    let several = input.norm(at).ends_with('s') && is_vessel(input.norm(at));
    let closed = input
        .get(at + 1)
        .is_some_and(|token| matches!(token.kind, Kind::Newline | Kind::Symbol(':' | ',')));
    match several && closed {
        true => at + 2,
        false => 0,
    }
}

pub fn is_vessel(norm: &str) -> bool {
    let one = norm.strip_suffix('s').unwrap_or(norm);
    containers().has(norm) || containers().has(one) || at_scale().get(one) == Some("vessel")
}

fn clauses(input: Tokens<'_>) -> Vec<Tokens<'_>> {
    let separates = |token: &Token| match &token.kind {
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '+') => true,
        Kind::Word(norm) => matches!(norm.as_str(), "and" | "plus" | "with" | "also"),
        _ => false,
    };
    let parts = input
        .split(separates)
        .into_iter()
        .map(|part| part.trimmed());
    parts.filter(|part| !part.is_empty()).collect()
}
