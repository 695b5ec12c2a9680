//! Days and hours to come, as moments.

use chrono::{
    DateTime, Datelike, Days, Duration, LocalResult, NaiveDate, NaiveDateTime, NaiveTime, TimeZone,
    Utc,
};
use chrono_tz::Tz;

use super::problem::ClockProblem;
use crate::lang::syntax::{Ahead, At, Hour, Impossible};

/// Nobody plans further ahead in a kitchen.
pub const DAYS_MAX: i64 = 400;

/// Nobody is away for longer: what seems so ends before it begins.
const ABSENCE_DAYS_MAX: i64 = 200;

/// A day told without its hour begins so for a reminder.
const MORNING: NaiveTime = NaiveTime::from_hms_opt(8, 0, 0).expect("a time of day");

/// The next such day, today included.
pub fn day(told: &Ahead, today: NaiveDate) -> Result<NaiveDate, ClockProblem> {
    let found = match told {
        Ahead::Today => Some(today),
        Ahead::Tomorrow => today.succ_opt(),
        Ahead::InDays(days) => today.checked_add_days(Days::new(u64::from(*days))),
        Ahead::Weekday(weekday) => {
            let on = today.weekday().num_days_from_monday();
            let days = (u32::from(*weekday) + 7 - on) % 7;
            today.checked_add_days(Days::new(u64::from(days)))
        }
        Ahead::NextWeek(weekday) => {
            let on = today.weekday().num_days_from_monday();
            let days = 7 - on + u32::from(*weekday);
            today.checked_add_days(Days::new(u64::from(days)))
        }
        Ahead::OfMonth(day) => {
            let month = |ahead: u32| {
                today
                    .with_day(1)?
                    .checked_add_months(chrono::Months::new(ahead))
            };
            let mut dates = (0..12).filter_map(|ahead| month(ahead)?.with_day(*day));
            dates.find(|date| *date >= today)
        }
        Ahead::Date { day, month, year } => match year {
            Some(year) => NaiveDate::from_ymd_opt(*year, *month, *day),
            // 29 February comes within eight years.
            None => (0..=8)
                .filter_map(|ahead| NaiveDate::from_ymd_opt(today.year() + ahead, *month, *day))
                .find(|date| *date >= today),
        },
    };
    let told = || told.to_string();
    let impossible = || ClockProblem::impossible(told(), Impossible::Day);
    let date = found.ok_or_else(impossible)?;
    match (date - today).num_days() {
        days if days < 0 => Err(ClockProblem::TimeGone { told: told() }),
        days if days > DAYS_MAX => Err(impossible()),
        _ => Ok(date),
    }
}

/// The last of some days that begin with this one: "Thu to Sat" ends on the Saturday after that Thursday. "22 to 20
/// October" is the wrong way round, and "28 December to 3 January" is not.
pub fn day_after(
    told: &Ahead,
    first: NaiveDate,
    today: NaiveDate,
) -> Result<NaiveDate, ClockProblem> {
    let order = || ClockProblem::WrongOrder {
        from: first.format("%-d %b").to_string(),
        until: told.to_string(),
    };
    let last = match told {
        Ahead::Today | Ahead::Tomorrow | Ahead::InDays(_) | Ahead::NextWeek(_) => day(told, today)?,
        Ahead::Weekday(_) | Ahead::OfMonth(_) | Ahead::Date { .. } => match day(told, first) {
            // The calendar has it, and it has not gone by.
            Err(ClockProblem::TimeGone { .. }) if day(told, today).is_ok() => return Err(order()),
            day => day?,
        },
    };
    match (last - first).num_days() {
        0..=ABSENCE_DAYS_MAX => Ok(last),
        _ => Err(order()),
    }
}

/// The moment of a wall clock's time: of two the earlier, and where the clock leaps over it the first after the gap.
pub fn instant(zone: Tz, wall: NaiveDateTime) -> DateTime<Utc> {
    match zone.from_local_datetime(&wall) {
        LocalResult::Single(moment) | LocalResult::Ambiguous(moment, _) => moment.to_utc(),
        LocalResult::None => {
            // No gap is longer than a day; its end is found to the minute.
            let after = (1..=24 * 60).find_map(|minutes| {
                let later = wall + Duration::minutes(minutes);
                zone.from_local_datetime(&later).earliest()
            });
            after.map_or_else(|| wall.and_utc(), |moment| moment.to_utc())
        }
    }
}

