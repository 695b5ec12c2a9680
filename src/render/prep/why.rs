//! How the plan comes to so much of a dish: what is eaten, what is there, what a pot and the dates make of it.

use super::shop::weight;
use super::wish::days;
use crate::domain::mass::Mass;
use crate::domain::prep::answer::{WhyAnswer, WhyOf};
use crate::domain::prep::plan::STEP;
use crate::domain::prep::planned::{DishPlan, Pot};
use crate::render::clean::name;
use crate::render::date::calendar_day;
use crate::render::number::{decimal, grams};
use crate::render::page::{Line, Page, joined};

pub fn page(answer: &WhyAnswer) -> Page {
    let mut page = Page::new();
    match &answer.of {
        WhyOf::Dish(dish) => self::dish(&mut page, dish, answer),
        WhyOf::GoesIn {
            name: line,
            mass,
            dish,
            cooked,
            code,
        } => {
            let told = mass.map_or_else(|| name(line), |mass| weighed(mass, line));
            page.say(Line::new().bold(told).plain(format!(
                ": for {}, in proportion as in {}.",
                weighed(*cooked, dish),
                name(code)
            )));
        }
    }
    page
}

fn weighed(mass: Mass, called: &str) -> String {
    joined(&format!("{} {}", weight(mass), name(called)))
}

fn dish(page: &mut Page, dish: &DishPlan, answer: &WhyAnswer) {
    let cooked: Mass = dish.cook.iter().map(|cooking| cooking.mass).sum();
    let span = days(answer.horizon.from, answer.horizon.until, answer.today);
    let told = match cooked.mg() > 0 {
        true => weighed(cooked, &dish.name),
        false => format!("no {}", name(&dish.name)),
    };
    let not = answer.asked.filter(|asked| differs(*asked, cooked));
    let not = not.map_or(String::new(), |asked| format!(", not {}", weight(asked)));
    page.say(
        Line::new()
            .plain("The plan cooks ")
            .bold(told)
            .plain(format!("{not}, {span}:")),
    );
    eaten(page, dish, answer);
    if dish.taken.mg() > 0 {
        page.item(format!("into other dishes: {}", weight(dish.taken)));
    }
    if dish.par.mg() > 0 {
        page.item(format!("to stay ready: {}", weight(dish.par)));
    }
    there(page, dish);
    amounts(page, dish, cooked);
    keeping(page, dish, answer);
}

/// What was asked about is not what the plan says, to the step.
fn differs(asked: Mass, cooked: Mass) -> bool {
    (asked - cooked).abs() > STEP
}

/// "eaten: 190 g a day by 2 (as on 19 days), 7 days: 1.33 kg"
fn eaten(page: &mut Page, dish: &DishPlan, answer: &WhyAnswer) {
    let usual = dish.demand.iter().zip(&dish.wished);
    let usual: Vec<Mass> = usual
        .filter(|(mass, wished)| !**wished && mass.mg() > 0)
        .map(|(mass, _)| *mass)
        .collect();
    let sum: Mass = usual.iter().copied().sum();
    if let (Some(pace), Some(first)) = (dish.pace, usual.first()) {
        let even = usual.iter().all(|mass| mass == first);
        let (least, most) = (answer.eaters.iter().min(), answer.eaters.iter().max());
        let people = match (least, most) {
            (Some(least), Some(most)) if least == most => format!(" by {most}"),
            (Some(least), Some(most)) => format!(" by {least} to {most}"),
            _ => String::new(),
        };
        let of = match usual.len() {
            1 => "on 1 day".to_string(),
            days => format!("{days} days"),
        };
        let a_day = match even {
            true => format!("{} a day{people}", grams(*first)),
            false => {
                let usually = Mass::from_grams(pace.a_day).unwrap_or(Mass::ZERO);
                format!("{} a day as usual{people}", grams(usually))
            }
        };
        page.item(format!(
            "eaten: {a_day}, {of}: {} (the last {} days that tell)",
            weight(sum),
            pace.days
        ));
    }
    let wished = dish
        .demand
        .iter()
        .zip(&dish.wished)
        .zip(answer.horizon.days());
    let wished = wished.filter(|((mass, wished), _)| **wished && mass.mg() > 0);
    let wished: Vec<String> = wished
        .map(|((mass, _), on)| {
            joined(&format!(
                "{} {}",
                calendar_day(on, answer.today),
                weight(*mass)
            ))
        })
        .collect();
    if !wished.is_empty() {
        page.item(format!("wished: {}", wished.join(", ")));
    }
    if dish.wants().is_zero() {
        page.item("eaten: nothing is asked for");
    }
}

