//! The plan: what to cook, and why so much of it.

use chrono::NaiveDate;

use super::shop::weight;
use super::wish::days;
use crate::domain::cookbook::RecipeLine;
use crate::domain::mass::Mass;
use crate::domain::prep::horizon::Why;
use crate::domain::prep::plan::STEP;
use crate::domain::prep::planned::{Cooking, DishPlan, Planned, Pot};
use crate::render::clean::name;
use crate::render::cookbook::worth;
use crate::render::date::calendar_day;
use crate::render::number::grams;
use crate::render::page::{Line, Page, joined};
use crate::render::report::sums;

/// Of less nobody misses a spoonful.
const TOLD_LEAST: Mass = STEP;
/// Nobody freezes or thaws less.
const KEPT_LEAST: Mass = Mass::from_mg(50_000);
/// Of a long recipe the heaviest are told.
const LINES_MAX: usize = 12;

pub fn page(planned: &Planned) -> Page {
    let mut page = Page::new();
    page.say(title(planned));
    if planned.horizon.why == Why::Usual {
        page.say("No prep day is told, so it is for a week.");
        page.say("To tell one:");
        page.example("prep day Sunday 10am");
    }
    let cooked = planned.dishes.iter().filter(|dish| !dish.cook.is_empty());
    for dish in cooked {
        page.gap();
        self::dish(&mut page, dish, planned);
    }
    let others = planned.dishes.iter().filter(|dish| dish.cook.is_empty());
    for dish in others {
        page.gap();
        self::dish(&mut page, dish, planned);
    }
    let all = planned.worth();
    let several = planned
        .dishes
        .iter()
        .map(|dish| dish.cook.len())
        .sum::<usize>()
        > 1;
    if several && !all.cost.is_empty() {
        page.gap();
        page.say(format!("All that goes in costs {}.", worth(&all)));
    }
    if !planned.unknown.is_empty() {
        let dishes = planned.unknown.iter();
        let dishes: Vec<String> = dishes
            .map(|(dish, mass)| joined(&format!("{} {}", name(dish), weight(*mass))))
            .collect();
        page.gap();
        page.say(format!(
            "Not planned, since too few days tell how fast it goes: {}.",
            dishes.join(", ")
        ));
    }
    page
}

/// "Plan until Sat 17 Oct, 4 days, 2 eat"
fn title(planned: &Planned) -> Line {
    let (from, until) = (planned.horizon.from, planned.horizon.until);
    let count = match planned.eaters.len() {
        1 => "1 day".to_string(),
        days => format!("{days} days"),
    };
    let (least, most) = (planned.eaters.iter().min(), planned.eaters.iter().max());
    let eat = match (least, most) {
        (Some(least), Some(most)) if least != most => format!("{least} to {most} eat"),
        (Some(1), _) => "1 eats".to_string(),
        (Some(all), _) => format!("{all} eat"),
        _ => String::new(),
    };
    let span = days(from, until, planned.today);
    Line::new()
        .bold(format!("Plan {span}"))
        .plain(format!(": {count}, {eat}."))
}

fn dish(page: &mut Page, dish: &DishPlan, planned: &Planned) {
    let ahead = planned.horizon.from > planned.today;
    let called = name(&dish.name);
    if dish.cook.is_empty() {
        let line = Line::new().bold(called.clone());
        page.say(match dish.there.mg() > 0 {
            true => line.plain(format!(": {}, nothing to cook.", there(dish, ahead))),
            false => line.plain(": nothing to cook."),
        });
    }
    for cooking in &dish.cook {
        let on = match cooking.on == planned.today {
            true => String::new(),
            false => format!(" on {}", calendar_day(cooking.on, planned.today)),
        };
        let pots = match cooking.pots {
            1 => String::new(),
            pots => format!(" in {pots} pots"),
        };
        page.say(
            Line::new()
                .plain("Cook ")
                .bold(format!("{} {called}", weight(cooking.mass)))
                .plain(format!("{on}{pots}.")),
        );
    }
    page.below(why(dish, ahead));
    if let Some(pots) = of_pots(dish) {
        page.below(pots);
    }
    for cooking in &dish.cook {
        goes_in(page, cooking);
        costs(page, dish, cooking);
    }
    keeping(page, dish, planned.today, ahead);
    wanting(page, dish, planned);
}

