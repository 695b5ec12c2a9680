//! What a dish's lots can serve, day by day: each day eats of what is due first. The lots of a dish are good from
//! one day to another without a gap, so this order serves the most and spoils the least (`tests/plan.rs` holds it
//! against all others).

use crate::domain::mass::Mass;

/// So much of a dish, and the days on which it may be served; day 0 is the first of the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Supply {
    pub mass: Mass,
    pub from: u32,
    /// The last day on which it is good as it stands.
    pub until: u32,
    /// What is frozen by then is good until this day.
    pub frozen_until: Option<u32>,
    /// It lies frozen already: to stay there is no more work.
    pub lies_frozen: bool,
}

impl Supply {
    /// The last day on which it can be good, in the freezer if need be.
    pub fn last(&self) -> u32 {
        let frozen = self.frozen_until.unwrap_or(self.until);
        frozen.max(self.until)
    }

    pub fn serves(&self, day: u32) -> bool {
        (self.from..=self.last()).contains(&day)
    }
}

/// What becomes of the lots of a dish over the days of a plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Served {
    /// Of each day.
    pub days: Vec<Mass>,
    pub spoilt: Mass,
    /// Good on the day after the last.
    pub left: Mass,
}

impl Served {
    fn total(&self) -> Mass {
        self.days.iter().copied().sum()
    }
}

/// Serve what each day wants, days that were asked for before the others.
pub fn serve(supplies: &[Supply], demand: &[Mass], wished: &[bool]) -> Served {
    let served = in_turn(supplies, demand);
    let mixed = wished.contains(&true) && wished.contains(&false);
    match mixed && served.days != demand {
        true => wished_first(supplies, demand, wished),
        false => served,
    }
}

/// Day by day, of what is due first.
fn in_turn(supplies: &[Supply], demand: &[Mass]) -> Served {
    let days = demand.len() as u32;
    let mut lots: Vec<Supply> = supplies.to_vec();
    lots.sort_by_key(Supply::last);
    let serve = |(day, wanted): (usize, &Mass)| {
        let mut open = *wanted;
        for lot in lots.iter_mut().filter(|lot| lot.serves(day as u32)) {
            let taken = open.min(lot.mass);
            lot.mass -= taken;
            open -= taken;
        }
        *wanted - open
    };
    let served = demand.iter().enumerate().map(serve).collect();
    let rest = |spoilt: bool| {
        let those = lots.iter().filter(|lot| (lot.last() < days) == spoilt);
        those.map(|lot| lot.mass).sum()
    };
    Served {
        days: served,
        spoilt: rest(true),
        left: rest(false),
    }
}

/// What a set of days can be served grows by less the more days there are, so days are given as much as can be one
/// after another, and none loses by a later one.
fn wished_first(supplies: &[Supply], demand: &[Mass], wished: &[bool]) -> Served {
    let mut given = vec![Mass::ZERO; demand.len()];
    let mut order: Vec<usize> = (0..demand.len()).collect();
    order.sort_by_key(|day| !wished[*day]);
    for day in order {
        let before: Mass = given.iter().copied().sum();
        given[day] = demand[day];
        given[day] = in_turn(supplies, &given).total() - before;
    }
    in_turn(supplies, &given)
}
