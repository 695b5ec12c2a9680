//! Another amount of what was divided among people: "450 dal for the three of us", "no, it was 480". What is put right is
//! the whole, and everybody's part of it follows.

use super::super::super::draft::Draft;
use super::super::super::ids::*;
use super::super::super::mass::Mass;
use super::super::Step;
use super::find_line::{Found, Target, names};
use super::{answer, change_mass, reach};
use crate::lang::syntax::{Amount, Figure, Line};

/// The parts of one dish that one act divided among several people, where what was said is of the whole of them.
pub fn divided(draft: &Draft, new: &Figure, line: &Line) -> Option<(Vec<Found>, Mass)> {
    let (Figure::Is(Amount::Bare(grams) | Amount::Mass(grams)), None) = (new, &line.owner) else {
        return None;
    };
    let new = Mass::weighed_out(*grams)?;
    let acts = reach(draft).into_iter();
    let mut targets = acts.filter_map(|act| Target::of(draft, &act));
    match &line.old {
        Some(Amount::Bare(grams) | Amount::Mass(grams)) => {
            let old = Mass::from_grams(*grams)?;
            let parts = targets.find_map(|target| parts(draft, &target, line))?;
            (sum(&parts) == old).then_some((parts, new))
        }
        Some(_) => None,
        None => {
            let parts = match line.name {
                Some(_) => targets.find_map(|it| parts(draft, &it, line))?,
                None => targets.next().and_then(|it| parts(draft, &it, line))?,
            };
            let most = parts.iter().map(|(_, part)| part.mass).max()?;
            let nearer = (new - sum(&parts)).abs() <= (new - most).abs();
            nearer.then_some((parts, new))
        }
    }
}

fn sum(parts: &[Found]) -> Mass {
    parts.iter().map(|(_, part)| part.mass).sum()
}

/// What the act put on several plates, if all of it is of the one dish that is meant.
fn parts(draft: &Draft, target: &Target, line: &Line) -> Option<Vec<Found>> {
    let mut own = target.own();
    if let Some(name) = &line.name {
        own.retain(|(_, part)| names(draft, part, name));
    }
    let (first, rest) = own.split_first()?;
    let like = |other: &Found| {
        (other.1.batch, other.1.profile) == (first.1.batch, first.1.profile)
            && other.1.from == first.1.from
    };
    let mut plates: Vec<AccountId> = own.iter().map(|(plate, _)| *plate).collect();
    plates.sort_unstable();
    plates.dedup();
    let apart = plates.len() == own.len() && !rest.is_empty();
    (apart && rest.iter().all(like)).then_some(own)
}

/// Everybody's part of the new whole, as before.
pub fn changed(draft: &mut Draft, parts: &[Found], whole: Mass) -> Step {
    let weights: Vec<f64> = parts.iter().map(|(_, part)| part.mass.grams()).collect();
    for ((plate, part), mass) in parts.iter().zip(whole.split(&weights)) {
        change_mass(draft, *plate, part, mass)?;
    }
    let plates: Vec<AccountId> = parts.iter().map(|(plate, _)| *plate).collect();
    Ok(answer(draft, &plates))
}
