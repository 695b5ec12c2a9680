//! Dishes with their weights behind them, too much for a plate: "dal 1795, barley 1180" is what the scale says of
//! each, if the books hold about as much.

use super::super::draft::Draft;
use super::super::mass::Mass;
use super::weigh::{self, PLATE_MOST};
use super::{Stop, count, find};
use crate::lang::syntax::{Amount, Item, Portion, Weighed, Weighing};

/// A scale and the books differ by so much of what there is, without anybody having eaten of it.
const NEAR_SHARE: f64 = 0.05;

/// The weights as a count. `None`: they are on plates.
pub fn counted(draft: &Draft, portion: &Portion) -> Result<Option<Vec<Weighed>>, Stop> {
    let told = portion.who.is_some() || portion.share.is_some() || portion.day.is_some();
    let eaten = portion.meal.is_some() || portion.with_last || portion.with_that || portion.anyway;
    let weights: Option<Vec<Mass>> = portion.items.iter().map(behind_its_dish).collect();
    let Some(weights) = weights.filter(|_| !told && !eaten) else {
        return Ok(None);
    };
    if !weights.iter().any(|mass| *mass > PLATE_MOST) {
        return Ok(None);
    }
    let mut near = true;
    for (item, net) in portion.items.iter().zip(&weights) {
        let Ok(found) = find::batches(draft, &item.name) else {
            return Ok(None);
        };
        near &= count::is_near(draft, found[0], *net, NEAR_SHARE);
        if !near && portion.items.len() == 1 && *net < count::booked(draft, found[0], *net) {
            let reading = weigh::Reading::of(*net);
            return Err(weigh::left_or_eaten(draft, found[0], reading));
        }
    }
    let items = portion.items.iter().zip(weights);
    let items = items.map(|(item, net)| Weighed {
        name: item.name.clone(),
        place: None,
        weighing: Weighing::net(net.grams(), item.span.clone()),
    });
    Ok(near.then(|| items.collect()))
}

/// "dal 1795": a bare number behind what it weighs.
fn behind_its_dish(item: &Item) -> Option<Mass> {
    let Amount::Bare(grams) = item.amount else {
        return None;
    };
    let first = !item.name.span.is_empty() && item.name.span.start == item.span.start;
    (first && item.container.is_none())
        .then(|| Mass::weighed_out(grams))
        .flatten()
}