/// The hour of the day that is meant, where its half of the day was not told.
pub fn time_of(hour: Hour, late: bool) -> Option<NaiveTime> {
    let clock = match hour.either && late {
        true => hour.hour + 12,
        false => hour.hour,
    };
    NaiveTime::from_hms_opt(clock, hour.minute, 0)
}

/// The wall clock's time that a reminder is asked for at.
pub fn wall(told: &At, zone: Tz, now: DateTime<Utc>) -> Result<NaiveDateTime, ClockProblem> {
    let here = now.with_timezone(&zone).naive_local();
    let today = here.date();
    let words = || told.to_string();
    let impossible = || ClockProblem::impossible(words(), Impossible::Hour);
    let gone = || ClockProblem::TimeGone { told: words() };
    let on = told.day.as_ref().map(|told| day(told, today)).transpose()?;
    let times = match told.hour {
        None => vec![MORNING],
        // "Sunday at 10" is in the morning, "Sunday at 6" in the evening; today it is the next that comes.
        Some(hour) if hour.either && on.is_some_and(|day| day > today) => {
            vec![time_of(hour, hour.hour < 7).ok_or_else(impossible)?]
        }
        Some(hour) => {
            let early = time_of(hour, false).ok_or_else(impossible)?;
            let late = time_of(hour, true).ok_or_else(impossible)?;
            vec![early, late]
        }
    };
    let to_come = |date: NaiveDate| {
        let mut walls = times.iter().map(|time| date.and_time(*time));
        walls.find(|wall| *wall > here)
    };
    match (on, told.hour) {
        (None, None) => Err(ClockProblem::NoTime),
        // The day alone, and it is today: there is no hour that it could be.
        (Some(day), None) if day == today => Err(ClockProblem::NoTime),
        (Some(day), _) => {
            // "Sunday at 10", and it is Sunday evening: the next one.
            let weekday = matches!(told.day, Some(Ahead::Weekday(_)));
            let later = || to_come(day + Days::new(7)).filter(|_| weekday);
            to_come(day).or_else(later).ok_or_else(gone)
        }
        (None, Some(_)) => to_come(today)
            .or_else(|| to_come(today.succ_opt()?))
            .ok_or_else(gone),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TUESDAY: NaiveDate = NaiveDate::from_ymd_opt(2026, 10, 13).expect("a date");

    #[track_caller]
    fn falls(told: Ahead, expected: &str) {
        let date = day(&told, TUESDAY).map(|date| date.to_string());
        assert_eq!(
            date.unwrap_or_else(|problem| problem.code().to_owned()),
            expected,
            "{told}"
        );
    }

    #[test]
    fn days_to_come() {
        let date = |day, month, year| Ahead::Date { day, month, year };
        falls(Ahead::Today, "2026-10-13");
        falls(Ahead::Tomorrow, "2026-10-14");
        falls(Ahead::Weekday(1), "2026-10-13");
        falls(Ahead::Weekday(0), "2026-10-19");
        falls(Ahead::OfMonth(12), "2026-11-12");
        falls(Ahead::OfMonth(31), "2026-10-31");
        falls(date(3, 10, None), "2027-10-03");
        falls(date(3, 10, Some(2026)), "time_gone");
        falls(date(3, 12, Some(2027)), "impossible_time");
        falls(date(29, 2, None), "impossible_time");
        falls(date(30, 2, Some(2027)), "impossible_time");
        falls(Ahead::InDays(3), "2026-10-16");
        falls(Ahead::NextWeek(0), "2026-10-19");
        falls(Ahead::NextWeek(1), "2026-10-20");
        falls(Ahead::NextWeek(6), "2026-10-25");
    }

    #[track_caller]
    fn ends(first: (u32, u32), told: Ahead, expected: &str) {
        let first = NaiveDate::from_ymd_opt(2026, first.1, first.0).expect("a date");
        let date = day_after(&told, first, TUESDAY).map(|date| date.to_string());
        assert_eq!(
            date.unwrap_or_else(|problem| problem.code().to_owned()),
            expected,
            "{told}"
        );
    }

    #[test]
    fn the_last_of_some_days() {
        let date = |day, month, year| Ahead::Date { day, month, year };
        ends((15, 10), Ahead::Weekday(5), "2026-10-17");
        ends((18, 10), Ahead::Weekday(6), "2026-10-18");
        ends((15, 10), date(17, 10, None), "2026-10-17");
        ends((15, 10), date(15, 10, None), "2026-10-15");
        ends((22, 10), date(20, 10, None), "wrong_order");
        ends((22, 10), date(20, 10, Some(2026)), "wrong_order");
        ends((28, 12), date(3, 1, None), "2027-01-03");
        ends((15, 10), Ahead::OfMonth(17), "2026-10-17");
        ends((20, 10), Ahead::Tomorrow, "wrong_order");
    }

    #[track_caller]
    fn rings(day: Option<Ahead>, hour: Option<Hour>, expected: &str) {
        let zone = Tz::Europe__Dublin;
        // 14:20 there.
        let now = TUESDAY.and_hms_opt(13, 20, 0).expect("a time").and_utc();
        let told = At { day, hour };
        let wall = wall(&told, zone, now).map(|wall| wall.format("%a %d %H:%M").to_string());
        assert_eq!(
            wall.unwrap_or_else(|problem| problem.code().to_owned()),
            expected,
            "{told}"
        );
    }

    #[test]
    fn hours_to_come() {
        let either = |hour| {
            Some(Hour {
                hour,
                minute: 0,
                either: true,
            })
        };
        let plain = |hour| Some(Hour::at(hour, 0));
        rings(None, either(3), "Tue 13 15:00");
        rings(None, either(2), "Wed 14 02:00");
        rings(None, either(8), "Tue 13 20:00");
        rings(None, plain(8), "Wed 14 08:00");
        rings(Some(Ahead::Today), plain(8), "time_gone");
        rings(Some(Ahead::Weekday(1)), plain(8), "Tue 20 08:00");
        rings(Some(Ahead::Tomorrow), either(6), "Wed 14 18:00");
        rings(Some(Ahead::Tomorrow), either(10), "Wed 14 10:00");
        rings(Some(Ahead::Weekday(6)), None, "Sun 18 08:00");
        rings(Some(Ahead::Today), None, "no_time");
        rings(None, None, "no_time");
        rings(None, plain(25), "impossible_time");
    }

    /// The rules of the four zones, from memory: Dublin changes at 01:00 UTC on the last Sundays of March and October, New
    /// York at 02:00 local on the second Sunday of March and the first of November, Lord Howe at 02:00 local on the first
    /// Sundays of April and October by half an hour, Tokyo never.
    #[test]
    fn every_wall_time_has_one_instant() {
        let at = |zone: Tz, month, day, hour, minute| {
            let date = NaiveDate::from_ymd_opt(2026, month, day).expect("a date");
            let wall = date.and_hms_opt(hour, minute, 0).expect("a time");
            instant(zone, wall).format("%d %H:%M").to_string()
        };
        let dublin = Tz::Europe__Dublin;
        assert_eq!(at(dublin, 3, 29, 0, 30), "29 00:30");
        assert_eq!(at(dublin, 3, 29, 1, 30), "29 01:00");
        assert_eq!(at(dublin, 3, 29, 2, 30), "29 01:30");
        assert_eq!(at(dublin, 10, 25, 1, 30), "25 00:30");
        assert_eq!(at(dublin, 10, 25, 2, 0), "25 02:00");
        let new_york = Tz::America__New_York;
        assert_eq!(at(new_york, 3, 8, 2, 30), "08 07:00");
        assert_eq!(at(new_york, 3, 8, 3, 0), "08 07:00");
        assert_eq!(at(new_york, 11, 1, 1, 30), "01 05:30");
        let lord_howe = Tz::Australia__Lord_Howe;
        assert_eq!(at(lord_howe, 4, 5, 1, 45), "04 14:45");
        assert_eq!(at(lord_howe, 10, 4, 2, 15), "03 15:30");
        assert_eq!(at(lord_howe, 10, 4, 2, 30), "03 15:30");
        assert_eq!(at(Tz::Asia__Tokyo, 3, 29, 2, 30), "28 17:30");
    }
}
