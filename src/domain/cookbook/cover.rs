//! How long what stands here lasts, at the pace at which the dish goes.

use chrono::{Days, NaiveDate};

use crate::domain::mass::Mass;

/// Nothing is reckoned further ahead.
const AHEAD_DAYS: u64 = 366;

/// What stands in one place, and the last day on which it may be eaten.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    pub mass: Mass,
    pub frozen: bool,
    pub last_day: Option<NaiveDate>,
}

/// How long what stands here lasts.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Cover {
    /// On hand over use per day.
    pub days: Option<f64>,
    /// The first day on which there is not enough; `None`: not in sight.
    pub out_on: Option<NaiveDate>,
    /// The first date that passes while some of it is left, and how much that is.
    pub passes: Option<(NaiveDate, Mass)>,
}

/// Played day by day from today on, with what each day still wants: first expired, first out, what stands ready before
/// what is frozen. `a_day` is the pace, if any is known.
pub fn cover(
    standing: &[Standing],
    a_day: Option<f64>,
    today: NaiveDate,
    wants: impl Fn(NaiveDate) -> Mass,
) -> Cover {
    let mut lots = standing.to_vec();
    lots.retain(|lot| lot.mass.mg() > 0);
    lots.sort_by_key(|lot| (lot.frozen, lot.last_day.unwrap_or(NaiveDate::MAX)));
    let on_hand: Mass = lots.iter().map(|lot| lot.mass).sum();
    let a_day = a_day.filter(|grams| *grams > 0.0);
    let mut cover = Cover {
        days: a_day.map(|grams| on_hand.grams() / grams),
        ..Cover::default()
    };
    for ahead in 0..=AHEAD_DAYS {
        let day = today + Days::new(ahead);
        let over = |lot: &Standing| lot.last_day.filter(|last| *last < day);
        if let Some(last) = lots.iter().filter_map(over).max() {
            let past = lots.iter().filter(|lot| over(lot).is_some());
            let mass = past.map(|lot| lot.mass).sum();
            cover.passes = cover.passes.or(Some((last, mass)));
            lots.retain(|lot| over(lot).is_none());
        }
        let mut wanted = wants(day);
        for lot in &mut lots {
            let taken = lot.mass.min(wanted);
            lot.mass -= taken;
            wanted -= taken;
        }
        lots.retain(|lot| lot.mass.mg() > 0);
        if wanted.mg() > 0 {
            cover.out_on = Some(day);
            return cover;
        }
    }
    cover
}
