//! On which day food was put elsewhere, told late: its date is reckoned from then. "Last week" may be any day of it
//! since the pot was cooked, and the date depends on which, so that is asked.

use chrono::{Datelike, Days, Duration, NaiveDate};

use super::super::answer::About;
use super::super::batch::Lot;
use super::super::draft::Draft;
use super::super::ids::BatchId;
use super::super::kitchen::Choice;
use super::super::problem::ProblemKind;
use super::{Stop, find};
use crate::lang::syntax::{Amount, Command, Day, Item, Move};

const WEEK_DAYS: u64 = 7;

/// From here on it is that day.
pub fn told(draft: &mut Draft, moved: &Move) -> Result<(), Stop> {
    let Some(day) = &moved.day else {
        return Ok(());
    };
    let today = draft.today();
    let day = match day {
        Day::LastWeek => of_last_week(draft, moved, today)?,
        day => find::date(day, today)?,
    };
    if day > today {
        return Err(ProblemKind::FutureDate.into());
    }
    draft.occurred_at = draft.input.said_at - Duration::days((today - day).num_days());
    Ok(())
}

/// All of it, told late, of what was counted since: what stands there now is not what was put elsewhere then.
pub fn none_counted_since(draft: &Draft, item: &Item, lots: &[(BatchId, Lot)]) -> Result<(), Stop> {
    let all = matches!(item.amount, Amount::Share(_));
    let counted = draft.counted_since(lots.iter().map(|(_, lot)| lot));
    let Some((id, _)) = lots.first().filter(|_| all && counted) else {
        return Ok(());
    };
    let name = draft.kitchen.batch(*id).name.clone();
    let held = lots.iter().map(|(_, lot)| lot.balance).sum();
    let kind = ProblemKind::CountedSince { name, held };
    Err(Stop::Problem(kind.at(item.span.clone())))
}

/// The only day of last week on which it can have been; of several it is asked.
fn of_last_week(draft: &Draft, moved: &Move, today: NaiveDate) -> Result<NaiveDate, Stop> {
    let monday = today - Days::new(u64::from(today.weekday().num_days_from_monday()));
    let mut made = None;
    for item in &moved.items {
        let (found, _) = find::standing(draft, &item.name)?;
        let days = found.iter().map(|id| draft.kitchen.batch(*id).made_on);
        made = made.max(days.min());
    }
    let days = (1..=WEEK_DAYS).rev().map(|back| monday - Days::new(back));
    let days: Vec<NaiveDate> = days
        .filter(|day| made.is_none_or(|made| *day >= made))
        .collect();
    match days.as_slice() {
        [only] => Ok(*only),
        // Before it was cooked: which the move itself says.
        [] => Ok(monday - Days::new(1)),
        several => Err(which(moved, several)),
    }
}

fn which(moved: &Move, days: &[NaiveDate]) -> Stop {
    let options = days.iter().map(|day| {
        let on = Day::Date {
            day: day.day(),
            month: day.month(),
            year: Some(day.year()),
        };
        let moved = Move {
            day: Some(on),
            ..moved.clone()
        };
        Choice {
            label: day.format("%A %-d %B").to_string(),
            says: Command::Move(moved).to_string(),
        }
    });
    let names: Vec<&str> = moved
        .items
        .iter()
        .map(|item| item.name.text.as_str())
        .collect();
    find::ask(About::When, &names.join(", "), None, options.collect())
}
