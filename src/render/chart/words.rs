//! What somebody ate as charts, and the same numbers as text.

use super::palette::FILLS;
use super::{Aim, Bar, Body, Chart, Column, Key, Panel};
use crate::domain::nutrients::{Sum, Totals};
use crate::domain::personal::answer::{DayTotals, DishEaten, SourcesAnswer, WeekAnswer};
use crate::domain::personal::target::{Target, amount};
use crate::foods::Nutrient;
use crate::lang::syntax::Aimed;
use crate::render::clean::{capital, name, short_within};
use crate::render::number::{energy, nutrient};
use crate::render::page::{Page, joined};
use crate::render::personal::{amounts, days, had, say_off, shown};
use crate::render::told_in;

/// The longest name in a key, in characters.
pub const NAME_CHARS_MAX: usize = 40;
/// So many dishes get a bar of their own.
const BARS_MAX: usize = 10;
/// Stands where nothing was booked: that is not the same as nothing eaten.
const NOTHING: &str = "–";

/// Energy and protein of each day, by dish. `None`: there is nothing to show, or it is not told.
pub fn week(answer: &WeekAnswer) -> Option<Chart> {
    if !answer.numbers {
        return None;
    }
    let groups = groups(answer);
    let panel = |of| panel(answer, of, &groups);
    let panels = vec![panel(Aimed::Energy), panel(Aimed::Protein)];
    let any = |panel: &Panel| {
        let mut parts = panel.columns.iter().flat_map(|column| &column.parts);
        parts.any(|amount| *amount > 0.0)
    };
    let key = groups.iter().map(|group| Key {
        name: group.name(),
        figures: format!(
            "{}, {}",
            energy(group.totals.get(Nutrient::EnergyKcal), group.estimated),
            nutrient(
                Nutrient::Protein,
                "protein",
                group.totals.get(Nutrient::Protein),
                group.estimated
            )
        ),
        rest: group.names.len() > 1,
    });
    panels.iter().any(any).then(|| Chart {
        title: format!("{}, energy and protein by dish", name(&answer.member)),
        below_title: match answer.days.len() as i64 > (answer.until - answer.from).num_days() {
            true => days(answer.from, answer.until),
            false => format!(
                "{}, {NOTHING} nothing booked",
                days(answer.from, answer.until)
            ),
        },
        body: Body::Days {
            key: key.collect(),
            panels,
        },
    })
}

/// What is one part of every column.
struct Group<'a> {
    /// More than one: what is left over.
    names: Vec<&'a str>,
    totals: Totals,
    estimated: bool,
}

impl Group<'_> {
    fn name(&self) -> String {
        match self.names.as_slice() {
            [one] => short_within(one, NAME_CHARS_MAX),
            more => format!("{} others", more.len()),
        }
    }
}

/// The dishes that gave most of either, in the order of what they gave; all that are beyond the colours are one.
fn groups(answer: &WeekAnswer) -> Vec<Group<'_>> {
    let mut groups: Vec<Group<'_>> = Vec::new();
    for dish in answer.days.iter().flat_map(|day| &day.dishes) {
        match groups
            .iter_mut()
            .find(|group| group.names == [dish.name.as_str()])
        {
            Some(group) => group.add(dish),
            None => groups.push(Group {
                names: vec![&dish.name],
                totals: dish.totals.clone(),
                estimated: dish.estimated,
            }),
        }
    }
    let both = [Aimed::Energy, Aimed::Protein];
    let all = both.map(|of| {
        let each = groups
            .iter()
            .filter_map(|group| amount(of, &group.totals).amount);
        each.sum::<f64>()
    });
    let share = |group: &Group<'_>| {
        let shares = both.iter().zip(all).filter(|(_, all)| *all > 0.0);
        let shares =
            shares.map(|(of, all)| amount(*of, &group.totals).amount.unwrap_or_default() / all);
        shares.fold(0.0, f64::max)
    };
    groups.sort_by(|one, other| share(other).total_cmp(&share(one)));
    if groups.len() > FILLS {
        let rest = groups.split_off(FILLS - 1);
        let rest = rest.into_iter().reduce(|mut sum, group| {
            sum.names.extend(group.names);
            sum.totals.add(&group.totals);
            sum.estimated |= group.estimated;
            sum
        });
        groups.extend(rest);
    }
    groups
}

impl Group<'_> {
    fn add(&mut self, dish: &DishEaten) {
        self.totals.add(&dish.totals);
        self.estimated |= dish.estimated;
    }
}

