//! Of something that is bought.

use crate::domain::mass::Mass;
use crate::domain::prep::answer::GoodAnswer;
use crate::domain::prep::goods::{Cupboard, GoodFact};
use crate::render::clean::name;
use crate::render::number::grams;
use crate::render::page::{Line, Page, joined};
use crate::render::report::money;

pub fn page(answer: &GoodAnswer) -> Page {
    let mut page = Page::new();
    let called = Line::new().bold(name(&answer.good.words));
    page.say(called.plain(match &answer.fact {
        GoodFact::Trimmed { bought, trimmed } => {
            let share = percent(1.0 - trimmed.grams() / bought.grams());
            format!(
                ": {share} trimmed off, {} of {} left.",
                grams(*trimmed),
                grams(*bought)
            )
        }
        GoodFact::Pack { mass, word } => format!(": by the {}, {} each.", name(word), grams(*mass)),
        GoodFact::Price { money: price, mass } => {
            format!(": {} {}.", money(price), amount(*mass))
        }
        GoodFact::AtHome(Some(mass)) => format!(
            ": {} are to be at home. What is less goes on the shopping list.",
            grams(*mass)
        ),
        GoodFact::AtHome(None) => ": no more of it than is used.".to_string(),
        GoodFact::Cupboard(Cupboard::Holds(mass)) => format!(": {} in the cupboard.", grams(*mass)),
        GoodFact::Cupboard(Cupboard::Always) => ": always there, on no list.".to_string(),
        GoodFact::Cupboard(Cupboard::Out) => ": none in the cupboard.".to_string(),
    }));
    if let GoodFact::Trimmed { .. } = answer.fact {
        let counted = match answer.refuse.times {
            1 => "Lists count with it".to_string(),
            times => format!(
                "Lists count with {}, the middle of {times}",
                percent(answer.refuse.share)
            ),
        };
        let by_table = match answer.by_table {
            Some(share) => format!("; the table says {}.", percent(share)),
            None => ".".to_string(),
        };
        page.say(counted + &by_table);
    }
    page
}

fn percent(share: f64) -> String {
    let tenths = (share * 1000.0).round() / 10.0;
    joined(&match tenths.fract() == 0.0 {
        true => format!("{tenths:.0} %"),
        false => format!("{tenths:.1} %"),
    })
}

fn amount(mass: Mass) -> String {
    match mass == Mass::from_mg(1_000_000) {
        true => "a kilo".to_string(),
        false => format!("for {}", grams(mass)),
    }
}
