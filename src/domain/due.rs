//! Until when what stands in a lot may be eaten: what it is, what it has been through, and what went in.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, Days, NaiveDate, NaiveTime, TimeDelta, Utc};

use super::batch::{Batch, Line, Lot};
use super::clock::ahead::instant;
use super::ids::{AccountId, BatchId, ComponentId};
use super::keeping::clock::{self, Allowed, Stay, UseBy, Why};
use super::keeping::{Counting, Keeps, Kind, Storage, chart, kind};
use super::kitchen::{Kitchen, OwnDays, PlaceKind};
use super::origin::Origin;
use crate::foods::{self, Food};

impl Kitchen {
    /// The household's day of a moment.
    pub fn day_of(&self, moment: DateTime<Utc>) -> NaiveDate {
        let settings = self.settings();
        let turned = settings.day_turns - NaiveTime::MIN;
        (moment.with_timezone(&settings.zone).naive_local() - turned).date()
    }

    /// The moment at which a day of the household ends.
    pub fn end_of(&self, day: NaiveDate) -> DateTime<Utc> {
        let settings = self.settings();
        let turns = (day + Days::new(1)).and_time(settings.day_turns);
        instant(settings.zone, turns)
    }

    /// When a lot would be due if it were frozen on a day. `None`: it is not for the freezer, or nobody says.
    pub fn due_if_frozen(&self, batch: &Batch, lot: &Lot, from: NaiveDate) -> Option<NaiveDate> {
        self.allowed(batch, lot).freezer?;
        self.due_if(batch, lot, (from, true))
    }

    /// When a lot would be due if it were frozen, or thawed, on a day.
    pub fn due_if(
        &self,
        batch: &Batch,
        lot: &Lot,
        (from, frozen): (NaiveDate, bool),
    ) -> Option<NaiveDate> {
        let mut stays = self.stays(batch, lot, None);
        stays.push(cold(frozen, from));
        clock::use_by(batch.made_on, &stays, &self.allowed(batch, lot)).map(|due| due.on)
    }

    /// When a lot is due. `None`: no chart and nobody says.
    pub fn use_by(&self, batch: &Batch, lot: &Lot) -> Option<UseBy> {
        let stays = self.stays(batch, lot, None);
        let due = clock::use_by(batch.made_on, &stays, &self.allowed(batch, lot))?;
        Some(match (batch.origin, due.why) {
            (Origin::Bought, Why::Made(keeps)) => UseBy {
                why: Why::Bought(keeps),
                ..due
            },
            _ => due,
        })
    }

    /// For putting in order: what has no date keeps longest.
    pub fn due_on(&self, batch: &Batch, lot: &Lot) -> NaiveDate {
        self.use_by(batch, lot).map_or(NaiveDate::MAX, |due| due.on)
    }

    /// It stands in a freezer.
    pub fn is_frozen(&self, lot: &Lot) -> bool {
        self.stands_in(lot) == Some(PlaceKind::Freezer)
    }

    /// Since when it has been frozen, from one freezer to another.
    pub fn frozen_on(&self, batch: &Batch, lot: &Lot) -> Option<NaiveDate> {
        let mut journey = self.journey(batch, lot);
        let frozen = journey.by_ref().take_while(|lot| self.is_frozen(lot));
        let first = frozen.last()?;
        Some(first.since.unwrap_or(batch.made_on))
    }

    /// It stands where it is not cold.
    pub fn stands_warm(&self, lot: &Lot) -> bool {
        self.stands_in(lot) == Some(PlaceKind::Counter)
    }

    /// How cold it is where it stands; `None`: nobody said where that is.
    fn stands_in(&self, lot: &Lot) -> Option<PlaceKind> {
        let place = lot.place.and_then(|id| self.place(id))?;
        Some(place.kind())
    }

    /// The lots of these batches, in the order in which they are drawn: what stands ready before what is frozen,
    /// and of each batch what is due first.
    pub fn in_turn(&self, batches: &[BatchId]) -> Vec<(BatchId, &Lot)> {
        let mut lots = Vec::new();
        for id in batches {
            let batch = self.batch(*id);
            let mut own: Vec<&Lot> = batch.lots.iter().collect();
            own.sort_by_cached_key(|lot| self.due_on(batch, lot));
            lots.extend(own.into_iter().map(|lot| (*id, lot)));
        }
        lots.sort_by_key(|(_, lot)| self.is_frozen(lot));
        lots
    }

    /// A lot and those that it was moved out of, the newest first.
    fn journey<'a>(&self, batch: &'a Batch, lot: &'a Lot) -> impl Iterator<Item = &'a Lot> {
        std::iter::successors(Some(lot), move |lot| {
            // A lot comes from an older one, so the way back has an end.
            let before = lot.came_from.filter(|before| *before < lot.id);
            before.and_then(|before| batch.lot(before))
        })
    }

    /// It stood where it is not cold for longer than food may, before it came here.
    pub fn stood_out(&self, batch: &Batch, lot: &Lot) -> bool {
        let stays = self.stays(batch, lot, None);
        stays.iter().any(|stay| stay.too_long)
    }

