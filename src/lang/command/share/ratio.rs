//! A whole divided in a ratio that was said: "60/40", "2:1:1".

use super::content::Content;
use super::party::Who;
use super::plan::portion;
use super::size::Size;
use super::telling::Telling;
use crate::lang::syntax::{Amount, Eater, Item, PartSize, Portion, Share, SharePart};

/// "60/40", "2:1:1": the parts in the order of the people.
pub fn by_ratio(
    told: &Telling,
    others: &[&Telling],
    items: Vec<Item>,
    ratio: &[f64],
) -> Option<Vec<Portion>> {
    let sum: f64 = ratio.iter().sum();
    let mut left: Vec<f64> = ratio.to_vec();
    let mut parts: Vec<SharePart> = Vec::new();
    // "the bigger one is Ana's", "Tom with the 40"
    for other in others.iter().filter(|other| other.content.is_some()) {
        let Some(Content::Sizes(sizes)) = &other.content else {
            return None;
        };
        let most = ratio.iter().copied().fold(f64::MIN, f64::max);
        let least = ratio.iter().copied().fold(f64::MAX, f64::min);
        let value = match sizes.as_slice() {
            [Size::Bigger] if most > least => most,
            [Size::Smaller] if most > least => least,
            [Size::Amount(Amount::Bare(value))] if left.contains(value) => *value,
            _ => return None,
        };
        let place = left.iter().position(|part| *part == value)?;
        left.remove(place);
        let who = other.who.as_ref()?.one()?.clone();
        parts.push(SharePart {
            who,
            size: PartSize::Of(value / sum),
        });
    }
    let mut named: Vec<Eater> = Vec::new();
    for telling in std::iter::once(told).chain(
        others
            .iter()
            .copied()
            .filter(|other| other.content.is_none()),
    ) {
        match &telling.who {
            Some(Who::Named(more)) => named.extend(more.iter().cloned()),
            Some(Who::Count(people)) if *people as usize != ratio.len() => return None,
            _ => {}
        }
    }
    named.retain(|eater| !parts.iter().any(|part| part.who == *eater));
    let sender_told = named.contains(&None) || parts.iter().any(|part| part.who.is_none());
    if named.len() + 1 == left.len() && !sender_told {
        named.insert(0, None);
    }
    if named.is_empty() {
        // "60/40": the sender's part is said first; whose the other is, the household knows.
        if parts.is_empty() && left.len() == 2 {
            left.truncate(1);
        }
        named = vec![None; left.len()];
    }
    if named.len() != left.len() {
        return None;
    }
    let even = left.windows(2).all(|pair| pair[0] == pair[1]);
    if !even && named.len() > 2 && named.iter().filter(|eater| eater.is_none()).count() > 1 {
        return None;
    }
    parts.extend(named.into_iter().zip(left).map(|(who, value)| SharePart {
        who,
        size: PartSize::Of(value / sum),
    }));
    Some(vec![portion(told, items, None, Some(Share::Parts(parts)))])
}
