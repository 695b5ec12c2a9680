//! Hot food that stands where it is not cold, or of which nobody told a place: when it is time to put it away, before it
//! has stood there for two hours (the two-hour rule of FSIS). Derived from what stands where, so that whatever moves it,
//! finishes it or takes it back leaves nothing to be told.

use std::collections::BTreeSet;

use chrono::{DateTime, Duration, NaiveTime, Utc};

use super::super::batch::Batch;
use super::super::kitchen::{Kitchen, PlaceKind};
use super::super::origin::Origin;
use super::due::CameTo;

/// So long after it was weighed it is time.
const TIME: Duration = Duration::minutes(90);
/// So long after that the two hours are over, which is said as well.
const HELPS: Duration = Duration::minutes(30);

/// A pot that was just cooked and stands where it is not cold.
#[derive(Debug, Clone, PartialEq)]
pub struct HotPot {
    /// What its batch is called in the chat: a code is given once.
    pub code: String,
    pub due_at: DateTime<Utc>,
    /// It was told to stand where it is not cold; else nobody told where it is.
    pub told: bool,
}

impl HotPot {
    /// When the two hours are over.
    pub fn by(&self) -> DateTime<Utc> {
        self.due_at + HELPS
    }
}

impl Kitchen {
    /// The pots of the last hours that stand so, unless the household wants no such notes.
    pub fn hot_pots(&self, now: DateTime<Utc>) -> Vec<HotPot> {
        let wanted = self.settings().clock.put_away;
        let pots = self.open_batches().filter_map(|batch| {
            let weighed = batch.weighings.first()?.occurred_at;
            let told = self.is_warm(batch);
            let open = || batch.made_on == self.day_of(weighed) && self.may_be_out(batch);
            (wanted && (told || open())).then(|| HotPot {
                code: batch.code.clone(),
                due_at: weighed + TIME,
                told,
            })
        });
        pots.filter(|pot| now - pot.due_at <= TIME).collect()
    }

    /// When the next of them has to be told of, if none is due before.
    pub fn next_put_away(&self, now: DateTime<Utc>) -> Option<DateTime<Utc>> {
        let pots = self.hot_pots(now).into_iter();
        pots.map(|pot| pot.due_at)
            .filter(|due_at| *due_at > now)
            .min()
    }

    /// Cooked, and told to stand where it is not cold, since it came off the stove.
    fn is_warm(&self, batch: &Batch) -> bool {
        let cooked = batch.origin == Origin::Cooked && !batch.raw;
        let mut lots = batch.lots.iter();
        cooked
            && lots.any(|lot| {
                let place = lot.place.and_then(|id| self.place(id));
                let warm = place.is_some_and(|place| place.kind() == PlaceKind::Counter);
                warm && lot.came_from.is_none() && lot.balance > batch.crumbs()
            })
    }

    /// Cooked, to be kept in the cold, and nothing was told of where what is left in the pot stands.
    fn may_be_out(&self, batch: &Batch) -> bool {
        let cooked = batch.origin == Origin::Cooked && !batch.raw;
        let mut lots = batch.lots.iter();
        cooked
            && lots.any(|lot| {
                let in_the_pot = lot.came_from.is_none() && lot.place.is_none();
                let held = in_the_pot && lot.balance > batch.crumbs();
                held && self.use_by(batch, lot).is_some()
            })
    }

    /// The pots of which it is time now and nothing was said, with what comes of each.
    pub fn to_put_away(
        &self,
        said: &BTreeSet<String>,
        now: DateTime<Utc>,
    ) -> Vec<(HotPot, CameTo)> {
        let pots = self.hot_pots(now).into_iter();
        let due = pots.filter(|pot| pot.due_at <= now && !said.contains(&pot.code));
        due.map(|pot| {
            let came_to = self.comes_to(&pot, now);
            (pot, came_to)
        })
        .collect()
    }

    fn comes_to(&self, pot: &HotPot, now: DateTime<Utc>) -> CameTo {
        let settings = self.settings();
        let wall = |moment: DateTime<Utc>| moment.with_timezone(&settings.zone).naive_local();
        let quiet = |moment| settings.clock.is_quiet(wall(moment).time());
        match () {
            () if self.is_empty_on(wall(pot.due_at).date()) => CameTo::Away,
            () if quiet(pot.due_at) || quiet(now) => CameTo::Nothing,
            () => CameTo::Said,
        }
    }
}

impl super::occurrence::ClockSettings {
    /// The time is within the quiet hours.
    pub fn is_quiet(&self, time: NaiveTime) -> bool {
        self.quiet.is_some_and(|(from, to)| match from <= to {
            true => (from..to).contains(&time),
            false => time >= from || time < to,
        })
    }
}
