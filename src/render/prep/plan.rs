//! The plan: what to cook, and why so much of it.

use chrono::NaiveDate;

use super::shop::weight;
use super::wish::days;
use crate::domain::cookbook::RecipeLine;
use crate::domain::mass::Mass;
use crate::domain::prep::answer::PlanAnswer;
use crate::domain::prep::horizon::Why;
use crate::domain::prep::planned::{Cooking, DishPlan, Planned, Pot};
use crate::render::clean::name;
use crate::render::cookbook::worth;
use crate::render::date::calendar_day;
use crate::render::number::grams;
use crate::render::page::{Line, Page, joined};
use crate::render::report::sums;

/// Of a long recipe the heaviest are told.
const LINES_MAX: usize = 12;

pub fn page(answer: &PlanAnswer) -> Page {
    let mut page = Page::new();
    let planned = &answer.planned;
    page.say(title(planned, answer.today));
    if planned.horizon.why == Why::Usual {
        page.say("No prep day is told, so it is for a week.");
        page.say("To tell one:");
        page.example("prep day Sunday 10am");
    }
    let cooked = planned.dishes.iter().filter(|dish| !dish.cook.is_empty());
    for dish in cooked {
        page.gap();
        self::dish(&mut page, dish, answer);
    }
    let others = planned.dishes.iter().filter(|dish| dish.cook.is_empty());
    for dish in others {
        page.gap();
        self::dish(&mut page, dish, answer);
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
fn title(planned: &Planned, today: NaiveDate) -> Line {
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
    let span = days(from, until, today);
    Line::new()
        .bold(format!("Plan {span}"))
        .plain(format!(": {count}, {eat}."))
}

fn dish(page: &mut Page, dish: &DishPlan, answer: &PlanAnswer) {
    let called = name(&dish.name);
    if dish.cook.is_empty() {
        let line = Line::new().bold(called.clone());
        page.say(match dish.there.mg() > 0 {
            true => line.plain(format!(": {} there, nothing to cook.", weight(dish.there))),
            false => line.plain(": nothing to cook."),
        });
    }
    for cooking in &dish.cook {
        let on = match cooking.on == answer.today {
            true => String::new(),
            false => format!(" on {}", calendar_day(cooking.on, answer.today)),
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
    page.below(why(dish));
    if let Some(pots) = of_pots(dish) {
        page.below(pots);
    }
    for cooking in &dish.cook {
        goes_in(page, cooking);
        costs(page, dish, cooking);
    }
    keeping(page, dish, answer.today);
    wanting(page, dish, answer);
}

/// Why so much: what is asked for, less what is there.
fn why(dish: &DishPlan) -> String {
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
        parts.push(match dish.there.mg() > 0 {
            true => format!("{} there", weight(dish.there)),
            false => "none there".to_string(),
        });
    }
    if dish.left.mg() > dish.par.mg() {
        parts.push(format!("{} left over", weight(dish.left - dish.par)));
    }
    let mut told = parts.join(", ");
    told.push('.');
    capital(&told)
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
fn keeping(page: &mut Page, dish: &DishPlan, today: NaiveDate) {
    let day = |on| calendar_day(on, today);
    let new: Mass = dish.cook.iter().map(|cooking| cooking.frozen).sum();
    if new.mg() > 0 {
        page.below(format!("Freeze {} of it.", weight(new)));
    }
    for (last, mass) in &dish.freeze {
        page.below(format!(
            "Freeze {} of what is there by {}.",
            weight(*mass),
            day(*last)
        ));
    }
    if !dish.thaw.is_empty() {
        let thaw = dish.thaw.iter().map(|(on, mass)| {
            let evening = on.pred_opt().unwrap_or(*on);
            joined(&format!("{} {}", day(evening), weight(*mass)))
        });
        let thaw: Vec<String> = thaw.collect();
        page.below(format!(
            "To the fridge in the evening: {}.",
            thaw.join(", ")
        ));
    }
    if dish.past.mg() > 0 {
        page.below(format!(
            "{} there is past its date and not counted.",
            weight(dish.past)
        ));
    }
}

/// What the plan cannot meet, and what would give.
fn wanting(page: &mut Page, dish: &DishPlan, answer: &PlanAnswer) {
    if dish.spoils.mg() > 0 {
        page.below(format!(
            "{} goes past its date uneaten.",
            weight(dish.spoils)
        ));
    }
    if dish.unmet.is_empty() && dish.short.mg() == 0 {
        return;
    }
    if !dish.unmet.is_empty() {
        let days = dish.unmet.iter().map(|(on, mass)| {
            joined(&format!(
                "{} on {}",
                weight(*mass),
                calendar_day(*on, answer.today)
            ))
        });
        let days: Vec<String> = days.collect();
        page.below(
            Line::new()
                .bold("Too little")
                .plain(format!(": {} short.", days.join(", "))),
        );
    }
    if dish.short.mg() > 0 {
        page.below(format!(
            "{} short of what is to stay ready.",
            weight(dish.short)
        ));
    }
    page.below(match answer.planned.pots_a_day {
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
