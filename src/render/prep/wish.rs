//! What is wished for days to come.

use chrono::NaiveDate;

use crate::domain::mass::Mass;
use crate::domain::prep::answer::{WishEvent, WishesAnswer};
use crate::domain::prep::wish::WishView;
use crate::render::clean::name;
use crate::render::date::calendar_day;
use crate::render::number::grams;
use crate::render::page::{Line, Page, joined};
use crate::render::portion::meal_word;

pub fn page(answer: &WishesAnswer) -> Page {
    let mut page = Page::new();
    if answer.wishes.is_empty() {
        page.say("Nothing is wished for: plans go by what you usually eat.");
        return page;
    }
    if answer.event == WishEvent::Dropped {
        page.say("As usual again, no more of this:");
    }
    for wish in &answer.wishes {
        page.item(line(wish, answer.today));
    }
    if !answer.all_away.is_empty() {
        let days = answer.all_away.iter();
        let days: Vec<String> = days
            .map(|day| joined(&calendar_day(*day, answer.today)))
            .collect();
        page.say(format!(
            "Everybody is away on {}: as long as that stands, nothing is planned for then.",
            days.join(", ")
        ));
    }
    page
}

/// "lentil dal: 600 g a day, Wed 14 to Sat 17 Oct (for 2, 300 g each)"
fn line(wish: &WishView, today: NaiveDate) -> Line {
    let called = Line::new().bold(name(&wish.dish));
    let days = days(wish.from, wish.until, today);
    let meal = wish
        .meal
        .map_or(String::new(), |meal| format!(" for {}", meal_word(meal)));
    let Some(mass) = wish.a_day else {
        return called.plain(format!(": none {days}."));
    };
    let a_day = if wish.from == wish.until {
        ""
    } else {
        " a day"
    };
    let each = wish
        .people
        .filter(|people| *people > 0)
        .map_or(String::new(), |people| {
            let each = Mass::from_mg(mass.mg() / i64::from(people));
            format!(" (for {people}, {} each)", grams(each))
        });
    called.plain(format!(": {}{a_day}{meal}, {days}{each}.", grams(mass)))
}

/// "on Fri 16 Oct", "from Wed 14 Oct to Sat 17 Oct", "until Sun 18 Oct"
pub fn days(from: NaiveDate, until: NaiveDate, today: NaiveDate) -> String {
    let day = |day| calendar_day(day, today);
    match (from == until, from == today) {
        (true, true) => "today".to_string(),
        (true, false) => format!("on {}", day(from)),
        (false, true) => format!("until {}", day(until)),
        (false, false) => format!("from {} to {}", day(from), day(until)),
    }
}
