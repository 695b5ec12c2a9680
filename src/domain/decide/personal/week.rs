//! What somebody ate over several days, day by day.

use chrono::{Datelike, Days, NaiveDate};

use super::super::super::answer::PlateView;
use super::super::super::draft::Draft;
use super::super::super::nutrients::Totals;
use super::super::super::personal::answer::{DayTotals, PersonalAnswer, WeekAnswer};
use super::super::{Step, eaten};
use super::saying;
use crate::lang::syntax::{Week, Words};

pub fn week(draft: &Draft, days: Week, who: Option<&Words>) -> Step {
    let of = match eaten::whose(draft, who)? {
        Ok(of) => of,
        Err(theirs) => return Ok(theirs),
    };
    let today = draft.today();
    let (from, until) = span(days, today);
    let days: Vec<DayTotals> = from
        .iter_days()
        .take_while(|day| *day <= until.min(today))
        .filter_map(|day| day_of(day, &eaten::plates_of(draft, of, day)))
        .collect();
    let mean = (!days.is_empty()).then(|| {
        let mut sum = Totals::default();
        days.iter().for_each(|day| sum.add(&day.totals));
        sum.scaled(1.0 / days.len() as f64)
    });
    let name = draft.kitchen.member(of).map(|member| member.name.clone());
    Ok(saying(PersonalAnswer::Week(Box::new(WeekAnswer {
        of,
        member: name.unwrap_or_default(),
        from,
        until: until.min(today),
        days,
        mean,
        targets: draft.kitchen.targets(of),
        numbers: draft.kitchen.tells_numbers(of),
    }))))
}

fn span(days: Week, today: NaiveDate) -> (NaiveDate, NaiveDate) {
    let monday = today - Days::new(u64::from(today.weekday().num_days_from_monday()));
    match days {
        Week::Seven => (today - Days::new(6), today),
        Week::This => (monday, today),
        Week::Last => (monday - Days::new(7), monday - Days::new(1)),
    }
}

/// Nothing where nothing is on a plate.
fn day_of(day: NaiveDate, plates: &[PlateView]) -> Option<DayTotals> {
    let mut sum = DayTotals {
        day,
        dishes: Vec::new(),
        totals: Totals::default(),
        estimated: false,
    };
    for plate in plates {
        sum.totals.add(&plate.totals);
        for line in &plate.lines {
            sum.estimated |= line.mass_estimated || line.batch_estimated;
            match sum.dishes.iter_mut().find(|(name, _)| *name == line.name) {
                Some((_, mass)) => *mass += line.mass,
                None => sum.dishes.push((line.name.clone(), line.mass)),
            }
        }
    }
    (!plates.is_empty()).then_some(sum)
}
