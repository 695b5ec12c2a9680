//! Amounts that are told by another: "the same", "twice that".

use super::content::{Content, Size};
use super::telling::Telling;
use crate::lang::syntax::{Amount, Item};

/// "the same", "twice that": of what was told before.
pub fn relate(tellings: &mut [Telling]) -> Option<()> {
    for at in 0..tellings.len() {
        let Some(Content::Sizes(sizes)) = &tellings[at].content else {
            continue;
        };
        let [Size::Times(times)] = sizes.as_slice() else {
            continue;
        };
        let before = tellings[..at]
            .iter()
            .rev()
            .find_map(|telling| match &telling.content {
                Some(Content::Items(items)) => Some(items.clone()),
                _ => None,
            });
        let items: Option<Vec<Item>> = before?
            .into_iter()
            .map(|item| {
                Some(Item {
                    amount: times_of(&item.amount, *times)?,
                    ..item
                })
            })
            .collect();
        tellings[at].content = Some(Content::Items(items?));
    }
    Some(())
}

fn times_of(amount: &Amount, times: f64) -> Option<Amount> {
    match amount {
        _ if times == 1.0 => Some(amount.clone()),
        Amount::Bare(grams) => Some(Amount::Bare(grams * times)),
        Amount::Mass(grams) => Some(Amount::Mass(grams * times)),
        Amount::Volume {
            count,
            unit,
            qualifiers,
        } => Some(Amount::Volume {
            count: count * times,
            unit: *unit,
            qualifiers: qualifiers.clone(),
        }),
        Amount::Pieces { count, measure } => Some(Amount::Pieces {
            count: count * times,
            measure: measure.clone(),
        }),
        _ => None,
    }
}
