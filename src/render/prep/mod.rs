//! What is said ahead of cooking.

mod goods;
mod plan;
mod problem;
#[cfg(test)]
pub mod sample;
mod sheet;
pub mod shop;
mod why;
mod wish;

use super::clean::name;
use super::number::grams;
use super::page::{Line, Page};
use crate::domain::answer::{Button, PrepAnswer};
use crate::domain::prep::books::Limit;

pub use problem::wording;

pub fn page(answer: &PrepAnswer) -> Page {
    let mut page = Page::new();
    match answer {
        PrepAnswer::Good(answer) => return goods::page(answer),
        PrepAnswer::Par { dish, mass, .. } => {
            page.say(Line::new().bold(name(dish)).plain(match mass {
                Some(mass) => format!(
                    ": {} of it are to be there on the next prep day.",
                    grams(*mass)
                ),
                None => ": no more of it than is eaten.".to_string(),
            }))
        }
        PrepAnswer::PotHolds { dish, mass, .. } => {
            let pot = dish.as_ref().map_or_else(
                || "A pot".to_string(),
                |dish| format!("A pot of {}", name(dish)),
            );
            page.say(format!("{pot} holds {}, cooked.", grams(*mass)));
        }
        PrepAnswer::Limit { what, count, .. } => page.say(limit(*what, *count)),
        PrepAnswer::Shopping(answer) => return shop::page(answer),
        PrepAnswer::Wishes(answer) => return wish::page(answer),
        PrepAnswer::Plan(answer) => return plan::page(answer),
        PrepAnswer::Why(answer) => return why::page(answer),
        PrepAnswer::Steps { dish, steps, .. } => return sheet::steps(dish, steps),
        PrepAnswer::Sheet(sheet) => return sheet::page(sheet),
    }
    page
}

/// What may be pressed under it, beside taking it back.
pub fn buttons(answer: &PrepAnswer) -> Vec<Vec<Button>> {
    match answer {
        PrepAnswer::Shopping(answer) => shop::buttons(answer),
        _ => Vec::new(),
    }
}

/// One of them, and several.
fn limit_words(what: Limit) -> (&'static str, &'static str) {
    match what {
        Limit::Burners => ("burner", "burners"),
        Limit::Trays => ("tray in the oven", "trays in the oven"),
        Limit::PotsADay => ("pot a day", "pots a day"),
    }
}

fn limit(what: Limit, count: Option<u32>) -> String {
    let (one, many) = limit_words(what);
    match count {
        Some(1) => format!("At most 1 {one}."),
        Some(count) => format!("At most {count} {many}."),
        None => format!("No limit on {many}."),
    }
}
