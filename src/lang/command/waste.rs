//! Food thrown away: "binned 150 beans", "threw out 120 rice, slimy".
//!
//! ```text
//! waste := ["i" | "we"] verb items [("," | "because" | ":") reason] ["anyway"]
//! ```

use crate::lang::command::portion::{Items, list};
use crate::lang::command::{anyway, key_phrase};
use crate::lang::syntax::{Command, ErrorKind};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (input, anyway) = anyway(input);
    let skip = input
        .slice
        .iter()
        .take_while(|token| matches!(token.norm(), "i" | "we" | "just" | "have" | "ive" | "weve"))
        .count();
    let (rest, ()) = key_phrase("waste", input.after(skip))?;
    let rest = rest.without_lead();
    let (body, reason) = without_reason(rest);
    let Items { items, errors } = list(body);
    if let Some(error) = errors.into_iter().next() {
        return match error.kind {
            ErrorKind::NotAMass(_) | ErrorKind::LeftOver(_) | ErrorKind::MissingAmount
                if body.has_number() =>
            {
                Err(nom::Err::Failure(error))
            }
            _ => input.no(),
        };
    }
    if items.is_empty() {
        return input.no();
    }
    Ok((
        rest.after(rest.len()),
        Command::Waste {
            items,
            reason: reason.map(|reason| reason.words().text),
            anyway,
        },
    ))
}

/// The reason is what follows the last comma, "because" or "-" and has no amount.
fn without_reason(input: Tokens<'_>) -> (Tokens<'_>, Option<Tokens<'_>>) {
    let because =
        input.find(|token| matches!(token.norm(), "because" | "cos" | "cause" | "since" | "as"));
    let comma = input.slice.iter().rposition(|token| {
        matches!(
            token.kind,
            Kind::Symbol(',' | '-' | ':' | ';' | '.' | '(') | Kind::Newline
        )
    });
    let Some(at) = because.or(comma) else {
        return (input, None);
    };
    let reason = input.after(at + 1).trimmed();
    let reason = match reason.last() {
        Some(last) if last.is(')') => reason.range(0, reason.len() - 1),
        _ => reason,
    };
    if reason.is_wordy() && reason.len() <= 12 && at > 0 {
        (input.range(0, at), Some(reason))
    } else {
        (input, None)
    }
}
