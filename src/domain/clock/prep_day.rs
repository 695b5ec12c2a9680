//! The day on which a household cooks for the days to come.

use chrono::{Datelike, NaiveDate, NaiveTime};

use super::occurrence::ClockSettings;

/// A weekday, each week or every other one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PrepDay {
    /// 0 = Monday.
    pub weekday: u8,
    pub at: NaiveTime,
    /// Every other week, and this is one of the dates.
    pub every_other: Option<NaiveDate>,
}

impl PrepDay {
    pub fn weekly(weekday: u8, at: NaiveTime) -> Self {
        Self {
            weekday,
            at,
            every_other: None,
        }
    }

    pub fn is_on(&self, on: NaiveDate) -> bool {
        let same_week = |first: NaiveDate| (on - first).num_days().rem_euclid(14) == 0;
        let weekday = on.weekday().num_days_from_monday() == u32::from(self.weekday);
        weekday && self.every_other.is_none_or(same_week)
    }

    /// The first one from a date on, that date included.
    pub fn from(&self, date: NaiveDate) -> NaiveDate {
        let mut dates = date.iter_days();
        let found = dates.find(|on| self.is_on(*on));
        found.expect("it comes within two weeks")
    }
}

impl ClockSettings {
    /// The next prep day, today included, where one was told.
    pub fn prep_day_from(&self, today: NaiveDate) -> Option<NaiveDate> {
        self.prep.map(|prep| prep.from(today))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_other_week_keeps_in_step_with_its_first_date() {
        let date = |month, day| NaiveDate::from_ymd_opt(2026, month, day).expect("a date");
        let prep = PrepDay {
            every_other: Some(date(10, 18)),
            ..PrepDay::weekly(6, NaiveTime::MIN)
        };
        assert_eq!(prep.from(date(10, 14)), date(10, 18));
        assert_eq!(prep.from(date(10, 18)), date(10, 18));
        // Over the change of the clocks, and back before the first.
        assert_eq!(prep.from(date(10, 19)), date(11, 1));
        assert!(prep.is_on(date(10, 4)) && !prep.is_on(date(10, 11)));
        let weekly = PrepDay::weekly(6, NaiveTime::MIN);
        assert_eq!(weekly.from(date(10, 19)), date(10, 25));
    }
}
