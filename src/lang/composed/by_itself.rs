//! Plates told each by itself, by the scale or by somebody else's: "2 ladles of dal for me, 1 for Ana".

use super::scene::{Scene, Told};
use super::settle::Settled;
use crate::lang::command::share::by_name::{Entry, by_name};
use crate::lang::command::share::content::Content;
use crate::lang::command::share::party::{Role, Who};
use crate::lang::command::share::size::Size;
use crate::lang::command::share::telling::Telling;
use crate::lang::syntax::{Amount, Item};

/// Nobody weighs less of a dish: it is counted.
const COUNT_MOST: f64 = 10.0;

/// Each by itself, told by the scale or by somebody else's.
pub fn by_itself(scene: &Scene, frame: &Telling) -> Option<Settled> {
    let plain = scene.split.is_none() && scene.party.is_none() && scene.given.is_empty();
    let (eaten, lost): (Vec<&Told>, Vec<&Told>) =
        scene.told.iter().partition(|told| told.people().is_some());
    if !plain || !lost.is_empty() || eaten.is_empty() {
        return None;
    }
    // "we all had 200 soup except Tom", "all three had 80, Ana double that": who the others are, the books know.
    let all = |told: &&Told| {
        told.people()
            .is_some_and(|who| !matches!(who, Who::Named(_)))
    };
    if eaten.iter().any(all) && (eaten.len() > 1 || !scene.none.is_empty()) {
        return None;
    }
    let name = scene.dish.clone();
    let measure = eaten.iter().find_map(|told| match &told.size {
        Size::Amount(Amount::Pieces { measure, .. }) => Some(measure.clone()),
        _ => None,
    });
    let entry = |told: &Told| {
        let item = |amount: &Amount| {
            let item = Item::new(amount.clone(), name.clone().unwrap_or_default());
            let container = told.container.clone();
            let item = Item { container, ..item };
            match &told.item {
                Some(span) => item.at(span.clone()),
                None => item,
            }
        };
        let content = match &told.size {
            Size::Amount(amount) => Content::Items(vec![item(&counted(amount, &measure))]),
            size => Content::Sizes(vec![size.clone()]),
        };
        let telling = Telling {
            who: told.people().cloned(),
            role: Some(Role::Subject),
            content: Some(content),
            each: told.each == Some(true),
            ..frame.clone()
        };
        Entry {
            telling,
            name: name.clone(),
        }
    };
    let entries: Vec<Entry> = eaten.into_iter().map(entry).collect();
    Some(Settled {
        portions: by_name(entries, &[])?,
        ..Settled::default()
    })
}

/// A few without their measure are counted in the measure of the others.
fn counted(amount: &Amount, measure: &Option<Vec<String>>) -> Amount {
    match (amount, measure) {
        (Amount::Bare(count), Some(measure)) if *count < COUNT_MOST => Amount::Pieces {
            count: *count,
            measure: measure.clone(),
        },
        (amount, _) => amount.clone(),
    }
}
