//! "1 tsp cumin, 2 tsp coriander": what goes into a pot by the spoon, and on no plate as long as nobody says so.

use super::syntax::{Amount, Item, Portion, VolumeUnit};
use super::tokens::Tokens;
use super::words::explained;
use crate::foods::{Found, Group, table};

/// Nothing but spoonfuls, most of them of spices, and not a word of eating.
pub fn only(portions: &[Portion], input: Tokens<'_>) -> bool {
    let told = |portion: &Portion| {
        portion.who.is_some()
            || portion.meal.is_some()
            || portion.share.is_some()
            || portion.with_last
    };
    let items: Vec<&Item> = portions.iter().flat_map(|it| &it.items).collect();
    let spices = items.iter().filter(|item| is_spice(item)).count();
    items.iter().all(|item| is_by_the_spoon(item))
        && spices * 2 > items.len()
        && !portions.iter().any(told)
        && !explained().stand_in(input.slice, "eats")
}

fn is_by_the_spoon(item: &Item) -> bool {
    match &item.amount {
        Amount::Volume { unit, .. } => {
            matches!(unit, VolumeUnit::Teaspoon | VolumeUnit::Tablespoon)
        }
        Amount::Uncounted(_) => true,
        _ => false,
    }
}

/// Of "coriander" the table knows the leaves first.
fn is_spice(item: &Item) -> bool {
    let codes = match table().find(&item.name.text) {
        Found::Taken(taken) => vec![taken.code],
        Found::Several(codes) => codes,
        Found::Nothing => return false,
    };
    codes.into_iter().all(|code| {
        let food = table().get(code);
        food.is_some_and(|food| food.group == Group::SpicesAndHerbs)
    })
}
