//! When the notes of a household fall due. They go by the dates of its wall clock, one a date, whatever the zone does:
//! an hour that the clock leaps over is due right after the leap, one that comes twice when it first comes. What falls
//! into the quiet hours is due at their end.

use chrono::{DateTime, Days, Duration, NaiveDate, NaiveTime, Utc};
use chrono_tz::Tz;

use super::ahead::instant;
use super::prep_day::PrepDay;

/// What a household is told of its own accord.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NoteKind {
    /// On the day on which it cooks for the days to come.
    Prep,
    /// What is due today or tomorrow.
    Morning,
    /// What is to be taken out of the freezer for tomorrow.
    Evening,
}

impl NoteKind {
    pub const ALL: [Self; 3] = [Self::Prep, Self::Morning, Self::Evening];

    /// What a note is called by that somebody put off.
    pub fn name(self) -> &'static str {
        match self {
            Self::Prep => "prep message",
            Self::Morning => "morning note",
            Self::Evening => "evening note",
        }
    }
}

/// When, as the household has chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ClockSettings {
    pub prep: Option<PrepDay>,
    /// It is told of then; the plan goes by the day either way.
    pub prep_told: bool,
    pub morning: Option<NaiveTime>,
    pub evening: Option<NaiveTime>,
    /// From one hour to another, over midnight or not.
    pub quiet: Option<(NaiveTime, NaiveTime)>,
    /// That it is time to put hot food away.
    pub put_away: bool,
}

const fn hour(hour: u32) -> NaiveTime {
    NaiveTime::from_hms_opt(hour, 0, 0).expect("an hour of the day")
}

impl Default for ClockSettings {
    fn default() -> Self {
        Self {
            prep: None,
            prep_told: true,
            morning: Some(hour(8)),
            evening: Some(hour(19)),
            quiet: Some((hour(22), hour(7))),
            put_away: true,
        }
    }
}

/// A note on a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Occurrence {
    pub due_at: DateTime<Utc>,
    pub kind: NoteKind,
    /// The local date that it is for.
    pub on: NaiveDate,
}

/// Further ahead than two weeks no note is due.
const AHEAD_DAYS: u64 = 15;

impl ClockSettings {
    /// The note of this kind on a date, if there is one.
    pub fn on(&self, kind: NoteKind, on: NaiveDate, zone: Tz) -> Option<Occurrence> {
        let time = match kind {
            NoteKind::Prep => {
                let prep = self.prep.filter(|_| self.prep_told)?;
                prep.is_on(on).then_some(prep.at)?
            }
            NoteKind::Morning => self.morning?,
            NoteKind::Evening => self.evening?,
        };
        let (day, time) = self.after_quiet(on, time);
        let due_at = instant(zone, day.and_time(time));
        Some(Occurrence { due_at, kind, on })
    }

    /// The end of the quiet hours, if the time is within them.
    pub(super) fn after_quiet(&self, on: NaiveDate, time: NaiveTime) -> (NaiveDate, NaiveTime) {
        let Some((from, to)) = self.quiet else {
            return (on, time);
        };
        let next = on + Days::new(1);
        match from <= to {
            true if (from..to).contains(&time) => (on, to),
            false if time >= from => (next, to),
            false if time < to => (on, to),
            _ => (on, time),
        }
    }

    /// The first that falls due after a moment and is for a later date than the last one, if there was one.
    pub fn next(
        &self,
        kind: NoteKind,
        zone: Tz,
        after: DateTime<Utc>,
        last: Option<NaiveDate>,
    ) -> Option<Occurrence> {
        let first = first_date(zone, after, last);
        let dates = first.iter_days().take(AHEAD_DAYS as usize + 2);
        let mut notes = dates.filter_map(|on| self.on(kind, on, zone));
        notes.find(|note| note.due_at > after)
    }

    /// All that has fallen due after a moment, up to now, and is for later dates than the last one.
    pub fn owed(
        &self,
        kind: NoteKind,
        zone: Tz,
        (after, now): (DateTime<Utc>, DateTime<Utc>),
        last: Option<NaiveDate>,
    ) -> Vec<Occurrence> {
        let end = now.with_timezone(&zone).date_naive();
        let dates = first_date(zone, after, last)
            .iter_days()
            .take_while(|on| *on <= end);
        let notes = dates.filter_map(|on| self.on(kind, on, zone));
        notes
            .filter(|note| note.due_at > after && note.due_at <= now)
            .collect()
    }
}

