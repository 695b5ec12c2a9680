//! Drift and waste over a stretch of time, and what a batch cost.

use chrono::{Datelike, Days, Duration, Months, NaiveDate};

use super::super::answer::{About, Answer, DriftAnswer, PricedAnswer, WastedAnswer};
use super::super::batch::{Batch, Money};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::kitchen::Choice;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::{Done, Step, Stop, find};
use crate::lang::syntax::{Command, Period, Price, Words};

/// Drift is told of so many days.
const DRIFT_DAYS: i64 = 90;

pub fn drift(draft: &mut Draft, dish: Option<&Words>) -> Step {
    let now = draft.input.said_at;
    let since = now - Duration::days(DRIFT_DAYS);
    let mut lines = draft.kitchen.drift(since);
    if let Some(dish) = dish {
        let found = find::batches(draft, dish)?;
        let component = draft.kitchen.batch(found[0]).component;
        lines.retain(|(of, _)| *of == component);
    }
    let leaning = draft.kitchen.leaning(now);
    Ok(Done::saying(Answer::Drift(DriftAnswer {
        since: draft.day_of(since),
        today: draft.today(),
        lines: lines.into_iter().map(|(_, line)| line).collect(),
        leans_to_less: leaning.map(|(_, less)| less),
    })))
}

pub fn wasted(draft: &mut Draft, period: Period) -> Step {
    let today = draft.today();
    let no_such = || Stop::from(ProblemKind::FutureDate);
    let (from, until) = days(period, today).ok_or_else(no_such)?;
    if from > today {
        return Err(no_such());
    }
    let (dishes, reasons) = draft.kitchen.wasted(from, until);
    Ok(Done::saying(Answer::Wasted(WastedAnswer {
        from,
        until: until.min(today),
        today,
        dishes,
        reasons,
        made: draft.kitchen.made(from, until),
    })))
}

/// The first and the last day; a month without a year is the latest that has begun.
pub fn days(period: Period, today: NaiveDate) -> Option<(NaiveDate, NaiveDate)> {
    let week = |day: NaiveDate| {
        let monday = day - Days::new(u64::from(day.weekday().num_days_from_monday()));
        Some((monday, monday + Days::new(6)))
    };
    let month = |first: NaiveDate| {
        let next = first.checked_add_months(Months::new(1))?;
        Some((first, next.pred_opt()?))
    };
    let this_month = today.with_day(1)?;
    match period {
        Period::ThisWeek => week(today),
        Period::LastWeek => week(today - Days::new(7)),
        Period::ThisMonth => month(this_month),
        Period::LastMonth => month(this_month.checked_sub_months(Months::new(1))?),
        Period::Month {
            month: number,
            year: Some(year),
        } => month(NaiveDate::from_ymd_opt(year, number, 1)?),
        Period::Month {
            month: number,
            year: None,
        } => {
            let of = |year| NaiveDate::from_ymd_opt(year, number, 1);
            let this_year = of(today.year()).filter(|first| *first <= today);
            month(this_year.or_else(|| of(today.year() - 1))?)
        }
    }
}

/// What went in and what stands there differ by so much: then a kilogram is not the same of both.
const KILO_DIFFERS: f64 = 0.05;

pub fn price(draft: &mut Draft, price: &Price) -> Step {
    let id = find::batch_to_change(draft, &price.dish)?;
    let batch = draft.kitchen.batch(id);
    let hundredths = match price.a_kilo {
        true => of_kilos(batch, price)?,
        false => price.hundredths,
    };
    let money = Money {
        hundredths,
        currency: price.currency.clone(),
    };
    let ends = (Account::Bought, draft.pot(id));
    let detail = Some(Detail::Price(money.clone()));
    draft.enter(EntryKind::Fact, ends, Mass::ZERO, Some(id), None, detail);
    let batch = draft.kitchen.batch(id);
    let kilos = batch.net_mass().grams() / 1000.0;
    let per_kilo = (kilos > 0.0 && !batch.estimated()).then(|| Money {
        hundredths: (hundredths as f64 / kilos).round() as i64,
        currency: price.currency.clone(),
    });
    Ok(Done::saying(Answer::Priced(PricedAnswer {
        name: batch.name.clone(),
        batch: batch.code.clone(),
        price: money,
        per_kilo,
        message: draft.credit,
    })))
}

/// What the whole cost at so much a kilogram: of what went in, or of what came out, where these differ.
fn of_kilos(batch: &Batch, price: &Price) -> Result<i64, Stop> {
    let cost = |mass: Mass| (price.hundredths as f64 * mass.grams() / 1000.0).round() as i64;
    let (raw, net) = (batch.raw_mass(), batch.net_mass());
    let differ = (raw - net).abs().grams() > net.grams() * KILO_DIFFERS;
    if !differ {
        return Ok(cost(net));
    }
    let option = |mass: Mass, of: &str| {
        let whole = Price {
            dish: Words::plain(batch.code.clone()),
            hundredths: cost(mass),
            a_kilo: false,
            ..price.clone()
        };
        Choice {
            label: format!("{:.0} g {of}", mass.grams()),
            says: Command::Price(whole).to_string(),
        }
    };
    let options = vec![option(raw, "that went in"), option(net, "cooked")];
    let words = format!("kilo of {}", batch.name);
    Err(find::ask(About::WhichBatch, &words, None, options))
}
