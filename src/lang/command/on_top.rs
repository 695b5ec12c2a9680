//! Readings that run on in a vessel whose tare is known: the first holds the tare, and each later one what
//! was in it before.
//!
//! ```text
//! on-top := food reading, in a container whose tare is known { food reading }
//! sign   := "then" | "on top" | "plus" | "total" | "brings it to" | "with"
//! ```
//! "chilli in the steel bowl 455 then rice on top 590". A later reading below the one before it was weighed by
//! itself. One above it, and no sign up to there, may be either, and is asked about.

use super::on_scale::vessel;
use super::scale::{Said, difference, eaten, item, only_food};
use crate::lang::scale::{Group, Talk, Vessel};
use crate::lang::syntax::{ErrorKind, Portion};
use crate::lang::words::pots;

/// What tells that a reading holds what was there before.
const SIGNS: [&str; 7] = ["then", "top", "gross", "up", "with", "to", "arrow"];
/// What makes a reading something else than what lies in the vessel.
const APART: [&str; 11] = [
    "left", "moved", "count", "recount", "shown", "books", "deny", "zero", "net", "after", "down",
];

pub fn read(talk: &Talk, portion: &Portion) -> Option<Said> {
    let (first, later) = talk.groups.split_first()?;
    if later.is_empty() || !talk.behind.foods.is_empty() {
        return None;
    }
    let vessel = vessel(first).filter(|vessel| vessel.known)?;
    if pots().has(&vessel.noun()) || first.said("before") || first.said("less") {
        return None;
    }
    let apart = |group: &Group| APART.iter().any(|mark| group.said(mark));
    let same = |other: &Vessel| other.name == vessel.name;
    let lies_in = |group: &Group| group.vessels.iter().all(same);
    if talk.groups.iter().any(apart) || !later.iter().all(lies_in) {
        return None;
    }
    let mut bottom = item(only_food(first)?, first.grams, first);
    bottom.container = Some(vessel.name.clone());
    let mut running = vec![bottom.clone()];
    let mut alone = vec![bottom];
    let mut last = first.grams;
    let mut unsaid = None;
    // "rice to 385, beans to 470"
    let mut signed = first.said("to") || first.said("up");
    for group in later {
        let food = only_food(group)?;
        if running.iter().any(|item| item.name == food.name) {
            return None;
        }
        alone.push(item(food, group.grams, group));
        if group.grams <= last {
            running.push(item(food, group.grams, group));
            continue;
        }
        // Said once, it holds for all that goes on top of that.
        signed |= SIGNS.iter().any(|mark| group.said(mark));
        if !signed {
            let kind = ErrorKind::OnTop {
                below_grams: last,
                grams: group.grams,
            };
            unsaid.get_or_insert((kind, group.span.clone()));
        }
        running.push(item(food, difference(group.grams, last), group));
        last = group.grams;
    }
    if last <= first.grams {
        return None;
    }
    let said = |items| eaten(portion, items);
    Some(match unsaid {
        None => Said::sure(said(running)),
        Some((kind, span)) => Said {
            otherwise: Some(said(alone)),
            ..Said::doubtful(said(running), kind, span)
        },
    })
}
