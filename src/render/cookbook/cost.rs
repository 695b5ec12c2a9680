//! What a dish costs, and what was spent.

use crate::domain::batch::Money;
use crate::domain::cookbook::answer::{CostAnswer, SpentAnswer};
use crate::domain::mass::Mass;
use crate::domain::worth::Worth;
use crate::render::clean::name;
use crate::render::date::calendar_day;
use crate::render::number::{about_grams, grams};
use crate::render::page::{Line, Page};
use crate::render::report::{money, sums};

/// So many names and dishes are listed.
const LISTED_MAX: usize = 8;

pub fn page(answer: &CostAnswer) -> Page {
    let mut page = Page::new();
    let made = calendar_day(answer.made_on, answer.today);
    let title = Line::new()
        .bold(name(&answer.name))
        .plain(format!(" {} of {made}", name(&answer.code)));
    if answer.worth.cost.is_empty() {
        page.say(title.plain(": no price is known of what went in. Tell one like this:"));
        let first = answer.unpriced.first();
        let first = first.map_or(answer.name.as_str(), String::as_str);
        page.example(&format!("{} cost 2.40 a kilo", name(first)));
        return page;
    }
    let of = about_grams(answer.net, answer.estimated);
    page.say(title.plain(format!(": {} for {of}", worth(&answer.worth))));
    if let [only] = answer.worth.cost.as_slice()
        && answer.net > Mass::ZERO
    {
        let per_kilo = Money {
            hundredths: (only.hundredths as f64 * 1000.0 / answer.net.grams()).round() as i64,
            currency: only.currency.clone(),
        };
        page.say(format!("A kilo as it is: {}", money(&per_kilo)));
    }
    if let Some((mass, of)) = &answer.portion {
        page.say(format!("A usual portion, {}: {}", grams(*mass), worth(of)));
    }
    if let Some((mass, of)) = &answer.week {
        page.say(format!("A week's worth, {}: {}", grams(*mass), worth(of)));
    }
    if !answer.unpriced.is_empty() {
        page.say(format!("Without a price: {}", names(&answer.unpriced)));
    }
    page
}

fn names(all: &[String]) -> String {
    let shown: Vec<String> = all.iter().take(LISTED_MAX).map(|one| name(one)).collect();
    let more = all.len().saturating_sub(LISTED_MAX);
    match more {
        0 => shown.join(", "),
        more => format!("{} and {more} more", shown.join(", ")),
    }
}

/// "€2.40", "at least €2.40"
pub fn worth(worth: &Worth) -> String {
    let cost = sums(&worth.cost);
    match (cost.is_empty(), worth.unpriced.is_zero()) {
        (true, _) => "no price known".into(),
        (false, true) => cost,
        (false, false) => format!("at least {cost}"),
    }
}

pub fn spent(answer: &SpentAnswer) -> Page {
    let mut page = Page::new();
    let from = calendar_day(answer.from, answer.today);
    let until = calendar_day(answer.until, answer.today);
    if answer.dishes.is_empty() {
        page.say(format!(
            "Nothing was cooked or bought from {from} to {until}."
        ));
        return page;
    }
    page.say(format!("Cooked and bought, {from} to {until}:"));
    let unpriced = match answer.worth.unpriced.is_zero() {
        true => String::new(),
        false => format!(", and {} have no price", grams(answer.worth.unpriced)),
    };
    page.say(Line::new().bold(worth(&answer.worth)).plain(unpriced));
    page.gap();
    for (dish, of) in answer.dishes.iter().take(LISTED_MAX) {
        page.item(
            Line::new()
                .bold(name(dish))
                .plain(format!(": {}", worth(of))),
        );
    }
    if answer.dishes.len() > LISTED_MAX {
        page.item(format!("and {} more", answer.dishes.len() - LISTED_MAX));
    }
    page.say("By the prices that were told last.");
    page
}
