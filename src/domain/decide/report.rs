//! What stood here, drift and waste over a stretch of time, and what a batch cost.

use chrono::{Datelike, Days, Duration, Months, NaiveDate};

use super::super::answer::{About, Answer, DriftAnswer, PricedAnswer, WastedAnswer};
use super::super::batch::{Batch, Money};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::kitchen::{Choice, Kitchen};
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::named::contains_all;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::{Done, Step, Stop, find};
use crate::lang::syntax::{Command, GoodTold, Period, Prep, Price, Words};

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

pub fn course(draft: &mut Draft, dish: Option<&Words>) -> Step {
    let found = dish.map(|dish| find::batches(draft, dish)).transpose()?;
    let dish = found.map(|found| draft.kitchen.batch(found[0]).component);
    let course = draft.kitchen.course(dish, draft.input.said_at);
    Ok(Done::saying(Answer::Course(course)))
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
    let id = match find::batch_to_change(draft, &price.dish) {
        Ok(id) => id,
        Err(stop) => {
            let pot = newest_with(&draft.kitchen, &price.dish).filter(|_| !price.a_kilo);
            return Err(pot
                .and_then(|pot| of_what_goes_in(&draft.kitchen, pot, price))
                .unwrap_or(stop));
        }
    };
    let batch = draft.kitchen.batch(id);
    if let Some(stop) = of_what_goes_in(&draft.kitchen, batch, price) {
        return Err(stop);
    }
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
    let option = |mass, of| kilos(batch, price, mass, of);
    let options = vec![option(raw, "that went in"), option(net, "cooked")];
    let words = format!("kilo of {}", batch.name);
    Err(find::ask(About::WhichBatch, &words, None, options))
}

/// So much a kilo of so much of a batch, as a price of all of it.
fn kilos(batch: &Batch, price: &Price, mass: Mass, of: &str) -> Choice {
    let hundredths = price.hundredths as f64 * mass.grams() / 1000.0;
    let whole = Price {
        dish: Words::plain(batch.code.clone()),
        hundredths: hundredths.round() as i64,
        a_kilo: false,
        ..price.clone()
    };
    Choice {
        label: format!("{:.0} g {of}", mass.grams()),
        says: Command::Price(whole).to_string(),
    }
}

/// The newest pot that something of this name went into.
fn newest_with<'a>(kitchen: &'a Kitchen, name: &Words) -> Option<&'a Batch> {
    let said = key(&name.text);
    let goes_in = |batch: &&Batch| {
        let lines = kitchen.recipe_of(batch).lines.into_iter();
        let mut named = lines.filter(|line| contains_all(&key(&line.name), &said));
        named.any(|line| line.good.is_some() && line.mass.is_some())
    };
    let pots = kitchen.batches.values().filter(|batch| !batch.voided);
    pots.filter(goes_in).max_by_key(|batch| batch.made_at)
}

/// "paid 6 for the beef" where there is a beef chilli: what was bought for it, or all of it? And "rice is 1.80 a kilo" of
/// what goes into the rice, or of the pot?
fn of_what_goes_in(kitchen: &Kitchen, batch: &Batch, price: &Price) -> Option<Stop> {
    let (said, whole) = (key(&price.dish.text), key(&batch.name));
    let by_code = said == key(&batch.code);
    if by_code || said == whole && !price.a_kilo {
        return None;
    }
    let lines = kitchen.recipe_of(batch).lines.into_iter();
    let mut bought =
        lines.filter(|line| line.good.is_some() && contains_all(&key(&line.name), &said));
    let (line, mass) = bought.find_map(|line| Some((line.name, line.mass?)))?;
    let grams = if price.a_kilo { 1000.0 } else { mass.grams() };
    let good = Command::Prep(Prep::Good {
        name: Words::plain(line.clone()),
        told: GoodTold::Price {
            hundredths: price.hundredths,
            currency: price.currency.clone(),
            grams,
        },
    });
    let good = Choice {
        label: format!("{grams:.0} g {line}, as bought"),
        says: good.to_string(),
    };
    let pot = match price.a_kilo {
        true => kilos(batch, price, batch.net_mass(), "cooked"),
        false => Choice {
            label: format!("all of {}", batch.name),
            says: Command::Price(Price {
                dish: Words::plain(batch.code.clone()),
                ..price.clone()
            })
            .to_string(),
        },
    };
    let words = price.dish.text.clone();
    Some(find::ask(About::WhichBatch, &words, None, vec![good, pot]))
}