    /// What a lot has been through, oldest first, up to a moment if that is told.
    fn stays(&self, batch: &Batch, lot: &Lot, until: Option<DateTime<Utc>>) -> Vec<Stay> {
        let mut journey: Vec<&Lot> = self.journey(batch, lot).collect();
        journey.reverse();
        let left = journey.iter().skip(1).map(|next| next.opened_at());
        let ends: Vec<Option<DateTime<Utc>>> = left.chain([until]).collect();
        let mut out = TimeDelta::zero();
        let stay = |(lot, end): (&&Lot, Option<DateTime<Utc>>)| {
            let warm = self.stands_warm(lot);
            let span = came_at(batch, lot).zip(end).filter(|_| warm);
            out += span.map_or(TimeDelta::zero(), |(from, to)| to - from);
            Stay {
                frozen: self.is_frozen(lot),
                warm,
                too_long: warm && out > OUT_MOST,
                from: lot.since.unwrap_or(batch.made_on),
            }
        };
        journey.iter().zip(ends).map(stay).collect()
    }

    /// What the charts, the household and the packet allow a lot.
    fn allowed(&self, batch: &Batch, lot: &Lot) -> Allowed {
        self.allowed_with(batch, lot, &mut Known::new())
    }

    /// The same, of every lot once: many pots may have been topped up from one.
    fn allowed_with(&self, batch: &Batch, lot: &Lot, known: &mut Known) -> Allowed {
        if let Some(allowed) = known.get(&lot.id) {
            return *allowed;
        }
        let (mut of_sources, mut again) = (None, None);
        for line in &batch.lines {
            let (thawed, frozen) = self.source_due(batch, line, known);
            of_sources = earlier(of_sources, thawed);
            again = earlier(again, frozen);
        }
        let kinds = self.kinds(batch);
        let region = self.settings().guidance;
        let keeps = |storage| self.keeps_as(batch.component, &kinds, storage);
        let dated = self.is_dated(batch);
        // Of what is of any age, only what was frozen or thawed since has a clock.
        let begins_frozen = self
            .stays(batch, lot, None)
            .first()
            .is_some_and(|stay| stay.frozen);
        let told = self.told(batch, lot, false);
        let told = told.map(|on| {
            (
                on,
                Why::Told {
                    opened: is_opened(batch),
                },
            )
        });
        let of_sources = of_sources.map(|on| (on, Why::Ingredient));
        // Thawed food keeps no longer than leftovers, whatever it is.
        let thawed = || chart::keeps(&[Kind::Leftovers], Storage::Thawed, region);
        let allowed = Allowed {
            fridge: keeps(Storage::Fridge).filter(|_| dated),
            thawed: keeps(Storage::Thawed).or_else(thawed),
            freezer: keeps(Storage::Freezer).filter(|_| dated || !begins_frozen),
            counting: Counting::FromTheDayAfter,
            at_the_latest: told.into_iter().chain(of_sources).min_by_key(|(on, _)| *on),
            told_frozen: self.told(batch, lot, true),
            frozen_at_the_latest: again,
        };
        known.insert(lot.id, allowed);
        allowed
    }

    /// How long a pot like this one keeps, by the household or by the chart.
    pub fn keeps_of(&self, batch: &Batch, storage: Storage) -> Option<Keeps> {
        self.keeps_as(batch.component, &self.kinds(batch), storage)
    }

    fn keeps_as(&self, component: ComponentId, kinds: &[Kind], storage: Storage) -> Option<Keeps> {
        let own = self.own_keeps(component, storage);
        own.or_else(|| chart::keeps(kinds, storage, self.settings().guidance))
    }

    /// The household's own time for a component.
    pub fn own_keeps(&self, component: ComponentId, storage: Storage) -> Option<Keeps> {
        let of_it = |own: &&OwnDays| own.component == component && own.storage == storage;
        let own = self.own_days.iter().rev().map(|(_, own)| own).find(of_it)?;
        Some(Keeps::as_set(own.keeps?))
    }

    /// The date that was told of a lot, or of one that it was moved out of: as it lay in the freezer, or before.
    fn told(&self, batch: &Batch, lot: &Lot, frozen: bool) -> Option<NaiveDate> {
        let told = self
            .journey(batch, lot)
            .filter(|lot| self.is_frozen(lot) == frozen);
        told.filter_map(Lot::told).min()
    }

    /// Since when it stands is known, of it and of all that it was mixed from.
    fn is_dated(&self, batch: &Batch) -> bool {
        let mut waiting = vec![batch];
        let mut seen = BTreeSet::from([batch.id]);
        while let Some(batch) = waiting.pop() {
            if !batch.dated {
                return false;
            }
            let mixed = batch.lines.iter().filter(|_| batch.origin.is_of_others());
            let sources = mixed.filter_map(|line| self.batches.get(&line.source?));
            waiting.extend(sources.filter(|source| seen.insert(source.id)));
        }
        true
    }

