//! Days as a kitchen says them: day before month.

use chrono::{Datelike, NaiveDate};

/// "Wed 14 Oct".
pub fn day(date: NaiveDate) -> String {
    date.format("%a %-d %b").to_string()
}

/// "14 Jan 2027", for days that may be far away.
pub fn date(date: NaiveDate) -> String {
    date.format("%-d %b %Y").to_string()
}

/// A use-by day, seen from today.
pub fn use_by(date: NaiveDate, today: NaiveDate) -> String {
    match date.signed_duration_since(today).num_days() {
        0 => "use by today".to_string(),
        1 => "use by tomorrow".to_string(),
        -1 => "use-by was yesterday".to_string(),
        past if past < 0 => format!("use-by was {}", near(date, today)),
        _ => format!("use by {}", near(date, today)),
    }
}

/// A day that stays true however long it is shown: "Fri 16 Oct", and with its year where that is not plain.
pub fn calendar_day(date: NaiveDate, today: NaiveDate) -> String {
    match date.signed_duration_since(today).num_days().abs() {
        0..=6 => day(date),
        7..=180 => date.format("%-d %b").to_string(),
        _ => self::date(date),
    }
}

fn near(date: NaiveDate, today: NaiveDate) -> String {
    if date.year() == today.year() {
        date.format("%-d %b").to_string()
    } else {
        self::date(date)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ymd(year: i32, month: u32, day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(year, month, day).expect("a day of the calendar")
    }

    #[test]
    fn days_are_seen_from_today() {
        let today = ymd(2026, 10, 14);
        for (date, said) in [
            (ymd(2026, 10, 14), "use by today"),
            (ymd(2026, 10, 15), "use by tomorrow"),
            (ymd(2026, 10, 13), "use-by was yesterday"),
            (ymd(2026, 10, 2), "use-by was 2 Oct"),
            (ymd(2026, 12, 1), "use by 1 Dec"),
            (ymd(2027, 1, 14), "use by 14 Jan 2027"),
        ] {
            assert_eq!(use_by(date, today), said);
        }
        assert_eq!(day(today), "Wed 14 Oct");
    }

    #[test]
    fn days_on_the_board_are_those_of_the_calendar() {
        let today = ymd(2026, 10, 14);
        for (date, said) in [
            (ymd(2026, 10, 14), "Wed 14 Oct"),
            (ymd(2026, 10, 20), "Tue 20 Oct"),
            (ymd(2026, 10, 21), "21 Oct"),
            (ymd(2027, 1, 14), "14 Jan"),
            (ymd(2027, 10, 14), "14 Oct 2027"),
            (ymd(2026, 10, 2), "2 Oct"),
        ] {
            assert_eq!(calendar_day(date, today), said);
        }
    }
}
