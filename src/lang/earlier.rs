//! That something was eaten a while ago: "an hour ago", "this morning", "before the count". What was counted since is not
//! changed by it, as little as by an hour that was told (`hour.rs`).
//!
//! ```text
//! earlier := lasting "ago" | ("this" | "early this") "morning" | "before" ("the" | "that" | "you" | "we" | "i") counted
//! ```
//! It stands behind what was eaten, or alone, or in front of it.

use std::fmt::{self, Display, Formatter};

use super::hour::is_of_food;
use super::lasting::lasting;
use super::syntax::{Command, Reading};
use super::tokens::Tokens;
use super::words::counts;

/// Longer ago nobody tells in minutes.
const MINUTES_MAX: u32 = 18 * 60;

/// When it was, as far as that was told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Earlier {
    Minutes(u32),
    Morning,
    /// Before the scale was last asked.
    BeforeCount,
}

impl Display for Earlier {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Minutes(minutes) => write!(f, "{minutes} min ago"),
            Self::Morning => f.write_str("this morning"),
            Self::BeforeCount => f.write_str("before the count"),
        }
    }
}

/// Every plate of these readings was had then.
pub fn tell(readings: &mut [Reading], body: Tokens<'_>) {
    let told = (0..body.len()).find_map(|at| read(body.after(at)).filter(|_| is_of_food(body, at)));
    let commands = readings
        .iter_mut()
        .flat_map(|reading| &mut reading.commands);
    for command in commands {
        if let Command::Portion(portion) = command {
            portion.earlier = told;
        }
    }
}

fn read(rest: Tokens<'_>) -> Option<Earlier> {
    let about = usize::from(matches!(rest.norm(0), "about" | "like" | "around"));
    if let Ok((behind, span)) = lasting(rest.after(about))
        && behind.norm(0) == "ago"
    {
        let told = (1..=MINUTES_MAX).contains(&span.minutes);
        return told.then_some(Earlier::Minutes(span.minutes));
    }
    match (rest.norm(0), rest.norm(1)) {
        ("this", "morning") => Some(Earlier::Morning),
        ("before", "the" | "that" | "you" | "we" | "i") => {
            let counted = rest.after(2);
            let said = counts().longest_of(counted.slice, "recount").is_some()
                || matches!(
                    counted.norm(0),
                    "count" | "counted" | "recounted" | "weighed"
                );
            said.then_some(Earlier::BeforeCount)
        }
        _ => None,
    }
}
