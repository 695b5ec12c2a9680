//! The parts of one whole: grams, shares, "2 parts", ratios, the rest.

use super::content::{Content, Size};
use super::party::Who;
use super::plan::portion;
use super::telling::Telling;
use crate::lang::syntax::{
    Amount, COUNTS, Eater, Item, OTHERS, PartSize, Portion, Share, SharePart, Words,
};

/// Less of a dish than this is no part.
pub const PART_GRAMS_MIN: f64 = 10.0;

pub fn small(part: &SharePart) -> bool {
    matches!(part.size, PartSize::Grams(grams) if grams < PART_GRAMS_MIN)
}

/// Those of the table whose part was not told have the rest.
pub fn remaining(who: Option<&Who>, parts: &mut Vec<SharePart>) -> Option<()> {
    match who {
        Some(Who::Named(named)) => {
            for eater in named {
                if !parts.iter().any(|part| part.who == *eater) {
                    parts.push(SharePart {
                        who: eater.clone(),
                        size: PartSize::Rest,
                    });
                }
            }
        }
        Some(Who::Count(people)) => match (*people as usize).checked_sub(parts.len())? {
            0 | 1 => {}
            others => parts.push(SharePart {
                who: Some(the_others(others, parts)?),
                size: PartSize::Rest,
            }),
        },
        _ => {}
    }
    Some(())
}

/// "the other two"
fn other_people(count: usize) -> Option<Words> {
    let counted = COUNTS.iter().find(|(_, known)| *known == count)?;
    Some(Words::plain(format!("the other {}", counted.0)))
}

/// So many who are not named, the sender among them.
fn the_others(count: usize, parts: &[SharePart]) -> Option<Words> {
    let rest = parts.iter().any(|part| part.size == PartSize::Rest);
    if rest { None } else { other_people(count) }
}

pub fn sized(telling: &Telling) -> Option<SharePart> {
    let who = telling.who.clone()?;
    match &telling.content {
        Some(Content::Sizes(sizes)) => match sizes.as_slice() {
            [size] => part(who, size),
            _ => None,
        },
        Some(Content::Part(size)) => part(who, size),
        None if telling.finishes => part(who, &Size::Rest),
        _ => None,
    }
}

/// "me and Ana split the rest", "the rest between me and Ana": a part for each.
pub fn sized_for_all(telling: &Telling) -> Option<Vec<SharePart>> {
    let rest =
        matches!(&telling.content, Some(Content::Sizes(sizes)) if sizes.as_slice() == [Size::Rest]);
    match &telling.who {
        Some(Who::Named(named)) if rest && named.len() > 1 => {
            let part = |who: &Eater| SharePart {
                who: who.clone(),
                size: PartSize::Rest,
            };
            Some(named.iter().map(part).collect())
        }
        _ => Some(vec![sized(telling)?]),
    }
}

pub fn part(who: Who, size: &Size) -> Option<SharePart> {
    let size = match size {
        Size::Amount(Amount::Bare(grams) | Amount::Mass(grams)) => PartSize::Grams(*grams),
        Size::Part(share) => PartSize::Of(*share),
        // Shares are made whole once all are known.
        Size::Shares(count) => PartSize::Of(-*count),
        Size::Rest => PartSize::Rest,
        _ => return None,
    };
    let who = match &who {
        Who::Others(None) => Some(Words::plain(OTHERS)),
        Who::Others(Some(count)) => Some(other_people(*count as usize)?),
        who => who.one()?.clone(),
    };
    Some(SharePart { who, size })
}

/// "Tom gets double what me and Ana get": parts of so many shares.
pub fn compared(told: Option<&Who>, other: &Telling) -> Option<Vec<SharePart>> {
    let Some(Content::Sizes(sizes)) = &other.content else {
        return None;
    };
    let ([Size::Against(times, Who::Named(against))], Some(who)) =
        (sizes.as_slice(), other.who.as_ref()?.one())
    else {
        return None;
    };
    let people = against.len() + 1;
    let all = match told {
        Some(Who::Count(count)) => *count as usize == people,
        Some(Who::Named(named)) => named.len() == people,
        _ => true,
    };
    let part = |who: &Eater, count: f64| SharePart {
        who: who.clone(),
        size: PartSize::Of(-count),
    };
    let theirs = against.iter().map(|eater| part(eater, 1.0));
    let parts = std::iter::once(part(who, *times)).chain(theirs).collect();
    (all && !against.contains(who)).then_some(parts)
}

/// Parts that are counted are shares of their sum.
pub fn shares(mut parts: Vec<SharePart>) -> Option<Share> {
    let counted: f64 = parts
        .iter()
        .map(|part| match part.size {
            PartSize::Of(share) if share < 0.0 => -share,
            _ => 0.0,
        })
        .sum();
    if counted > 0.0 {
        for part in &mut parts {
            match &mut part.size {
                PartSize::Of(share) if *share < 0.0 => *share = -*share / counted,
                _ => return None,
            }
        }
    }
    Some(Share::Parts(parts))
}

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
        let most = left.iter().copied().fold(f64::MIN, f64::max);
        let least = left.iter().copied().fold(f64::MAX, f64::min);
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
