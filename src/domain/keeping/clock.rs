//! Dates along what a lot has been through: made, frozen, thawed, frozen again.
//!
//! The days that it spent unfrozen count against its fridge time; the freezer stops that clock and has a
//! longer one of its own; thawing gives what is left of the first, and never more than thawed food keeps.

use chrono::{NaiveDate, TimeDelta};

use super::chart::Keeps;

/// Whether the day that it was made on is a day of its keeping: at home it is day 0, under the Food Code's
/// date marking (3-501.17) day 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Counting {
    FromTheDayAfter,
    FromTheFirstDay,
}

/// It came to be kept so on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stay {
    pub frozen: bool,
    /// Not cold at all: on a counter, in a cupboard.
    pub warm: bool,
    /// Not cold for longer than food may stand so, with the times before.
    pub too_long: bool,
    pub from: NaiveDate,
}

/// What the charts, or the household itself, allow a lot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Allowed {
    /// Days in the fridge, from the day that it was made; `None`: no chart says, or nobody knows that day.
    pub fridge: Option<Keeps>,
    /// Days in the fridge once it was frozen; `None`: no more than what is left of the fridge time.
    pub thawed: Option<Keeps>,
    /// `None`: it is not for the freezer, and no date is given there.
    pub freezer: Option<Keeps>,
    pub counting: Counting,
    /// It is due on that day whatever the charts say, if it is never frozen, and why.
    pub at_the_latest: Option<(NaiveDate, Why)>,
    /// A date that was told of it as it lies in the freezer.
    pub told_frozen: Option<NaiveDate>,
    /// Something in it was frozen before, and is at its best until that day if it is frozen again.
    pub frozen_at_the_latest: Option<NaiveDate>,
}

/// Which clock gave the date.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// From the day that it was made.
    Made(Keeps),
    /// From the day that it was bought.
    Bought(Keeps),
    /// From thawing.
    Thawed(Keeps),
    /// What the days before the freezer left of the fridge time.
    LeftOver { days: i64, of: Keeps },
    /// In the freezer, since the first day there.
    Frozen(Keeps),
    /// The earliest date of what went in.
    Ingredient,
    /// It stands where it is not cold, or stood so overnight or for too long.
    Warm { still: bool },
    /// As printed on its packet, or told otherwise; it holds as long as nobody has opened it.
    Told { opened: bool },
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UseBy {
    pub on: NaiveDate,
    /// It is eaten first from this day on.
    pub first_on: NaiveDate,
    pub why: Why,
}

impl UseBy {
    fn on(day: NaiveDate, first_on: NaiveDate, why: Why) -> Self {
        Self {
            on: day,
            first_on: first_on.min(day),
            why,
        }
    }

    fn earlier(self, other: Self) -> Self {
        if other.on < self.on { other } else { self }
    }

    /// The earlier of what there is.
    fn earliest(dates: impl IntoIterator<Item = Option<Self>>) -> Option<Self> {
        dates.into_iter().flatten().reduce(Self::earlier)
    }
}

/// When it is due, by what it has been through since it was made. `None`: nothing says so.
pub fn use_by(made_on: NaiveDate, stays: &[Stay], allowed: &Allowed) -> Option<UseBy> {
    let mut clock = Clock {
        allowed,
        since: made_on,
        frozen: false,
        used_days: 0,
        thawed_days: None,
        first_frozen: None,
        over: None,
    };
    for stay in stays {
        clock.go(made_on, *stay);
    }
    UseBy::earliest([clock.reading(made_on), warm(stays, allowed)])
}

/// What is not cold is for that day, and what stood so for too long as well: what has fridge days by a chart, and not by
/// the household, which knows what it keeps in its cupboards.
fn warm(stays: &[Stay], allowed: &Allowed) -> Option<UseBy> {
    allowed.fridge.filter(|keeps| !keeps.is_set())?;
    let next = |at: usize| stays.get(at + 1).map(|next| next.from);
    let stood = stays.iter().enumerate().find(|(at, stay)| {
        let moved_on = next(*at).is_some_and(|next| next <= stay.from);
        stay.warm && (stay.too_long || !moved_on)
    });
    stood.map(|(at, stay)| {
        let still = next(at).is_none();
        UseBy::on(stay.from, stay.from, Why::Warm { still })
    })
}

/// What is left of the fridge time.
struct Left {
    on: NaiveDate,
    of: Keeps,
}

struct Clock<'a> {
    allowed: &'a Allowed,
    since: NaiveDate,
    frozen: bool,
    /// Days unfrozen before the last change.
    used_days: i64,
    /// Of them, days after a thaw.
    thawed_days: Option<i64>,
    first_frozen: Option<NaiveDate>,
    /// It was past its day when it was frozen: freezing gives no days back to what has none left.
    over: Option<UseBy>,
}

