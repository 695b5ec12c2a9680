//! A dish that somebody ate out of a vessel whose weight is known, where the books have nothing of it standing there: "ate
//! dal from the steel bowl, 415". Was the bowl on the scale with it?

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::kitchen::{Choice, Container};
use super::super::mass::Mass;
use super::super::stands::Places;
use super::{Stop, find};
use crate::lang::syntax::{Amount, Command, Item, Portion, Words};

/// Less is no plate of a dish.
const PLATE_LEAST: Mass = Mass::from_mg(20_000);

/// The question whether the vessel is in the weight of this item, where both may be.
pub fn with_or_without(draft: &Draft, portion: &Portion, at: usize) -> Option<Stop> {
    let item = &portion.items[at];
    let (places, dish) = Places::split(&draft.kitchen, &item.name.text)?;
    let vessel = draft.kitchen.container(places.vessel()?)?;
    let (Amount::Bare(grams) | Amount::Mass(grams)) = item.amount else {
        return None;
    };
    let (shown, tare) = (Mass::weighed_out(grams)?, vessel.tare()?);
    if item.container.is_some() || shown <= tare + PLATE_LEAST {
        return None;
    }
    let name = Words::plain(dish);
    let without = Item::new(item.amount.clone(), name.clone());
    let with = Item {
        container: Some(Words::plain(vessel.name.clone())),
        ..without.clone()
    };
    let options = vec![
        option(
            portion,
            at,
            without,
            &format!("{} g {dish}, without the {}", shown.grams(), vessel.name),
        ),
        option(portion, at, with, &in_it(dish, vessel, shown - tare)),
    ];
    let words = format!("{dish} {} g", shown.grams());
    Some(find::ask(About::WhichWeighing, &words, None, options))
}

fn in_it(dish: &str, vessel: &Container, net: Mass) -> String {
    format!("{} g {dish}, the {} taken off", net.grams(), vessel.name)
}

fn option(portion: &Portion, at: usize, item: Item, label: &str) -> Choice {
    let mut chosen = portion.clone();
    chosen.items[at] = item;
    Choice {
        label: label.to_owned(),
        says: Command::Portion(chosen).to_string(),
    }
}