fn there(page: &mut Page, dish: &DishPlan) {
    let mut told = match dish.there.mg() > 0 {
        true => format!("there already: {}", weight(dish.there)),
        false => "there already: none".to_string(),
    };
    if dish.eaten_before.mg() > 0 {
        told.push_str(&format!(
            " when it begins, {} eaten before",
            weight(dish.eaten_before)
        ));
    }
    if dish.past.mg() > 0 {
        told.push_str(&format!(
            "; {} past its date is not counted",
            weight(dish.past)
        ));
    }
    page.item(told);
    if dish.spoils.mg() > 0 {
        page.item(format!(
            "past its date before it is eaten: {}",
            weight(dish.spoils)
        ));
    }
}

/// What rounding and pots make of it.
fn amounts(page: &mut Page, dish: &DishPlan, cooked: Mass) {
    let wants = dish.wants() + dish.taken + dish.par;
    let lacks = Mass::ZERO.max(wants - dish.there);
    page.item(format!("so it lacks: {}", weight(lacks)));
    if cooked.is_zero() {
        return;
    }
    let over = cooked - lacks;
    if over.mg() > 0 && cooked <= dish.least {
        page.item(format!(
            "less than {} is not worth a pot",
            weight(dish.least)
        ));
    } else if over.mg() > 0 && over < STEP {
        page.item("rounded up to 10 g");
    }
    let (mass, why) = match dish.pot {
        Pot::Told(mass) => (mass, "as you told"),
        Pot::SoFar(mass) => (mass, "the largest so far"),
        Pot::Assumed(mass) => (mass, "taken for granted"),
    };
    let pots: u32 = dish.cook.iter().map(|cooking| cooking.pots).sum();
    let pots = match pots {
        1 => "1 pot".to_string(),
        pots => format!("{pots} pots"),
    };
    page.item(format!("a pot holds {} ({why}): {pots}", weight(mass)));
}

/// What the dates make of it.
fn keeping(page: &mut Page, dish: &DishPlan, answer: &WhyAnswer) {
    if dish.cook.is_empty() {
        return;
    }
    let frozen: Mass = dish.cook.iter().map(|cooking| cooking.frozen).sum();
    let so = match frozen.mg() > 0 {
        true => format!(": {} is to be frozen", weight(frozen)),
        false => String::new(),
    };
    if let (Some(days), freezer) = dish.keeps {
        let freezer = match freezer {
            Some(days) => format!(", frozen {}", span(days)),
            None => ", not for the freezer".to_string(),
        };
        page.item(format!("it keeps {}{freezer}{so}", span(days)));
    }
    if !dish.unmet.is_empty() || dish.short.mg() > 0 {
        let unmet: Mass = dish.unmet.iter().map(|(_, mass)| *mass).sum();
        let lacks = unmet + dish.short;
        let why = match answer.pots_a_day {
            Some(1) => "at most 1 pot a day".to_string(),
            Some(pots) => format!("at most {pots} pots a day"),
            None => "it does not keep longer".to_string(),
        };
        page.item(format!("{} stays wanting: {why}", weight(lacks)));
    }
}

fn span(days: u32) -> String {
    match days {
        1 => "1 day".to_string(),
        days if days >= 60 => format!("{} months", decimal(f64::from(days / 30))),
        days => format!("{days} days"),
    }
}
