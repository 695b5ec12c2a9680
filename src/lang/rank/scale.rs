//! Readings of a scale, judged.

use crate::lang::command::scale::Said;
use crate::lang::syntax::{Error, ErrorKind, Reading, Reason};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::veto::forbids;
use crate::lang::words::sharing;

/// Readings of a scale: every word of them is explained, so only what is said beside them can forbid.
pub fn scale(input: Tokens<'_>, rank: i32, said: Said) -> Reading {
    let beside: Vec<Token> = input
        .slice
        .iter()
        .filter(|token| {
            said.comments
                .iter()
                .any(|span| span.contains(&token.span.start))
        })
        .cloned()
        .collect();
    // "ate half of that", "we all had the same": a part beside the reading is of what was read.
    let part = |token: &Token| token.norm() == "most" || sharing().holds(token);
    let quiet = !forbids(input.with_tokens(&beside)) && !beside.iter().any(part);
    let mut reasons = vec![Reason::Verb("scale"), Reason::Complete];
    if !quiet {
        reasons.push(Reason::Veto("talk beside it"));
    }
    reasons.extend(said.shows.map(Reason::ScaleShows));
    reasons.extend(said.jar.map(Reason::JarShows));
    let errors: Vec<Error> = said
        .doubt
        .into_iter()
        .map(|(kind, span)| Error { kind, span })
        .collect();
    let sure = quiet && errors.is_empty() && !said.follows;
    let untold = errors
        .iter()
        .any(|error| matches!(error.kind, ErrorKind::UnknownTare(_)));
    Reading {
        weighing_like: quiet && !errors.is_empty(),
        // Without the tare there is nothing that it could mean.
        commands: if untold {
            Vec::new()
        } else {
            [Some(said.command), said.otherwise]
                .into_iter()
                .flatten()
                .collect()
        },
        errors,
        reasons,
        // What goes with a reading before it says nothing where there is none.
        rank: if said.follows { rank - 300 } else { rank },
        sure,
    }
}