/// Why so much: what is asked for, less what is there.
fn why(dish: &DishPlan, ahead: bool) -> String {
    let wants = dish.wants();
    let days = dish.demand.iter().filter(|mass| mass.mg() > 0);
    let count = days.clone().count();
    let even = days.clone().min() == days.max() && count > 1;
    let each = dish.demand.iter().copied().find(|mass| mass.mg() > 0);
    let asked = match (count, even, each) {
        (0, ..) => "nothing is asked for".to_string(),
        (1, _, Some(each)) => format!("{} on 1 day", grams(each)),
        (count, true, Some(each)) => {
            format!(
                "{} a day for {count} days is {}",
                grams(each),
                weight(wants)
            )
        }
        (count, ..) => format!("{} over {count} days", weight(wants)),
    };
    let mut parts = vec![asked];
    if dish.wished.contains(&true) {
        parts.push("as wished".to_string());
    }
    if dish.par.mg() > 0 {
        parts.push(format!("{} to stay ready", weight(dish.par)));
    }
    if !dish.cook.is_empty() {
        parts.push(there(dish, ahead));
    }
    if dish.left - dish.par >= TOLD_LEAST {
        parts.push(format!("{} left over", weight(dish.left - dish.par)));
        // Two portions and no less: what lacks may be little.
        if dish
            .cook
            .iter()
            .any(|cooking| cooking.mass - dish.least < STEP)
        {
            parts.push("since less is not worth a pot".to_string());
        }
    }
    let mut told = parts.join(", ");
    told.push('.');
    capital(&told)
}