fn panel(answer: &WeekAnswer, of: Aimed, groups: &[Group<'_>]) -> Panel {
    let columns = answer
        .from
        .iter_days()
        .take_while(|day| *day <= answer.until);
    let columns = columns.map(|day| {
        let eaten = answer.days.iter().find(|told| told.day == day);
        Column {
            label: day.format("%a %-d").to_string(),
            told: eaten.map_or_else(|| NOTHING.to_owned(), |eaten| told(of, eaten)),
            parts: groups
                .iter()
                .map(|group| eaten.map_or(0.0, |eaten| part(of, eaten, &group.names)))
                .collect(),
        }
    });
    let unit = match of {
        Aimed::Energy => told_in::unit(),
        _ => "g",
    };
    let target = answer.targets.iter().find(|target| target.of == of);
    Panel {
        heading: format!("{}, {unit}", capital(of.name())),
        aim: target.map(aim),
        ticks: Vec::new(),
        columns: columns.collect(),
    }
}

fn part(of: Aimed, eaten: &DayTotals, names: &[&str]) -> f64 {
    let dishes = eaten
        .dishes
        .iter()
        .filter(|dish| names.contains(&dish.name.as_str()));
    let amounts = dishes.filter_map(|dish| amount(of, &dish.totals).amount);
    amounts.map(|amount| amount.max(0.0)).sum()
}

/// As above its column, where the unit is told by the heading.
fn told(of: Aimed, eaten: &DayTotals) -> String {
    let sum = amount(of, &eaten.totals);
    let Some(amount) = sum.amount else {
        return "unknown".to_owned();
    };
    let least = if sum.at_least { "≥" } else { "" };
    let about = if eaten.estimated && amount > 0.0 {
        "~"
    } else {
        ""
    };
    format!("{least}{about}{}", shown(of, amount))
}

fn aim(target: &Target) -> Aim {
    Aim {
        words: format!("target {} a day", amounts(target)),
        least: target.least,
        most: target.most,
    }
}

/// What is told of a week below its picture, dish by dish, beside the days that the answer tells.
pub fn week_page(answer: &WeekAnswer, chart: &Chart) -> Page {
    let mut page = Page::new();
    page.say(format!(
        "{}, {}",
        chart.title,
        days(answer.from, answer.until)
    ));
    if let Body::Days { key, .. } = &chart.body {
        for (at, key) in key.iter().enumerate() {
            page.item(format!(
                "{}. {}: {}",
                at + 1,
                key.name,
                joined(&key.figures)
            ));
        }
    }
    page
}

/// A bar for each dish. `None`: there is nothing to show, or it is not told.
pub fn sources(answer: &SourcesAnswer) -> Option<Chart> {
    let known = |dish: &DishEaten| {
        amount(answer.of, &dish.totals)
            .amount
            .is_some_and(|it| it > 0.0)
    };
    if !answer.numbers || !answer.dishes.iter().any(known) {
        return None;
    }
    let rows = rows(answer);
    let bars = rows.iter().map(|row| Bar {
        name: row.name.clone(),
        figures: row.figures(answer),
        amount: row.sum.amount,
        rest: row.rest,
    });
    Some(Chart {
        title: format!(
            "Where {}'s {} came from",
            name(&answer.member),
            answer.of.name()
        ),
        below_title: below(answer),
        body: Body::Bars(bars.collect()),
    })
}

/// "62 g in all, Mon 12 Oct to Sun 18 Oct"
fn below(answer: &SourcesAnswer) -> String {
    let estimated = answer.dishes.iter().any(|dish| dish.estimated);
    let all = had(answer.of, amount(answer.of, &answer.totals), estimated);
    format!("{all} in all, {}", days(answer.from, answer.until))
}

struct Row {
    name: String,
    sum: Sum,
    estimated: bool,
    rest: bool,
}

impl Row {
    /// "62 g, 34%"
    fn figures(&self, answer: &SourcesAnswer) -> String {
        let told = had(answer.of, self.sum, self.estimated);
        let all = amount(answer.of, &answer.totals)
            .amount
            .filter(|all| *all > 0.0);
        match self.sum.amount.zip(all) {
            Some((amount, all)) => format!("{told}, {:.0}%", amount / all * 100.0),
            None => told,
        }
    }
}

/// What gave most first; all that are beyond the bars, or gave next to nothing, are one.
fn rows(answer: &SourcesAnswer) -> Vec<Row> {
    let row = |dish: &DishEaten| Row {
        name: short_within(&dish.name, NAME_CHARS_MAX),
        sum: amount(answer.of, &dish.totals),
        estimated: dish.estimated,
        rest: false,
    };
    let alone = match answer.dishes.len() > BARS_MAX {
        true => BARS_MAX - 1,
        false => answer.dishes.len(),
    };
    let (dishes, rest) = answer.dishes.split_at(alone);
    let mut rows: Vec<Row> = dishes.iter().map(row).collect();
    let sum = rest
        .iter()
        .map(|dish| dish.totals.clone())
        .reduce(|mut sum, totals| {
            sum.add(&totals);
            sum
        });
    rows.extend(sum.map(|totals| Row {
        name: format!("{} others", rest.len()),
        sum: amount(answer.of, &totals),
        estimated: rest.iter().any(|dish| dish.estimated),
        rest: true,
    }));
    rows
}

/// The same in words.
pub fn sources_page(answer: &SourcesAnswer) -> Page {
    let mut page = Page::new();
    if !answer.numbers {
        say_off(&mut page);
        page.example("numbers on");
        return page;
    }
    if answer.dishes.is_empty() {
        page.say(format!("{}:", days(answer.from, answer.until)));
        page.say("Nothing is booked for these days.");
        return page;
    }
    page.say(format!("{}: {}", capital(answer.of.name()), below(answer)));
    for row in rows(answer) {
        page.item(format!("{}: {}", row.name, joined(&row.figures(answer))));
    }
    page
}
