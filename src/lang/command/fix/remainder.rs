//! What was left of a line when a part of it was told: "halve that, the other half was Ana's", "I only had 200
//! of it, Tom had the rest".
//!
//! ```text
//! rest := other was person | person had other
//! other := "the other" (fraction | [amount] ["bit"]) | "the rest" ["of it"]
//! ```
//! With the part before it, it is one line shared by two.

use super::{after, said, whose, without_closing, without_excuse};
use crate::lang::amount::grams;
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{Amount, Command, Figure, Fix, Of, PartSize, Share, SharePart, Words};
use crate::lang::tokens::Tokens;

/// The line shared, where the piece tells whose the rest is of what the correction before it kept.
pub fn read(before: Option<&Command>, piece: Tokens<'_>) -> Option<Fix> {
    let (kept, name) = kept(before?)?;
    let (who, size) = rest(without_closing(without_excuse(piece)))?;
    let share = Share::Parts(vec![
        SharePart {
            who: None,
            size: kept,
        },
        SharePart {
            who: Some(who),
            size,
        },
    ]);
    let of = name.map_or(Of::Last, Of::Named);
    Some(Fix::Shared { share, of })
}

/// The part that the sender kept, and of what.
fn kept(command: &Command) -> Option<(PartSize, Option<Words>)> {
    match command {
        Command::Fix(Fix::Amount { new, line }) if line.owner.is_none() => match new {
            Figure::Times(times) if *times < 1.0 => Some((PartSize::Of(*times), line.name.clone())),
            Figure::Is(Amount::Bare(grams) | Amount::Mass(grams)) => {
                Some((PartSize::Grams(*grams), line.name.clone()))
            }
            _ => None,
        },
        Command::Fix(Fix::Whose {
            who,
            of: Of::Part(part, name),
        }) if who.text == "mine" => Some((size(part)?, name.clone())),
        // "that was for two, Ana got the other half"
        Command::Fix(Fix::Shared {
            share: Share::Equally(party),
            of,
        }) if party.named.is_empty() && party.people == Some(2) => match of {
            Of::Last => Some((PartSize::Of(0.5), None)),
            Of::Named(name) => Some((PartSize::Of(0.5), Some(name.clone()))),
            _ => None,
        },
        _ => None,
    }
}

fn size(part: &Amount) -> Option<PartSize> {
    match part {
        Amount::Share(share) => Some(PartSize::Of(*share)),
        Amount::Bare(grams) | Amount::Mass(grams) => Some(PartSize::Grams(*grams)),
        _ => None,
    }
}

fn rest(piece: Tokens<'_>) -> Option<(Words, PartSize)> {
    if let Some((size, rest)) = other(piece) {
        let verb = said("was", rest).unwrap_or(0);
        return Some((whose::somebody(rest.after(verb))?, size));
    }
    let (length, who) = person(piece)?;
    let (size, rest) = other(after("took", piece.after(length))?)?;
    rest.is_empty().then_some((who, size))
}

/// "the other half", "the other 100", "the rest of it"
fn other(input: Tokens<'_>) -> Option<(PartSize, Tokens<'_>)> {
    let rest = after("the rest", input)?;
    // Which fraction the other is follows from the first.
    if let Ok((after, part)) = number(rest)
        && part.value < 1.0
    {
        return Some((PartSize::Rest, after));
    }
    match grams(rest) {
        Ok((after, grams)) => Some((PartSize::Grams(grams), after)),
        Err(_) => Some((PartSize::Rest, rest)),
    }
}