impl Clock<'_> {
    fn go(&mut self, made_on: NaiveDate, stay: Stay) {
        let from = stay.from.max(self.since);
        if stay.frozen == self.frozen {
            return;
        }
        if stay.frozen {
            let due = self.unfrozen(made_on).filter(|due| due.on < from);
            self.over = self.over.or(due);
            let least = i64::from(self.allowed.counting == Counting::FromTheFirstDay);
            let spent = (from - self.since).num_days().max(least);
            self.used_days += spent;
            self.thawed_days = self.thawed_days.map(|days| days + spent);
            self.first_frozen.get_or_insert(from);
        } else {
            self.thawed_days.get_or_insert(0);
        }
        self.since = from;
        self.frozen = stay.frozen;
    }

    fn reading(&self, made_on: NaiveDate) -> Option<UseBy> {
        let allowed = self.allowed;
        if self.over.is_some() {
            return self.over;
        }
        let Some(first) = self.first_frozen.filter(|_| self.frozen) else {
            return self.unfrozen(made_on);
        };
        let kept = allowed.freezer.map(|keeps| {
            let (on, first_on) = (keeps.until.from(first), keeps.first.from(first));
            UseBy::on(on, first_on, Why::Frozen(keeps))
        });
        let told = allowed.told_frozen;
        let told = told.map(|on| UseBy::on(on, on, Why::Told { opened: false }));
        let again = allowed.frozen_at_the_latest;
        let again = again.map(|on| UseBy::on(on, on, Why::Ingredient));
        UseBy::earliest([kept, told, again])
    }

    /// When it is due, had it stood unfrozen since the last change.
    fn unfrozen(&self, made_on: NaiveDate) -> Option<UseBy> {
        let allowed = self.allowed;
        let latest = |shift: TimeDelta| {
            let (on, why) = allowed.at_the_latest?;
            Some(UseBy::on(on + shift, on + shift, why))
        };
        let Some(thawed_days) = self.thawed_days else {
            let day_one = self.day_one();
            let made = allowed.fridge.map(|keeps| {
                let due = keeps.until.from(made_on) - day_one;
                UseBy::on(due, keeps.first.from(made_on) - day_one, Why::Made(keeps))
            });
            return UseBy::earliest([made, latest(TimeDelta::zero())]);
        };
        // The clock that stood still goes on from where it stood.
        let left = self.left().map(|Left { on, of }| {
            let days = (on - self.since).num_days().max(0);
            let shifted = self.since - TimeDelta::days(self.used_days);
            UseBy::on(on, of.first.from(shifted), Why::LeftOver { days, of })
        });
        let thawed = allowed.thawed.map(|keeps| {
            let from = self.since - TimeDelta::days(thawed_days);
            let on = keeps.until.from(from) - self.day_one();
            UseBy::on(on, keeps.first.from(from), Why::Thawed(keeps))
        });
        let spared = self.since - made_on - TimeDelta::days(self.used_days);
        UseBy::earliest([thawed, left, latest(spared)])
    }

    /// The day on which the fridge time ends, had it stayed unfrozen since the last change.
    fn left(&self) -> Option<Left> {
        let of = self.allowed.fridge?;
        let shifted = self.since - TimeDelta::days(self.used_days);
        let on = of.until.from(shifted) - self.day_one();
        Some(Left { on, of })
    }

    /// Under the Food Code the first day counts.
    fn day_one(&self) -> TimeDelta {
        TimeDelta::days(i64::from(
            self.allowed.counting == Counting::FromTheFirstDay,
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::super::chart::{REGIONS, Region, Span, Storage, keeps};
    use super::super::kind::Kind;
    use super::*;

    fn day(month: u32, day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, month, day).expect("a day of the calendar")
    }

    fn frozen(from: NaiveDate) -> Stay {
        Stay {
            frozen: true,
            warm: false,
            too_long: false,
            from,
        }
    }

    fn thawed(from: NaiveDate) -> Stay {
        Stay {
            frozen: false,
            warm: false,
            too_long: false,
            from,
        }
    }

    /// Food Code 3-501.17, in state adoptions: seven days at 5 C, the day of preparation is day 1.
    fn food_code() -> Allowed {
        let week = Keeps {
            until: Span::Days(7),
            first: Span::Days(7),
            source: "Food Code 3-501.17",
        };
        Allowed {
            fridge: Some(week),
            thawed: None,
            freezer: None,
            counting: Counting::FromTheFirstDay,
            at_the_latest: None,
            told_frozen: None,
            frozen_at_the_latest: None,
        }
    }

    fn at_home(kind: Kind, region: Region) -> Allowed {
        let keeps = |storage| keeps(&[kind], storage, region);
        Allowed {
            fridge: keeps(Storage::Fridge),
            thawed: keeps(Storage::Thawed),
            freezer: keeps(Storage::Freezer),
            counting: Counting::FromTheDayAfter,
            at_the_latest: None,
            told_frozen: None,
            frozen_at_the_latest: None,
        }
    }

    fn due(made: NaiveDate, stays: &[Stay], allowed: &Allowed) -> NaiveDate {
        use_by(made, stays, allowed).expect("it has a date").on
    }

    #[test]
    fn published_examples_of_date_marking() {
        let code = food_code();
        assert_eq!(due(day(4, 1), &[], &code), day(4, 7));
        let stays = [frozen(day(10, 3)), thawed(day(10, 10))];
        assert_eq!(due(day(10, 1), &stays, &code), day(10, 14));
        let stays = [frozen(day(7, 8)), thawed(day(8, 17))];
        assert_eq!(due(day(7, 8), &stays, &code), day(8, 22));
        // A dish made on 3 June from one of 1 June keeps the earliest date.
        let first = due(day(6, 1), &[], &code);
        let mixed = Allowed {
            at_the_latest: Some((first, Why::Ingredient)),
            ..code
        };
        assert_eq!(due(day(6, 3), &[], &mixed), day(6, 7));
    }

    #[test]
    fn freezing_stops_the_clock_and_thawing_starts_the_shorter_one() {
        let soup = at_home(Kind::Soup, Region::UnitedStates);
        let made = day(10, 14);
        let frozen_at_once = [frozen(made)];
        let date = use_by(made, &frozen_at_once, &soup).expect("a date");
        assert_eq!(
            (date.on.to_string(), date.first_on.to_string()),
            ("2027-01-14".into(), "2026-12-14".into())
        );
        // FSIS: thawed in the fridge 3 to 4 days.
        let stays = [frozen(made), thawed(day(11, 2))];
        let date = use_by(made, &stays, &soup).expect("a date");
        assert_eq!((date.on, date.first_on), (day(11, 6), day(11, 5)));
        assert!(matches!(date.why, Why::Thawed(keeps) if keeps.source == "FSIS"));
        // Three days were gone before it was frozen: one is left.
        let stays = [frozen(day(10, 17)), thawed(day(11, 2))];
        let date = use_by(made, &stays, &soup).expect("a date");
        assert_eq!(date.on, day(11, 3));
        assert!(matches!(date.why, Why::LeftOver { days: 1, .. }));
    }

    #[test]
    fn what_is_not_cold_is_for_that_day() {
        let soup = at_home(Kind::Soup, Region::UnitedStates);
        let warm = |from| Stay {
            warm: true,
            too_long: false,
            ..thawed(from)
        };
        let made = day(10, 14);
        assert_eq!(due(made, &[warm(day(10, 15))], &soup), day(10, 15));
        // It cooled there, and went into the fridge.
        let cooled = [warm(made), thawed(made)];
        assert_eq!(due(made, &cooled, &soup), day(10, 18));
        // It stood there overnight: neither fridge nor freezer give that back.
        let stood = [warm(made), thawed(day(10, 15)), frozen(day(10, 15))];
        assert_eq!(due(made, &stood, &soup), made);
        let own = Allowed {
            fridge: Some(Keeps::as_set(Span::Days(5))),
            ..soup
        };
        assert_eq!(due(made, &[warm(made)], &own), day(10, 19));
    }

    #[test]
    fn no_journey_is_due_later_than_its_days_unfrozen_allow() {
        let mut state = 7_u64;
        let mut next = |most: u64| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) % most
        };
        for _ in 0..20_000 {
            let region = REGIONS[next(3) as usize].0;
            let kind = Kind::ALL[next(12) as usize].0;
            let allowed = at_home(kind, region);
            let made = day(1, 1) + TimeDelta::days(next(200) as i64);
            let (mut stays, mut at, mut unfrozen) = (Vec::new(), made, 0);
            for turn in 0..next(6) {
                let spent = next(6) as i64;
                let is_frozen = turn % 2 == 0;
                unfrozen += if is_frozen { spent } else { 0 };
                at += TimeDelta::days(spent);
                stays.push(Stay {
                    frozen: is_frozen,
                    warm: false,
                    too_long: false,
                    from: at,
                });
            }
            let Some(date) = use_by(made, &stays, &allowed) else {
                continue;
            };
            // In the freezer it may stand for months, unless its days were over before.
            let frozen = stays.last().is_some_and(|stay| stay.frozen);
            if frozen && date.on >= at {
                continue;
            }
            let Some(Span::Days(fridge)) = allowed.fridge.map(|keeps| keeps.until) else {
                panic!("days")
            };
            let longest = at + TimeDelta::days(i64::from(fridge) - unfrozen);
            assert!(date.on <= longest, "{stays:?} {date:?}");
            assert!(date.first_on <= date.on);
        }
    }
}