    /// What it is. A pot cooks what goes into it; what is only mixed stays what it was.
    pub fn kinds(&self, batch: &Batch) -> Vec<Kind> {
        let mut kinds = Vec::new();
        let mut waiting = vec![batch];
        let mut seen = BTreeSet::from([batch.id]);
        while let Some(batch) = waiting.pop() {
            let mixed = batch.origin.is_of_others();
            let mut foods = Vec::new();
            self.add_foods(batch, !mixed, &mut foods);
            kinds.extend(match batch.origin {
                Origin::Bought => kind::bought(&foods),
                _ => kind::kinds(&batch.name, batch.raw, &foods),
            });
            if mixed {
                // Plain food beside it may be raw as well as cooked.
                kinds.extend(kind::kinds(&batch.name, !batch.raw, &foods));
                let sources = batch.lines.iter().filter_map(|line| line.source);
                let sources = sources.filter_map(|id| self.batches.get(&id));
                waiting.extend(sources.filter(|source| seen.insert(source.id)));
            }
        }
        if kinds.contains(&Kind::Pickle) && self.is_thinned(batch) {
            kinds.retain(|kind| *kind != Kind::Pickle);
            kinds.push(Kind::Leftovers);
        }
        kinds.sort();
        kinds.dedup();
        kinds
    }

    /// A brine that water was added to is no brine any more.
    fn is_thinned(&self, batch: &Batch) -> bool {
        let mut thinned = false;
        let mut waiting = vec![batch];
        let mut seen = BTreeSet::from([batch.id]);
        while let Some(batch) = waiting.pop() {
            let mut own = Vec::new();
            self.add_foods(batch, false, &mut own);
            let water = own.into_iter().any(kind::is_water);
            thinned |= batch.origin.is_of_others() && water;
            let sources = batch.lines.iter().filter_map(|line| line.source);
            let sources = sources.filter_map(|id| self.batches.get(&id));
            waiting.extend(sources.filter(|source| seen.insert(source.id)));
        }
        thinned
    }

    fn add_foods(&self, batch: &Batch, deep: bool, foods: &mut Vec<&'static Food>) {
        for line in &batch.lines {
            let profile = line.profile.and_then(|id| self.profiles.get(&id));
            let code = profile.and_then(|profile| profile.food);
            foods.extend(code.and_then(|code| foods::table().get(code)));
            let source = line.source.and_then(|id| self.batches.get(&id));
            if let Some(source) = source.filter(|_| deep) {
                self.add_foods(source, deep, foods);
            }
        }
    }

    /// When the lot that a line was drawn from is due in the pot: thawed, since what goes into a pot is, and, if it
    /// was frozen before, frozen again.
    fn source_due(&self, batch: &Batch, line: &Line, known: &mut Known) -> (Due, Due) {
        let source = line.source.and_then(|id| self.batches.get(&id));
        // The date of raw food ends in the pot.
        let lasts = |source: &&Batch| source.origin != Origin::Bought || batch.is_put_together();
        let lot = |source| Some((source, Batch::lot_of(source, line.from)?));
        let Some((source, lot)) = source.filter(lasts).and_then(lot) else {
            return (None, None);
        };
        let allowed = self.allowed_with(source, lot, known);
        let mut stays = self.stays(source, lot, Some(line.occurred_at));
        let was_frozen = stays.iter().any(|stay| stay.frozen);
        let from = self.day_of(line.occurred_at);
        let mut due = |frozen| {
            stays.push(cold(frozen, from));
            clock::use_by(source.made_on, &stays, &allowed).map(|due| due.on)
        };
        let (thawed, frozen) = (due(false), due(true));
        let again = was_frozen || allowed.frozen_at_the_latest.is_some();
        (thawed, frozen.filter(|_| again))
    }
}

/// So long in all may food stand where it is not cold (the two-hour rule of FSIS; FSANZ adds the times up).
const OUT_MOST: TimeDelta = TimeDelta::hours(2);

/// When a lot came to stand where it is. A pot is on the stove until it is weighed, if it ever is.
fn came_at(batch: &Batch, lot: &Lot) -> Option<DateTime<Utc>> {
    let cooked = batch.origin == Origin::Cooked && !batch.raw;
    match lot.came_from {
        None if cooked => batch.weighed_at().or_else(|| lot.opened_at()),
        _ => lot.opened_at(),
    }
}

/// In the fridge, or the freezer, from a day on.
fn cold(frozen: bool, from: NaiveDate) -> Stay {
    Stay {
        frozen,
        warm: false,
        too_long: false,
        from,
    }
}

type Due = Option<NaiveDate>;

/// What the lots are allowed that were looked at already.
type Known = BTreeMap<AccountId, Allowed>;

fn earlier(one: Due, other: Due) -> Due {
    match (one, other) {
        (Some(one), Some(other)) => Some(one.min(other)),
        (one, other) => one.or(other),
    }
}

/// Something was taken out of it.
fn is_opened(batch: &Batch) -> bool {
    batch.drawn().mg() > 0
}
