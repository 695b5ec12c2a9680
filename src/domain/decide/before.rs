//! What stood there before the books began: a plain food by its name, a packet, or a dish of which nobody told what
//! went into it. A dish is not what the table has under its name.

use super::super::assumption;
use super::super::batch::LineState;
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::{BatchId, ProfileId};
use super::super::keeping::kind;
use super::super::ledger::{Account, EntryKind};
use super::super::problem::ProblemKind;
use super::super::quantity::{Meant, Measured, Quantity, meant};
use super::super::resolve::{Resolved, Thing, Use, resolve_amount};
use super::line::plain_mass;
use crate::foods::{self, Code, Group};
use crate::lang::syntax::Item;

/// Fewer grams of an unknown dish are rather so many of it.
const LEAST_GRAMS: f64 = 20.0;

/// What the table has of these groups is somebody else's dish.
const DISHES: [Group; 5] = [
    Group::Meals,
    Group::SoupsAndSauces,
    Group::FastFoods,
    Group::RestaurantFoods,
    Group::Baked,
];

/// Write what it is as the one line of its batch.
pub fn write(draft: &mut Draft, batch: BatchId, item: &Item) -> Result<(), ProblemKind> {
    let missing = || ProblemKind::MissingAmount {
        name: item.name.text.clone(),
    };
    let known = plain(draft, batch, item);
    let (state, mass, estimated) = match &known {
        Some((_, quantity)) => (LineState::Known, quantity.mass, quantity.estimated),
        None => {
            let mass = plain_mass(&item.amount).filter(|mass| mass.grams() >= LEAST_GRAMS);
            (LineState::NoFood, mass.ok_or_else(missing)?, false)
        }
    };
    let profile = known.as_ref().and_then(|(found, _)| profile(draft, found));
    let note = known.and_then(|(found, quantity)| {
        assumption::encode(&[found.assumptions, quantity.assumptions].concat())
    });
    let detail = Detail::Ingredient {
        number: 1,
        text: item.to_string(),
        part: None,
        state,
        estimated,
        note,
        source: None,
    };
    let ends = (Account::Origin, draft.pot(batch));
    let kind = EntryKind::Ingredient;
    draft.enter(kind, ends, mass, Some(batch), profile, Some(detail));
    Ok(())
}

/// The plain food or the packet of that name, and how much of it, if both are told.
fn plain(draft: &Draft, batch: BatchId, item: &Item) -> Option<(Resolved, Quantity)> {
    let dish = &draft.kitchen.batch(batch).name;
    let used = Use::Ingredient { dish };
    let amount = Some(&item.amount);
    let found = resolve_amount(&draft.kitchen, amount, &item.name, used, draft.today()).ok()?;
    let plain = match &found.thing {
        Thing::Food(code) => is_plain(*code, dish),
        Thing::Packet(_) => true,
        Thing::Batches(_) => false,
    };
    let measured = Measured {
        thing: &found.thing,
        name: &item.name.text,
    };
    match meant(&draft.kitchen, &item.amount, &measured) {
        Ok(Meant::Quantity(quantity)) if plain => Some((found, quantity)),
        _ => None,
    }
}

fn profile(draft: &mut Draft, found: &Resolved) -> Option<ProfileId> {
    match found.thing {
        Thing::Food(code) => Some(draft.profile(code)),
        Thing::Packet(profile) => Some(profile),
        Thing::Batches(_) => None,
    }
}

/// A food as it is bought, and no dish: "peas", and not "chilli" or "lasagne".
fn is_plain(code: Code, name: &str) -> bool {
    let group = foods::table().get(code).map(|food| food.group);
    !kind::is_dish(name) && group.is_some_and(|group| !DISHES.contains(&group))
}