/// No earlier date has a note that falls due after the moment: quiet hours put one off by less than a day.
fn first_date(zone: Tz, after: DateTime<Utc>, last: Option<NaiveDate>) -> NaiveDate {
    let early = (after - Duration::days(1))
        .with_timezone(&zone)
        .date_naive();
    last.and_then(|last| last.succ_opt())
        .map_or(early, |next| next.max(early))
}

#[cfg(test)]
mod tests {
    use super::*;

    const DUBLIN: Tz = Tz::Europe__Dublin;

    fn date(year: i32, month: u32, day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(year, month, day).expect("a date")
    }

    fn at(text: &str) -> DateTime<Utc> {
        text.parse().expect("a moment")
    }

    fn morning(hour: u32, minute: u32) -> ClockSettings {
        ClockSettings {
            morning: NaiveTime::from_hms_opt(hour, minute, 0),
            quiet: None,
            ..ClockSettings::default()
        }
    }

    /// Moments of a note on three dates, in UTC.
    #[track_caller]
    fn falls(zone: Tz, settings: ClockSettings, first: NaiveDate, expected: [&str; 3]) {
        let dates = first.iter_days().take(3);
        let moments = dates.filter_map(|on| settings.on(NoteKind::Morning, on, zone));
        let moments: Vec<String> = moments
            .map(|note| note.due_at.format("%d %H:%M").to_string())
            .collect();
        assert_eq!(moments, expected, "{zone}");
    }

    /// The zones' rules are from memory: Dublin changes at 01:00 UTC on the last Sundays of March and October, New York at
    /// 02:00 local on the second Sunday of March and the first of November, Lord Howe at 02:00 local on the first Sundays of
    /// April and October by half an hour, Tokyo never.
    #[test]
    fn one_a_date_over_every_change_of_the_clocks() {
        let eight = morning(8, 0);
        falls(
            DUBLIN,
            eight,
            date(2026, 3, 28),
            ["28 08:00", "29 07:00", "30 07:00"],
        );
        falls(
            DUBLIN,
            eight,
            date(2026, 10, 24),
            ["24 07:00", "25 08:00", "26 08:00"],
        );
        let new_york = Tz::America__New_York;
        falls(
            new_york,
            eight,
            date(2026, 3, 7),
            ["07 13:00", "08 12:00", "09 12:00"],
        );
        falls(
            new_york,
            eight,
            date(2026, 10, 31),
            ["31 12:00", "01 13:00", "02 13:00"],
        );
        let lord_howe = Tz::Australia__Lord_Howe;
        falls(
            lord_howe,
            eight,
            date(2026, 4, 4),
            ["03 21:00", "04 21:30", "05 21:30"],
        );
        falls(
            lord_howe,
            eight,
            date(2026, 10, 3),
            ["02 21:30", "03 21:00", "04 21:00"],
        );
        let tokyo = Tz::Asia__Tokyo;
        falls(
            tokyo,
            eight,
            date(2026, 3, 28),
            ["27 23:00", "28 23:00", "29 23:00"],
        );
        // In the gap it is due at its end, in the overlap when it first comes.
        falls(
            DUBLIN,
            morning(1, 30),
            date(2026, 3, 28),
            ["28 01:30", "29 01:00", "30 00:30"],
        );
        falls(
            DUBLIN,
            morning(1, 30),
            date(2026, 10, 24),
            ["24 00:30", "25 00:30", "26 01:30"],
        );
        falls(
            new_york,
            morning(2, 30),
            date(2026, 3, 7),
            ["07 07:30", "08 07:00", "09 06:30"],
        );
        // A leap day is a day.
        falls(
            tokyo,
            eight,
            date(2028, 2, 28),
            ["27 23:00", "28 23:00", "29 23:00"],
        );
    }

    #[test]
    fn quiet_hours_hold_a_note_back_to_their_end() {
        let quiet = |from, to| Some((hour(from), hour(to)));
        let early = ClockSettings {
            quiet: quiet(22, 7),
            ..morning(6, 30)
        };
        falls(
            Tz::UTC,
            early,
            date(2026, 10, 14),
            ["14 07:00", "15 07:00", "16 07:00"],
        );
        let late = ClockSettings {
            quiet: quiet(22, 7),
            ..morning(22, 0)
        };
        falls(
            Tz::UTC,
            late,
            date(2026, 10, 14),
            ["15 07:00", "16 07:00", "17 07:00"],
        );
        let noon = ClockSettings {
            quiet: quiet(12, 14),
            ..morning(12, 30)
        };
        falls(
            Tz::UTC,
            noon,
            date(2026, 10, 14),
            ["14 14:00", "15 14:00", "16 14:00"],
        );
        let end = ClockSettings {
            quiet: quiet(22, 7),
            ..morning(7, 0)
        };
        falls(
            Tz::UTC,
            end,
            date(2026, 10, 14),
            ["14 07:00", "15 07:00", "16 07:00"],
        );
    }

