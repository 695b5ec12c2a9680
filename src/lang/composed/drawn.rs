//! Several draws on one pot, each of what those before have left: "Ana had 400 soup, then I took a quarter of what's
//! left", "binned half the beans, had 100 of the rest".
//!
//! What a share is of, the books know by then, so each draw is a command of its own, in the order in which it was told.

use super::atom::Fate;
use super::scene::{Scene, Told};
use super::settle::Settled;
use crate::lang::command::share::party::Who;
use crate::lang::command::share::plan;
use crate::lang::command::share::size::Size;
use crate::lang::command::share::telling::Telling;
use crate::lang::syntax::{Amount, Command, Item, Share};

/// The draws in their order, if each tells by itself how much of the pot it is.
pub fn drawn(scene: &Scene, frame: &Telling) -> Option<Settled> {
    let plain = scene.split.is_none() && scene.party.is_none() && scene.given.is_empty();
    let of_rest = scene.told.iter().any(is_of_the_rest);
    if !plain || !of_rest || scene.told.len() < 2 || !scene.none.is_empty() {
        return None;
    }
    let last = scene.told.len() - 1;
    let mut steps = Vec::new();
    for (at, told) in scene.told.iter().enumerate() {
        steps.extend(step(scene, told, (at == 0, at == last), frame)?);
    }
    Some(Settled {
        steps,
        ..Settled::default()
    })
}

/// It is told of what is left.
fn is_of_the_rest(told: &Told) -> bool {
    matches!(told.size, Size::OfRest(_)) || told.of_rest
}

fn step(
    scene: &Scene,
    told: &Told,
    (first, last): (bool, bool),
    frame: &Telling,
) -> Option<Option<Command>> {
    let amount = match &told.size {
        Size::Amount(amount @ (Amount::Bare(_) | Amount::Mass(_))) => amount.clone(),
        Size::Part(share) if first || told.of_rest => Amount::Share(*share),
        Size::OfRest(share) if !first => Amount::Share(*share),
        Size::Rest if last && !first => Amount::Share(1.0),
        _ => return None,
    };
    let item = Item::new(amount, scene.dish.clone()?);
    let item = Item {
        container: told.container.clone(),
        ..item
    };
    match told.fate() {
        Some(Fate::Away) => Some(Some(Command::Waste {
            items: vec![item],
            reason: None,
            anyway: false,
        })),
        // What stays where it is, is no draw.
        Some(Fate::Kept | Fate::Back) => {
            (told.size == Size::Rest && last || told.grams().is_none()).then_some(None)
        }
        None => {
            let who = told.people()?;
            let share = match (who.one(), who) {
                (Some(_), _) => None,
                (None, Who::Named(_)) if told.each != Some(true) => {
                    Some(Share::Equally(who.party()))
                }
                _ => return None,
            };
            let eater = who.one().cloned();
            let portion = plan::portion(frame, vec![item], eater, share);
            Some(Some(Command::Portion(portion)))
        }
    }
}
