//! Parts of a pot that nobody weighed: what is left of it is the whole.

use super::content::Content;
use super::parts::{shares, sized};
use super::party::Who;
use super::plan::portion;
use super::telling::Telling;
use crate::lang::syntax::{Amount, Item, PartSize, Portion, Share, SharePart};

/// Each of a pot: what is left of it is the whole.
pub fn from_pot(
    told: &Telling,
    own: SharePart,
    others: &[&Telling],
    items: Vec<Item>,
) -> Option<Vec<Portion>> {
    let mut parts = vec![own];
    for other in others {
        parts.push(sized(other)?);
    }
    let of = |part: &SharePart| match part.size {
        PartSize::Of(share) => Some(share),
        _ => None,
    };
    let shares_alone: Option<Vec<f64>> = parts.iter().map(of).collect();
    let mut pot = 1.0;
    if let Some(told) = shares_alone {
        let sum: f64 = told.iter().sum();
        if sum > 1.0 + 1e-6 {
            return None;
        }
        pot = if sum > 1.0 - 1e-3 { 1.0 } else { sum };
        for part in &mut parts {
            if let PartSize::Of(share) = &mut part.size {
                *share /= sum;
            }
        }
    }
    let items = vec![Item {
        amount: Amount::Share(pot),
        ..items.into_iter().next()?
    }];
    Some(vec![portion(told, items, None, Some(shares(parts)?))])
}

/// "1/4 of the salsa for me, 1/4 of the salsa for Ana": of the pot as it stood.
pub fn of_one_pot(tellings: &[Telling]) -> Option<Vec<Portion>> {
    let mut parts = Vec::new();
    let mut name: Option<Item> = None;
    for telling in tellings {
        let Some(Content::Items(items)) = &telling.content else {
            return None;
        };
        let [item] = items.as_slice() else {
            return None;
        };
        let Amount::Share(share) = item.amount else {
            return None;
        };
        if name.as_ref().is_some_and(|known| known.name != item.name)
            || telling.each
            || telling.split.is_some()
        {
            return None;
        }
        name = Some(item.clone());
        let who = telling.who.clone().unwrap_or(Who::sender());
        parts.push(SharePart {
            who: who.one()?.clone(),
            size: PartSize::Of(share),
        });
    }
    let own = parts.remove(0);
    let sum: f64 = parts
        .iter()
        .chain([&own])
        .map(|part| {
            if let PartSize::Of(share) = part.size {
                share
            } else {
                0.0
            }
        })
        .sum();
    if parts.is_empty() || sum > 1.0 + 1e-6 {
        return None;
    }
    let all: Vec<SharePart> = std::iter::once(own)
        .chain(parts)
        .map(|part| match part.size {
            PartSize::Of(share) => SharePart {
                size: PartSize::Of(share / sum),
                ..part
            },
            _ => part,
        })
        .collect();
    let pot = if sum > 1.0 - 1e-3 { 1.0 } else { sum };
    let item = Item {
        amount: Amount::Share(pot),
        ..name?
    };
    Some(vec![portion(
        &tellings[0],
        vec![item],
        None,
        Some(Share::Parts(all)),
    )])
}
