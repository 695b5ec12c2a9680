//! Several people's plates on the scale in one message: "Tom plate 402 rice 552. me plate 398 rice 578".
//!
//! ```text
//! message := table { table }
//! table   := who vessel reading { food reading }       command/scale.rs
//! ```
//! Every table must be readings of a scale by itself, without a doubt.

use super::command::scale;
use super::command::scale_owner::in_front;
use super::syntax::{Command, Reading, Reason};
use super::token::Token;
use super::tokens::Tokens;
use super::veto::governs;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 80;
/// One more than what the readings of a scale say together.
const RANK: i32 = 836;

pub fn read(input: Tokens<'_>) -> Option<Reading> {
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

fn table(part: Tokens<'_>) -> Option<Command> {
    let mut part = part.trimmed();
    while part.last().is_some_and(|last| last.norm() == "and") {
        part = part.range(0, part.len() - 1).trimmed();
    }
    let said = scale::read(part).filter(|said| said.doubt.is_none() && said.comments.is_empty())?;
    matches!(said.command, Command::Portion(_)).then_some(said.command)
}