/// "680 g there", or of a plan that begins on another day "400 g there by then, 280 g eaten before".
fn there(dish: &DishPlan, ahead: bool) -> String {
    let there = match dish.there.mg() > 0 {
        true => weight(dish.there),
        false => "none".to_string(),
    };
    match (ahead, dish.eaten_before.mg() > 0) {
        (false, _) => format!("{there} there"),
        (true, false) => format!("{there} there by then"),
        (true, true) => format!(
            "{there} there by then ({} eaten before)",
            weight(dish.eaten_before)
        ),
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// Where more than one pot is told by nothing but what was cooked so far.
fn of_pots(dish: &DishPlan) -> Option<String> {
    let several = dish.cook.iter().any(|cooking| cooking.pots > 1);
    match dish.pot {
        Pot::SoFar(mass) if several => Some(format!(
            "The largest pot of it so far was {}; a larger one is told like this: {} pots hold 5 kg.",
            weight(mass),
            name(&dish.name)
        )),
        _ => None,
    }
}

/// "Goes in: 520 g red lentils, 10 g salt. 4.1 kg by your last 3 pots."
fn goes_in(page: &mut Page, cooking: &Cooking) {
    let Some(recipe) = &cooking.recipe else {
        page.below("How it is made was never told.");
        return;
    };
    let mut lines: Vec<&RecipeLine> = recipe.lines.iter().collect();
    lines.sort_by_key(|line| std::cmp::Reverse(line.mass));
    let told = lines.iter().take(LINES_MAX).map(|line| match line.mass {
        Some(mass) => joined(&format!("{} {}", grams(mass), name(&line.name))),
        None => name(&line.name),
    });
    let told: Vec<String> = told.collect();
    let more = match lines.len().saturating_sub(LINES_MAX) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    page.below(format!("Goes in: {}{more}.", told.join(", ")));
    let by = match recipe.comes_to().spread {
        Some(spread) if spread.pots == 1 => {
            format!("By your last pot, code {}.", name(&recipe.code))
        }
        Some(spread) if weight(spread.least) == weight(spread.most) => {
            format!("By your last {} pots, all the same.", spread.pots)
        }
        Some(spread) => format!(
            "By your last {} pots: {} to {}.",
            spread.pots,
            weight(spread.least),
            weight(spread.most)
        ),
        None => "What it comes to is by the table: none of it was weighed yet.".to_string(),
    };
    page.below(by);
}

/// "Costs €3.20, a portion of 290 g €0.46."
fn costs(page: &mut Page, dish: &DishPlan, cooking: &Cooking) {
    if cooking.worth.cost.is_empty() {
        return;
    }
    let portion = dish.portion.filter(|_| cooking.mass.mg() > 0);
    let portion = portion.map_or(String::new(), |portion| {
        let share = cooking.worth.share(portion.grams() / cooking.mass.grams());
        format!(", a portion of {} {}", grams(portion), sums(&share.cost))
    });
    page.below(format!("Costs {}{portion}.", worth(&cooking.worth)));
}

/// What is frozen, and taken out again.
fn keeping(page: &mut Page, dish: &DishPlan, today: NaiveDate, ahead: bool) {
    let day = |on| calendar_day(on, today);
    let new: Mass = dish.cook.iter().map(|cooking| cooking.frozen).sum();
    if new >= KEPT_LEAST {
        page.below(format!("Freeze {} of it.", weight(new)));
    }
    // What has to be frozen by one day is one thing to do.
    let mut by_day: Vec<(NaiveDate, Mass)> = Vec::new();
    for (last, mass) in dish.freeze.iter().filter(|(_, mass)| *mass >= KEPT_LEAST) {
        match by_day.iter_mut().find(|(known, _)| known == last) {
            Some((_, known)) => *known += *mass,
            None => by_day.push((*last, *mass)),
        }
    }
    for (last, mass) in by_day {
        page.below(format!(
            "Freeze {} of what is there by {}.",
            weight(mass),
            day(last)
        ));
    }
    for (overnight, lead) in [
        (true, "To the fridge in the evening"),
        (false, "Out of the freezer on the day itself"),
    ] {
        let thaw = dish.thaw.iter().filter(|thaw| thaw.mass >= KEPT_LEAST);
        let thaw = thaw.filter(|thaw| thaw.overnight == overnight);
        let thaw: Vec<String> = thaw
            .map(|thaw| {
                let evening = thaw.on.pred_opt().filter(|_| overnight);
                let on = day(evening.unwrap_or(thaw.on));
                joined(&format!("{on} {}", weight(thaw.mass)))
            })
            .collect();
        if !thaw.is_empty() {
            page.below(format!("{lead}: {}.", thaw.join(", ")));
        }
    }
    if dish.past.mg() > 0 {
        page.below(match ahead {
            true => format!(
                "{} of what is there is past its date by then and not counted.",
                weight(dish.past)
            ),
            false => format!(
                "{} there is past its date and not counted.",
                weight(dish.past)
            ),
        });
    }
}

/// What the plan cannot meet, and what would give.
fn wanting(page: &mut Page, dish: &DishPlan, planned: &Planned) {
    if dish.spoils >= TOLD_LEAST {
        page.below(format!(
            "{} goes past its date uneaten.",
            weight(dish.spoils)
        ));
    }
    let unmet = dish.unmet.iter().filter(|(_, mass)| *mass >= TOLD_LEAST);
    if unmet.clone().count() == 0 && dish.short < TOLD_LEAST {
        return;
    }
    if unmet.clone().count() > 0 {
        let days = unmet.map(|(on, mass)| {
            joined(&format!(
                "{} on {}",
                weight(*mass),
                calendar_day(*on, planned.today)
            ))
        });
        let days: Vec<String> = days.collect();
        page.below(
            Line::new()
                .bold("Too little")
                .plain(format!(": {} short.", days.join(", "))),
        );
    }
    if dish.short >= TOLD_LEAST {
        page.below(format!(
            "{} short of what is to stay ready.",
            weight(dish.short)
        ));
    }
    page.below(match planned.pots_a_day {
        Some(1) => {
            "What gives: more than 1 pot a day, a larger pot, or less of something.".to_string()
        }
        Some(pots) => {
            format!("What gives: more than {pots} pots a day, a larger pot, or less of something.")
        }
        None => {
            "What gives: it does not keep that long; cook it again later, or eat something else."
                .to_string()
        }
    });
}
