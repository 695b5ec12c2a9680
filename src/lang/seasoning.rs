//! "1 tsp cumin, 2 tsp coriander": what goes into a pot by the spoon, and on no plate as long as nobody says so.

use super::syntax::{Amount, Item, Portion, VolumeUnit};
use super::tokens::Tokens;
use super::words::explained;
use crate::foods::{Found, Group, table};

/// Nothing but spices by the spoon, and not a word of eating.
pub fn only(portions: &[Portion], input: Tokens<'_>) -> bool {
    let told = |portion: &Portion| {
        portion.who.is_some()
            || portion.meal.is_some()
            || portion.share.is_some()
            || portion.with_last
    };
    let items: Vec<&Item> = portions.iter().flat_map(|it| &it.items).collect();
    !items.is_empty()
        && items.into_iter().all(is_spoon_of_spice)
        && !portions.iter().any(told)
        && !explained().stand_in(input.slice, "eats")
}

fn is_spoon_of_spice(item: &Item) -> bool {
    let spooned = match &item.amount {
        Amount::Volume { unit, .. } => {
            matches!(unit, VolumeUnit::Teaspoon | VolumeUnit::Tablespoon)
        }
        Amount::Uncounted(_) => true,
        _ => false,
    };
    let codes = match table().find(&item.name.text) {
        Found::Taken(taken) => vec![taken.code],
        Found::Several(codes) => codes,
        Found::Nothing => return false,
    };
    let spice = |code| {
        let food = table().get(code);
        food.is_some_and(|food| food.group == Group::SpicesAndHerbs)
    };
    spooned && codes.into_iter().all(spice)
}
