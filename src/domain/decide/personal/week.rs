//! What somebody ate over several days, day by day, and from which dishes.

use chrono::{Datelike, Days, NaiveDate};

use super::super::super::answer::PlateView;
use super::super::super::draft::Draft;
use super::super::super::ids::MemberId;
use super::super::super::nutrients::Totals;
use super::super::super::personal::answer::{
    DayTotals, DishEaten, PersonalAnswer, SourcesAnswer, WeekAnswer,
};
use super::super::super::personal::target::amount;
use super::super::super::problem::ProblemKind;
use super::super::{Step, Stop, eaten, find};
use super::saying;
use crate::lang::syntax::{Aimed, Stretch, Week, Words};

pub fn week(draft: &Draft, days: Week, who: Option<&Words>) -> Step {
    let of = match eaten::whose(draft, who)? {
        Ok(of) => of,
        Err(theirs) => return Ok(theirs),
    };
    let today = draft.today();
    let (from, until) = span(days, today);
    let days = days_of(draft, of, (from, until.min(today)));
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

/// From which dishes the sender had something.
pub fn sources(draft: &Draft, of: Aimed, over: &Stretch) -> Step {
    let whose = draft.input.sender;
    let today = draft.today();
    let (from, until) = match over {
        Stretch::Days(days) => span(*days, today),
        Stretch::Day(day) => {
            let day = find::date(day, today)?;
            (day, day)
        }
    };
    if from > today {
        return Err(Stop::from(ProblemKind::FutureDate));
    }
    let days = days_of(draft, whose, (from, until.min(today)));
    let (mut dishes, mut totals) = (Vec::new(), Totals::default());
    for day in &days {
        totals.add(&day.totals);
        day.dishes.iter().for_each(|dish| add(&mut dishes, dish));
    }
    let gave = |dish: &DishEaten| amount(of, &dish.totals).amount.unwrap_or(-1.0);
    dishes.sort_by(|one, other| gave(other).total_cmp(&gave(one)));
    let name = draft.kitchen.member(whose).map(|it| it.name.clone());
    Ok(saying(PersonalAnswer::Sources(Box::new(SourcesAnswer {
        of,
        whose,
        member: name.unwrap_or_default(),
        from,
        until: until.min(today),
        days: days.len(),
        dishes,
        totals,
        numbers: draft.kitchen.tells_numbers(whose),
    }))))
}

/// Those with anything on a plate.
fn days_of(draft: &Draft, of: MemberId, (from, until): (NaiveDate, NaiveDate)) -> Vec<DayTotals> {
    let days = from.iter_days().take_while(|day| *day <= until);
    days.filter_map(|day| day_of(day, &eaten::plates_of(draft, of, day)))
        .collect()
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
            let estimated = line.mass_estimated || line.batch_estimated;
            sum.estimated |= estimated;
            let dish = DishEaten {
                name: line.name.clone(),
                mass: line.mass,
                totals: line.totals.clone(),
                estimated,
            };
            add(&mut sum.dishes, &dish);
        }
    }
    (!plates.is_empty()).then_some(sum)
}

/// What was had of a dish on several plates is one.
fn add(dishes: &mut Vec<DishEaten>, more: &DishEaten) {
    match dishes.iter_mut().find(|dish| dish.name == more.name) {
        Some(dish) => {
            dish.mass += more.mass;
            dish.totals.add(&more.totals);
            dish.estimated |= more.estimated;
        }
        None => dishes.push(more.clone()),
    }
}
