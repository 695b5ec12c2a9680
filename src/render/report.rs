//! Drift, waste and prices.

use crate::domain::answer::{DriftAnswer, DriftLine, PricedAnswer, WastedAnswer, WastedLine};
use crate::domain::batch::Money;

use super::clean::{clean, name, quote};
use super::date::calendar_day;
use super::number::grams;
use super::page::{Line, Page};

/// How many dishes and reasons are listed.
const LISTED_MAX: usize = 8;

pub fn drift(answer: &DriftAnswer) -> Page {
    let mut page = Page::new();
    let since = calendar_day(answer.since, answer.today);
    if answer.lines.is_empty() {
        page.say(format!(
            "Nothing was recounted since {since}. One begins with:"
        ));
        page.example("recount");
        return page;
    }
    page.say(format!("Drift since {since}, counted against booked:"));
    for line in answer.lines.iter().take(LISTED_MAX) {
        page.item(
            Line::new()
                .bold(name(&line.name))
                .plain(format!(": {}", drifted(line))),
        );
    }
    if let Some(less) = answer.leans_to_less {
        page.say(check_scale(less));
    }
    page
}

/// "120 g less, 2.1 %, in 4 recounts; 300 g more eaten unweighed"
fn drifted(line: &DriftLine) -> String {
    let times = match line.recounts {
        1 => "1 recount".to_string(),
        many => format!("{many} recounts"),
    };
    let share = line.share().map(f64::abs).unwrap_or_default() * 100.0;
    let drift = match line.difference {
        none if none.is_zero() => "as booked".to_string(),
        less if less.is_negative() => format!("{} less, {share:.1} %", grams(-less)),
        more => format!("{} more, {share:.1} %", grams(more)),
    };
    let unweighed = match line.unweighed.is_zero() {
        true => String::new(),
        false => format!("; {} more eaten unweighed", grams(line.unweighed)),
    };
    format!("{drift}, in {times}{unweighed}")
}

/// Said once, when it shows.
pub fn check_scale(less: bool) -> String {
    let (counted, also) = match less {
        true => ("less", " If somebody eats unweighed, say so: took some dal"),
        false => ("more", ""),
    };
    format!(
        "Every dish counts {counted} than its books of late. Is the scale right? Put something of known \
         weight on it.{also}"
    )
}

pub fn wasted(answer: &WastedAnswer) -> Page {
    let mut page = Page::new();
    let from = calendar_day(answer.from, answer.today);
    let until = calendar_day(answer.until, answer.today);
    if answer.dishes.is_empty() {
        page.say(format!("Nothing thrown away from {from} to {until}."));
        return page;
    }
    page.say(format!("Thrown away, {from} to {until}:"));
    let share = answer.share().map_or(String::new(), |share| {
        format!(", {:.1} % of what was cooked or bought", share * 100.0)
    });
    page.say(Line::new().bold(grams(answer.mass())).plain(share));
    let cost = sums(&answer.cost());
    if !cost.is_empty() {
        let unpriced = match answer.unpriced().is_zero() {
            true => String::new(),
            false => format!(", and {} without a price", grams(answer.unpriced())),
        };
        page.say(format!("Worth {cost}{unpriced}"));
    }
    page.gap();
    for line in answer.dishes.iter().take(LISTED_MAX) {
        page.item(wasted_line(line));
    }
    page.gap();
    for (reason, mass) in answer.reasons.iter().take(LISTED_MAX) {
        let reason = reason.as_deref().map_or("no reason told".into(), quote);
        page.item(format!("{reason}: {}", grams(*mass)));
    }
    page
}

fn wasted_line(line: &WastedLine) -> Line {
    let cost = sums(&line.cost);
    let cost = if cost.is_empty() {
        cost
    } else {
        format!(", {cost}")
    };
    Line::new()
        .bold(name(&line.name))
        .plain(format!(": {}{cost}", grams(line.mass)))
}

pub fn priced(answer: &PricedAnswer) -> Page {
    let mut page = Page::new();
    let per_kilo = answer.per_kilo.as_ref().map_or(String::new(), |price| {
        format!(", {} a kilo as it is", money(price))
    });
    page.say(Line::new().bold(name(&answer.name)).plain(format!(
        " {} cost {}{per_kilo}",
        name(&answer.batch),
        money(&answer.price)
    )));
    page
}

pub fn sums(sums: &[Money]) -> String {
    let words: Vec<String> = sums.iter().map(money).collect();
    words.join(" and ")
}

/// "€6.40", "6.40 euro"
pub fn money(money: &Money) -> String {
    let figure = format!("{}.{:02}", money.hundredths / 100, money.hundredths % 100);
    let currency = clean(&money.currency);
    match currency.chars().any(char::is_alphabetic) {
        true => format!("{figure} {currency}"),
        false => format!("{currency}{figure}"),
    }
}
