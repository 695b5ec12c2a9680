//! Several people's plates on the scale in one message: "Tom plate 402 rice 552. me plate 398 rice 578".
//!
//! ```text
//! message := table { table }
//! table   := who vessel reading { food reading }       command/scale.rs
//! ```
//! "Ana's plate weighs the same" is read as what the first weighed empty. Every table must be readings of a scale by itself, without a doubt.

use super::command::scale;
use super::command::scale_owner::in_front;
use super::jars::is_vessel;
use super::syntax::{Command, Reading, Reason};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::veto::governs;
use super::words::{at_scale, otherwise};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 80;
/// One more than what the readings of a scale say together.
const RANK: i32 = 836;

pub fn read(input: Tokens<'_>) -> Option<Reading> {
    let told = with_tares(input);
    let input = told
        .as_ref()
        .map_or(input, |tokens| input.with_tokens(tokens));
    if input.len() > TOKENS_MAX || input.slice.iter().filter(|it| it.is_numeric()).count() < 4 {
        return None;
    }
    let begins = |at: &usize| {
        let before = at.checked_sub(1).map(|at| &input.slice[at]);
        let apart = before.is_none_or(|token| token.norm().is_empty() || token.norm() == "and");
        let numeric = before.is_some_and(Token::is_numeric);
        (apart || numeric) && in_front(input.after(*at)).is_some()
    };
    let starts: Vec<usize> = (0..input.len()).filter(begins).collect();
    if starts.len() < 2 || starts[0] != 0 || governs(input) {
        return None;
    }
    let ends = starts.iter().skip(1).copied().chain([input.len()]);
    let commands: Option<Vec<Command>> = starts
        .iter()
        .zip(ends)
        .map(|(&from, to)| table(input.range(from, to)))
        .collect();
    Some(Reading {
        commands: commands?,
        errors: Vec::new(),
        reasons: vec![Reason::Verb("scale"), Reason::Complete],
        rank: RANK,
        sure: true,
        weighing_like: true,
    })
}

/// The message with the first reading in the place of "weighs the same"; nothing where no plate does.
fn with_tares(input: Tokens<'_>) -> Option<Vec<Token>> {
    let said = |at: usize, key| at_scale().longest_of(input.after(at).slice, key);
    let first = input.slice.iter().position(Token::is_numeric)?;
    let (at, length) = (first + 1..input.len()).find_map(|at| {
        let vessel = is_vessel(input.norm(at - 1));
        let same = otherwise().longest_of(input.after(at).slice, "weighs the same");
        Some((at, same.filter(|_| vessel)?))
    })?;
    let empty = usize::from(said(at + length, "empty").is_some());
    let mut end = at + length + empty;
    // "and hers was 575": whose it is was told.
    let idle = |norm: &str| {
        matches!(
            norm,
            "and" | "n" | "hers" | "his" | "mine" | "it" | "was" | "is"
        )
    };
    while input
        .get(end)
        .is_some_and(|token| idle(token.norm()) || token.is(',') || token.is('.'))
    {
        end += 1;
    }
    let mut told = input.slice.to_vec();
    let place = told[at].span.clone();
    let comma = Token::new(Kind::Symbol(','), place.clone(), false);
    let reading = Token::new(input.slice[first].kind.clone(), place, true);
    told.splice(at..end, [reading, comma]);
    Some(told)
}

fn table(part: Tokens<'_>) -> Option<Command> {
    let mut part = part.trimmed();
    while part.last().is_some_and(|last| last.norm() == "and") {
        part = part.range(0, part.len() - 1).trimmed();
    }
    let said = scale::read(part).filter(|said| said.doubt.is_none() && said.comments.is_empty())?;
    matches!(said.command, Command::Portion(_)).then_some(said.command)
}