    #[test]
    fn a_prep_day_comes_once_a_week() {
        let settings = ClockSettings {
            prep: Some(PrepDay::weekly(6, hour(10))),
            ..ClockSettings::default()
        };
        let since = at("2026-10-13T00:00:00Z");
        let next = |after| settings.next(NoteKind::Prep, DUBLIN, after, None);
        let first = next(since).expect("a Sunday comes");
        assert_eq!(
            (first.on, first.due_at),
            (date(2026, 10, 18), at("2026-10-18T09:00:00Z"))
        );
        let second = next(first.due_at).expect("and another");
        assert_eq!(
            (second.on, second.due_at),
            (date(2026, 10, 25), at("2026-10-25T10:00:00Z"))
        );
        let untold = ClockSettings {
            prep_told: false,
            ..settings
        };
        assert_eq!(untold.next(NoteKind::Prep, DUBLIN, since, None), None);
        let off = ClockSettings {
            prep: None,
            ..settings
        };
        assert_eq!(off.next(NoteKind::Prep, DUBLIN, since, None), None);
    }

    #[test]
    fn what_was_said_for_a_date_is_not_owed_again_at_another_hour() {
        let (since, now) = (at("2026-10-13T00:00:00Z"), at("2026-10-15T12:00:00Z"));
        let last = Some(date(2026, 10, 14));
        let owed = morning(9, 0).owed(NoteKind::Morning, DUBLIN, (since, now), last);
        let dates: Vec<NaiveDate> = owed.iter().map(|note| note.on).collect();
        assert_eq!(dates, [date(2026, 10, 15)]);
    }

    mod properties {
        use proptest::prelude::*;

        use super::*;

        const ZONES: [Tz; 5] = [
            Tz::Europe__Dublin,
            Tz::America__New_York,
            Tz::Australia__Lord_Howe,
            Tz::Asia__Tokyo,
            Tz::Pacific__Chatham,
        ];

        fn settings() -> impl Strategy<Value = ClockSettings> {
            let time = || {
                (0_u32..24, 0_u32..60).prop_map(|(hour, minute)| {
                    NaiveTime::from_hms_opt(hour, minute, 0).expect("a time of day")
                })
            };
            let every_other = proptest::option::of((1_u32..29).prop_map(|day| date(2026, 3, day)));
            let prep = (0_u8..7, time(), every_other).prop_map(|(weekday, at, every_other)| {
                // Its first date is on its weekday.
                let first = |near| PrepDay::weekly(weekday, at).from(near);
                PrepDay {
                    every_other: every_other.map(first),
                    ..PrepDay::weekly(weekday, at)
                }
            });
            let prep = proptest::option::of(prep);
            let quiet = proptest::option::of((time(), time()));
            (prep, time(), time(), quiet).prop_map(|(prep, morning, evening, quiet)| {
                ClockSettings {
                    put_away: true,
                    prep_told: true,
                    prep,
                    morning: Some(morning),
                    evening: Some(evening),
                    quiet,
                }
            })
        }

        proptest! {
            #[test]
            fn notes_rise_and_what_is_owed_is_what_comes_next(
                settings in settings(),
                zone in 0_usize..5,
                hours in 0_i64..20_000,
                span in 1_i64..1000,
            ) {
                let zone = ZONES[zone];
                let since = at("2026-01-01T00:00:00Z") + Duration::hours(hours);
                let now = since + Duration::hours(span);
                for kind in NoteKind::ALL {
                    let owed = settings.owed(kind, zone, (since, now), None);
                    let mut folded = Vec::new();
                    let (mut after, mut last) = (since, None);
                    while let Some(note) = settings.next(kind, zone, after, last) {
                        if note.due_at > now {
                            break;
                        }
                        (after, last) = (note.due_at, Some(note.on));
                        folded.push(note);
                    }
                    prop_assert_eq!(&owed, &folded);
                    let rises = |pair: &[Occurrence]| {
                        pair[0].due_at < pair[1].due_at && pair[0].on < pair[1].on
                    };
                    prop_assert!(owed.windows(2).all(rises));
                    if kind == NoteKind::Morning {
                        let days = owed.windows(2).all(|pair| pair[0].on + Days::new(1) == pair[1].on);
                        prop_assert!(days);
                        let days = span / 24;
                        let counted = owed.len() as i64;
                        prop_assert!((counted - days).abs() <= 2);
                    }
                }
            }
        }
    }
}
