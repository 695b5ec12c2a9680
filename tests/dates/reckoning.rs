//! What the rules allow, reckoned from the journal: which pots are in a lot, and what each has been through. The
//! days are counted down one by one, and nothing of the domain's own clock is used.

use std::collections::HashMap;

use chrono::{DateTime, Days, Months, NaiveDate, TimeDelta, Utc};

use crate::home::Home;
use hobside::domain::batch::Batch;
use hobside::domain::ids::AccountId;
use hobside::domain::keeping::Region;
use hobside::domain::kitchen::PlaceKind;
use hobside::domain::ledger::{Account, Entry, EntryKind};
use hobside::domain::origin::Origin;

/// One cooked pot in a lot.
#[derive(Debug, Clone, PartialEq)]
pub struct Pot {
    made_on: NaiveDate,
    rules: Rules,
    /// From which day on it was frozen, or not.
    journey: Vec<(NaiveDate, bool)>,
    /// It went into another pot that was cooked: whoever freezes that has its freezer time.
    cooked_in: bool,
    /// How long it stood where it is not cold, in what it is in now, and the first day that is over by that.
    out: TimeDelta,
    over_on: Option<NaiveDate>,
}

/// Days in the fridge, days in it after a thaw, months in the freezer.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Rules {
    fridge_days: i64,
    thawed_days: i64,
    freezer_months: u32,
}

/// The published times of the dishes that are cooked here, by region: HHS cold food storage chart (soups and stews
/// 3-4 days, freezer 2-3 months); rice: UK FSA 1 day, NSW Food Authority and NZ MPI 2, US sources 3 at the shortest;
/// other leftovers: UK 2 days, NSW 3, US 3-4 (FSIS); thawed: FSIS 3-4 days, UK 1-2, NSW 1. Quick pickles 14 days and
/// leftovers 3 months in the freezer are common practice.
fn rules(name: &str, region: Region) -> Rules {
    let (us, uk) = (Region::UnitedStates, Region::UnitedKingdom);
    let by_region = |days: [i64; 3]| match region {
        _ if region == us => days[0],
        _ if region == uk => days[1],
        _ => days[2],
    };
    let leftovers = Rules {
        fridge_days: by_region([4, 2, 3]),
        thawed_days: by_region([4, 2, 1]),
        freezer_months: 3,
    };
    match name {
        "brown rice" => Rules {
            fridge_days: by_region([3, 1, 2]),
            thawed_days: by_region([3, 1, 1]),
            ..leftovers
        },
        "cucumber pickle" => Rules {
            fridge_days: 14,
            ..leftovers
        },
        _ => leftovers,
    }
}

impl Pot {
    pub fn was_thawed(&self) -> bool {
        let frozen = self.journey.iter().position(|(_, frozen)| *frozen);
        frozen.is_some_and(|at| self.journey[at..].iter().any(|(_, frozen)| !frozen))
    }

    pub fn stood_out(&self) -> bool {
        self.over_on.is_some()
    }

    pub fn was_frozen_again(&self) -> bool {
        let thawed = (0..self.journey.len()).find(|&at| {
            !self.journey[at].1 && self.journey[..at].iter().any(|(_, frozen)| *frozen)
        });
        thawed.is_some_and(|at| self.journey[at..].iter().any(|(_, frozen)| *frozen))
    }

    /// The last day on which it may be eaten, if it stays where it is now. `None`: it is frozen in a dish that has
    /// a time of its own there.
    fn due_on(&self) -> Option<NaiveDate> {
        let due = self.due_in_the_cold();
        due.into_iter().chain(self.over_on).min()
    }

    /// It stood where it is not cold from one moment to another: two hours in all, and not overnight (FSIS).
    fn stand_out(
        &mut self,
        (since, on): (DateTime<Utc>, NaiveDate),
        until: (DateTime<Utc>, NaiveDate),
    ) {
        self.out += until.0 - since;
        if self.out > TimeDelta::hours(2) || until.1 > on {
            self.over_on.get_or_insert(on);
        }
    }

    fn due_in_the_cold(&self) -> Option<NaiveDate> {
        let is_frozen = |day: NaiveDate| {
            let mut so_far = self.journey.iter().filter(|(from, _)| *from <= day);
            so_far.next_back().is_some_and(|(_, frozen)| *frozen)
        };
        let last_change = self.journey.last().map_or(self.made_on, |(day, _)| *day);
        let (mut fridge, mut thawed) = (self.rules.fridge_days, self.rules.thawed_days);
        let mut ever_frozen: Option<NaiveDate> = None;
        let mut day = self.made_on;
        // What was frozen and thawed on one day was frozen that day.
        let froze_on = |day: NaiveDate| {
            self.journey
                .iter()
                .any(|(on, frozen)| *frozen && *on == day)
        };
        loop {
            if froze_on(day) {
                ever_frozen.get_or_insert(day);
            }
            if day >= last_change && is_frozen(day) {
                let months = Months::new(self.rules.freezer_months);
                let before =
                    ever_frozen.is_some_and(|first| !self.cooked_in || self.frozen_before(first));
                return ever_frozen.filter(|_| before).map(|first| first + months);
            }
            let spent = !is_frozen(day);
            let over = fridge <= 0 || ever_frozen.is_some() && thawed <= 0;
            // On its last day it is still good, and past it nothing gives a day back.
            if spent && over {
                return Some(day);
            }
            if spent {
                fridge -= 1;
                thawed -= i64::from(ever_frozen.is_some());
            }
            day = day + Days::new(1);
        }
    }

    /// It was frozen before it went into the pot that it is in now.
    fn frozen_before(&self, first: NaiveDate) -> bool {
        let thaw = self.journey.iter().find(|(_, frozen)| !*frozen);
        thaw.is_some_and(|(day, _)| first < *day)
    }

