//! How much of a dish, without its name: an amount, a share, so many parts, the rest, or told by another's.
//!
//! ```text
//! size := amount | fraction | percent | n "parts" | "the rest" | "the same" | "twice that" | "the bigger one"
//! ```
//! Sizes that hang on somebody else's are read in `relation.rs`.

use super::party::Who;
use crate::lang::item::whole_amount;
use crate::lang::number::number;
use crate::lang::syntax::Amount;
use crate::lang::token::Kind;
use crate::lang::tokens::Tokens;
use crate::lang::words::at_table;

/// How much, without of what.
#[derive(Debug, Clone, PartialEq)]
pub enum Size {
    Amount(Amount),
    /// A share of the whole.
    Part(f64),
    /// So many parts, however many there are in all.
    Shares(f64),
    Rest,
    /// So many times what was told before: 1 is "the same".
    Times(f64),
    /// So many times what each of these people has.
    Against(f64, Who),
    /// So many grams more than these have, or fewer; without them it is the other one, or the last.
    More(f64, Option<Who>),
    /// A share of what those before have left.
    OfRest(f64),
    Bigger,
    Smaller,
}

impl Size {
    /// What a key of the list stands for.
    pub fn named(key: &str) -> Option<Self> {
        match key {
            "rest" => Some(Self::Rest),
            "same" => Some(Self::Times(1.0)),
            "bigger" => Some(Self::Bigger),
            "smaller" => Some(Self::Smaller),
            key => key.strip_suffix(" times")?.parse().ok().map(Self::Times),
        }
    }
}

/// The whole of the tokens as a size.
pub fn size(run: Tokens<'_>) -> Option<Size> {
    let mut run = run.trimmed();
    if let Some((_, key)) = at_table()
        .longest(run.slice)
        .filter(|(length, _)| *length == run.len())
    {
        return Size::named(key);
    }
    while matches!(
        run.last()?.norm(),
        "first" | "before" | "already" | "afterwards" | "earlier" | "max" | "tops"
    ) {
        run = run.range(0, run.len() - 1);
    }
    while matches!(
        run.norm(0),
        "the" | "other" | "only" | "about" | "just" | "exactly" | "like" | "his" | "her"
    ) {
        run = run.take_one();
    }
    if let Kind::Percent(percent) = run.first()?.kind {
        return (run.len() == 1 && percent > 0.0 && percent < 100.0)
            .then_some(Size::Part(percent / 100.0));
    }
    if let Ok((rest, number)) = number(run) {
        if matches!(rest.norm(0), "part" | "parts" | "share" | "shares")
            && rest.len() == 1
            && number.value > 0.0
        {
            return Some(Size::Shares(number.value));
        }
        let percent = matches!((rest.norm(0), rest.len()), ("percent" | "pct", 1))
            || rest.norm(0) == "per" && rest.norm(1) == "cent" && rest.len() == 2;
        if percent && number.value > 0.0 && number.value < 100.0 {
            return Some(Size::Part(number.value / 100.0));
        }
        if rest.is_empty() && number.value > 0.0 && number.value < 1.0 {
            return Some(Size::Part(number.value));
        }
        if number.article && rest.is_empty() && run.norm(0) != "one" {
            return None;
        }
    }
    match whole_amount(run).ok()?.1 {
        Amount::Share(_) | Amount::Uncounted(_) | Amount::Between { .. } | Amount::Sum(_) => None,
        amount => Some(Size::Amount(amount)),
    }
}
