//! A dish that is named once holds for what the next sentence tells of it: "soup: Ana 210, Tom 330. and 90 got
//! burnt so i binned that", "lost 100 beans down the sink. ana and me had 200 each", "160 parsnips for me, then
//! there's 470 left in the tray".
//!
//! ```text
//! message := told mark told        a dish in one of them, a number and no food in the other
//! mark    := "." | ";" | "!" | newline | ","
//! ```
//! "Salsa cooked down to 540, me 90 Tom 110": what a pot was weighed at goes before what is eaten of it.
//! Each of the two must be certain once the dish stands behind the number, and one of them tells of a loss or a
//! count: plates alone are read as a table. What was lost behind a plate may have been on it, unless it is told by
//! itself, and little that is left may lie there; with a vessel on the scale, what is left may be its reading.

use super::aside::tells_food;
use super::jars::is_vessel;
use super::lost;
use super::syntax::{Command, Reading, Reason};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::unit;
use super::veto::governs;
use super::words::fates;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 50;
/// Places to cut that are tried.
const MARKS_MAX: usize = 6;
const NAME_WORDS_MAX: usize = 4;
/// Between an amount and what became of it.
const LOSS_TOKENS_MAX: usize = 2;
/// So little is left on a plate, not in a pot.
const LEFT_GRAMS_MIN: f64 = 150.0;

/// Both sentences as one reading; `read` gives every reading of one of them.
pub fn over(input: Tokens<'_>, read: impl Fn(Tokens<'_>) -> Vec<Reading>) -> Option<Reading> {
    let asked = input.slice.iter().any(|token| token.is('?'));
    if input.len() > TOKENS_MAX || asked || !input.has_number() || governs(input) {
        return None;
    }
    let best = |part: Tokens<'_>| {
        let best = read(part).into_iter().max_by_key(|reading| reading.rank)?;
        best.is_certain().then_some(best)
    };
    (1..input.len())
        .filter(|&at| is_mark(input, at))
        .take(MARKS_MAX)
        .find_map(|at| {
            let (first, second) = (input.range(0, at).trimmed(), input.after(at + 1).trimmed());
            let name = dish(first).filter(|_| names_nothing(second))?;
            let before = best(first)?;
            let joint = matches!(second.norm(0), "and" | "but" | "then" | "so");
            let soft = input.slice[at].is(',') && !joint || input.norm(at) == "and";
            if soft && !is_weighed(&before) {
                return None;
            }
            let named = with_dish(second, &name)?;
            let behind = best(second.with_tokens(&named))?;
            tell_two_things(&before, &behind, first, second).then(|| joined(before, behind))
        })
}

fn is_mark(input: Tokens<'_>, at: usize) -> bool {
    let spaced_after = input.get(at + 1).is_none_or(|next| next.spaced);
    match input.slice[at].kind {
        Kind::Newline | Kind::Symbol(';' | '!') => true,
        Kind::Symbol('.') => spaced_after,
        Kind::Symbol(',') => true,
        Kind::Word(ref norm) => norm == "and",
        _ => false,
    }
}

/// The words of the one dish of the household that is named.
fn dish(input: Tokens<'_>) -> Option<Vec<Token>> {
    let mut found: Option<Vec<Token>> = None;
    let mut at = 0;
    while at < input.len() {
        let rest = input.after(at);
        let names = |said: Tokens<'_>| {
            let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
            input.vocabulary.is_batch(&words).then_some(())
        };
        let Some((length, ())) = rest.longest_run(NAME_WORDS_MAX, names) else {
            at += 1;
            continue;
        };
        let words = rest.slice[..length].to_vec();
        let same = |known: &Vec<Token>| {
            known
                .iter()
                .map(Token::norm)
                .eq(words.iter().map(Token::norm))
        };
        if found.as_ref().is_some_and(|known| !same(known)) {
            return None;
        }
        found = Some(words);
        at += length;
    }
    found
}

fn names_nothing(input: Tokens<'_>) -> bool {
    !(0..input.len()).any(|at| tells_food(input, at))
}

/// The sentence with the dish behind each of its numbers, in the place of "of it".
fn with_dish(input: Tokens<'_>, name: &[Token]) -> Option<Vec<Token>> {
    let mut named = Vec::new();
    let mut numbers = 0;
    let mut at = 0;
    while at < input.len() {
        named.push(input.slice[at].clone());
        at += 1;
        if !input.slice[at - 1].is_numeric() {
            continue;
        }
        numbers += 1;
        let behind = input.after(at);
        let skip = unit(behind).map_or(0, |(rest, _)| behind.len() - rest.len());
        named.extend_from_slice(&behind.slice[..skip]);
        at += skip;
        let place = input.slice[at - 1].span.end;
        named.extend(
            name.iter()
                .map(|token| Token::new(token.kind.clone(), place..place, true)),
        );
        at += fates().longest_of(input.after(at).slice, "it").unwrap_or(0);
    }
    (numbers > 0).then_some(named)
}

/// Plates beside a loss or a count, of which each is by itself.
fn tell_two_things(
    before: &Reading,
    behind: &Reading,
    first: Tokens<'_>,
    second: Tokens<'_>,
) -> bool {
    let vessel = first.slice.iter().any(|token| is_vessel(token.norm()));
    match behind.commands.as_slice() {
        [Command::Waste { .. }] if before.only_eaten() => {
            let numbers = second.slice.iter().filter(|token| token.is_numeric());
            numbers.count() == 1 && is_lost_by_itself(second)
        }
        [Command::Count { items, .. }] if before.only_eaten() && !vessel => items
            .iter()
            .all(|item| item.weighing.readings_grams.iter().sum::<f64>() >= LEFT_GRAMS_MIN),
        _ => {
            let loses = |command: &Command| matches!(command, Command::Waste { .. });
            let lost = before.commands.iter().all(loses);
            behind.only_eaten() && (lost || is_weighed(before) && !vessel)
        }
    }
}

/// A pot is on the scale, and nobody has eaten of it yet.
fn is_weighed(reading: &Reading) -> bool {
    matches!(
        reading.commands.as_slice(),
        [Command::Weigh { .. } | Command::Count { .. }]
    )
}

/// "90 got burnt so i binned that": the loss is told of that amount right behind it.
fn is_lost_by_itself(second: Tokens<'_>) -> bool {
    let number = second.find(Token::is_numeric).unwrap_or(second.len());
    let near = number + 1..number + 1 + LOSS_TOKENS_MAX;
    let signs = lost::signs(second).unwrap_or_default();
    signs.iter().any(|sign| near.contains(&sign.from))
}

fn joined(before: Reading, behind: Reading) -> Reading {
    let mut reasons = before.reasons;
    reasons.extend(behind.reasons);
    reasons.push(Reason::Cut("carried"));
    Reading {
        commands: before.commands.into_iter().chain(behind.commands).collect(),
        rank: before.rank.min(behind.rank),
        reasons,
        ..behind
    }
}