    fn go(&mut self, day: NaiveDate, frozen: bool) {
        self.journey.push((day, frozen));
    }
}

/// What is in a lot.
#[derive(Debug, Clone, Default)]
pub struct Mixture {
    pub pots: Vec<Pot>,
    /// It is a pot as it was cooked, and nothing else.
    plain: bool,
}

impl Mixture {
    pub fn earliest(&self) -> Option<NaiveDate> {
        self.pots.iter().filter_map(Pot::due_on).min()
    }

    /// The day of what was cooked from no other pot and mixed with none.
    pub fn alone(&self) -> Option<NaiveDate> {
        match self.pots.as_slice() {
            [pot] if self.plain => pot.due_on(),
            _ => None,
        }
    }
}

/// Follow what stands in the journal, in its order.
pub fn lots(home: &Home) -> HashMap<AccountId, Mixture> {
    let reversals = |id| {
        home.journal
            .iter()
            .filter(move |(_, entry, _)| entry.root == Some(id))
    };
    // Where a lot came from is so, also when nothing that was moved there stays there.
    let moves = |entry: &Entry| matches!(entry.kind, EntryKind::Move | EntryKind::Batch);
    let stands = |entry: &Entry| {
        entry.root.is_none() && (moves(entry) || reversals(entry.id).count() % 2 == 0)
    };
    let entries = home.journal.iter().map(|(_, entry, _)| entry);
    let mut lots: HashMap<AccountId, Mixture> = HashMap::new();
    // Since when those stand that are where it is not cold.
    let mut out: HashMap<AccountId, (DateTime<Utc>, NaiveDate)> = HashMap::new();
    let taken = |lots: &HashMap<AccountId, Mixture>,
                 out: &HashMap<AccountId, (DateTime<Utc>, NaiveDate)>,
                 from: &AccountId,
                 until| {
        let mut taken = lots[from].clone();
        if let Some(since) = out.get(from) {
            taken
                .pots
                .iter_mut()
                .for_each(|pot| pot.stand_out(*since, until));
        }
        taken
    };
    for entry in entries.filter(|entry| stands(entry)) {
        match (entry.kind, entry.from, entry.to) {
            (EntryKind::Batch, _, Account::Lot(pot)) => {
                let batch = of_lot(home, pot);
                lots.insert(pot, opened(home, batch, pot));
            }
            (EntryKind::Move, Account::Lot(from), Account::Lot(to)) => {
                let day = home.kitchen.day_of(entry.occurred_at);
                let mut moved = taken(&lots, &out, &from, (entry.occurred_at, day));
                if stands_in(home, to, PlaceKind::Counter) {
                    out.insert(to, (entry.occurred_at, day));
                }
                let frozen = is_frozen(home, to);
                moved.pots.iter_mut().for_each(|pot| pot.go(day, frozen));
                lots.insert(to, moved);
            }
            (EntryKind::Ingredient, Account::Lot(from), Account::Lot(pot)) => {
                let day = home.kitchen.day_of(entry.occurred_at);
                let cooked = of_lot(home, pot).origin == Origin::Cooked;
                let frozen = is_frozen(home, pot);
                let mut added = taken(&lots, &out, &from, (entry.occurred_at, day));
                if stands_in(home, pot, PlaceKind::Counter) {
                    out.entry(pot).or_insert((entry.occurred_at, day));
                }
                for one in &mut added.pots {
                    one.out = TimeDelta::zero();
                    one.go(day, false);
                    if frozen {
                        one.go(day, true);
                    }
                    one.cooked_in |= cooked;
                }
                let mixture = lots.entry(pot).or_default();
                mixture.plain = false;
                // With meat or another dish in it, what was cooked keeps as meat does (HHS: 2-6 months frozen).
                for own in mixture
                    .pots
                    .iter_mut()
                    .filter(|own| cooked && !own.cooked_in)
                {
                    own.rules.freezer_months = 6;
                }
                mixture.pots.extend(added.pots);
            }
            _ => {}
        }
    }
    // What stands there still is for the day.
    for (lot, (_, on)) in &out {
        let pots = lots.get_mut(lot).into_iter().flat_map(|it| &mut it.pots);
        pots.for_each(|pot| {
            pot.over_on.get_or_insert(*on);
        });
    }
    lots
}

fn of_lot(home: &Home, lot: AccountId) -> &Batch {
    let mut batches = home.kitchen.batches.values();
    batches
        .find(|batch| batch.lot(lot).is_some())
        .expect("a lot is of a batch")
}

fn is_frozen(home: &Home, lot: AccountId) -> bool {
    stands_in(home, lot, PlaceKind::Freezer)
}

fn stands_in(home: &Home, lot: AccountId, kind: PlaceKind) -> bool {
    let place = of_lot(home, lot).lot(lot).and_then(|lot| lot.place);
    let place = place.and_then(|id| home.kitchen.place(id));
    place.is_some_and(|place| place.kind() == kind)
}

/// A pot as it was cooked; what is only put together has none of its own.
fn opened(home: &Home, batch: &Batch, lot: AccountId) -> Mixture {
    if batch.origin != Origin::Cooked {
        return Mixture::default();
    }
    let journey = match is_frozen(home, lot) {
        true => vec![(batch.made_on, true)],
        false => Vec::new(),
    };
    let pot = Pot {
        made_on: batch.made_on,
        rules: rules(&batch.name, home.kitchen.settings().guidance),
        journey,
        cooked_in: false,
        out: TimeDelta::zero(),
        over_on: None,
    };
    Mixture {
        pots: vec![pot],
        plain: true,
    }
}
