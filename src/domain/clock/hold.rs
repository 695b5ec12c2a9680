//! What is late waits for a better moment than the one at which the machine wakes: notes keep the quiet hours, and one of
//! an earlier day is said with the day's own of its kind, if that is still to come.

use chrono::{DateTime, NaiveTime, Utc};
use chrono_tz::Tz;

use super::super::kitchen::Kitchen;
use super::ahead::instant;
use super::occurrence::{ClockSettings, Occurrence};

/// Nobody is away for longer.
pub const AWAY_DAYS_MAX: usize = 400;

impl Kitchen {
    /// When somebody is at home again, while all are away.
    pub fn home_again(&self, now: DateTime<Utc>) -> Option<DateTime<Utc>> {
        let zone = self.settings().zone;
        let today = now.with_timezone(&zone).date_naive();
        let mut days = today.iter_days().take(AWAY_DAYS_MAX);
        let home = days.find(|day| !self.is_empty_on(*day));
        let home = home.filter(|day| *day > today)?;
        Some(instant(zone, home.and_time(NaiveTime::MIN)))
    }

    /// The note is of an earlier day, on which somebody was at home.
    pub fn is_left_over(&self, note: &Occurrence, now: DateTime<Utc>) -> bool {
        let today = now.with_timezone(&self.settings().zone).date_naive();
        note.on < today && !self.is_empty_on(note.on)
    }
}

impl ClockSettings {
    /// The end of the quiet hours, while they last.
    pub fn quiet_until(&self, zone: Tz, now: DateTime<Utc>) -> Option<DateTime<Utc>> {
        let here = now.with_timezone(&zone).naive_local();
        let (day, time) = self.after_quiet(here.date(), here.time());
        self.is_quiet(here.time())
            .then(|| instant(zone, day.and_time(time)))
            .filter(|end| *end > now)
    }

    /// The note is owed, and is said later; `until`: what falls due by then is said now.
    pub fn holds(
        &self,
        note: &Occurrence,
        zone: Tz,
        now: DateTime<Utc>,
        until: DateTime<Utc>,
    ) -> bool {
        let day = |moment: DateTime<Utc>| moment.with_timezone(&zone).date_naive();
        let own = || self.next(note.kind, zone, until, Some(note.on));
        self.quiet_until(zone, now).is_some()
            || own().is_some_and(|own| day(own.due_at) == day(now))
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveTime;

    use super::super::occurrence::NoteKind;
    use super::super::prep_day::PrepDay;
    use super::*;

    fn at(text: &str) -> DateTime<Utc> {
        text.parse().expect("a moment")
    }

    fn hour(hour: u32) -> NaiveTime {
        NaiveTime::from_hms_opt(hour, 0, 0).expect("an hour of the day")
    }

    #[test]
    fn what_is_late_waits_for_the_end_of_the_quiet_hours_and_for_the_own_of_the_day() {
        let settings = ClockSettings {
            prep: Some(PrepDay::weekly(6, hour(10))),
            quiet: Some((hour(22), hour(7))),
            ..ClockSettings::default()
        };
        let zone = Tz::Europe__Dublin;
        let holds = |kind, on: &str, now: &str| {
            let on = on.parse().expect("a date");
            let note = settings.on(kind, on, zone).expect("one is due");
            settings.holds(&note, zone, at(now), at(now))
        };
        // Tuesday's, looked at on Wednesday (an hour behind in UTC).
        let morning = |now| holds(NoteKind::Morning, "2026-10-13", now);
        assert!(morning("2026-10-13T21:30:00Z") && morning("2026-10-14T05:00:00Z"));
        assert!(morning("2026-10-14T06:59:00Z"));
        assert!(!morning("2026-10-14T07:00:00Z") && !morning("2026-10-13T20:00:00Z"));
        let prep = |now| holds(NoteKind::Prep, "2026-10-18", now);
        assert!(!prep("2026-10-24T12:00:00Z"));
        assert!(prep("2026-10-25T00:30:00Z") && prep("2026-10-25T09:59:00Z"));
        assert!(!prep("2026-10-25T10:00:00Z"));
        // The quiet hours end at seven of the new time.
        let end = settings.quiet_until(zone, at("2026-10-24T22:00:00Z"));
        assert_eq!(end, Some(at("2026-10-25T07:00:00Z")));
    }
}
