//! The board: what stands in the kitchen, as a cook looks for it. What is ready comes before what is frozen,
//! and of each, what is due first.

use chrono::{NaiveDate, TimeDelta};

use super::answer::{LotView, PiecesView};
use super::mass::Mass;
use super::stock::whole_portions;

/// What is frozen is marked so many days before its date.
const FROZEN_SOON_DAYS: i64 = 7;

#[derive(Debug, Clone, PartialEq)]
pub struct Board<'a> {
    pub ready: Vec<Standing<'a>>,
    pub frozen: Vec<Standing<'a>>,
}

/// What stands in one place and vessel of one batch with one date, in as many parts as there are bags.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing<'a> {
    /// The first of its lots: they differ in nothing but their weight.
    pub lot: &'a LotView,
    pub parts: Vec<Mass>,
    pub mark: Option<Mark>,
}

/// What a cook should know before choosing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// It was due before today.
    PastDate,
    /// It is due before everything else that is ready, or by tomorrow.
    EatFirst,
    /// Its time in the freezer runs out.
    UseSoon,
}

impl<'a> Board<'a> {
    /// Of lots in the order of their dates; what is emptied is not on it.
    pub fn of(lots: &'a [LotView], today: NaiveDate) -> Self {
        let standing = |frozen| standing(lots.iter().filter(move |lot| lot.frozen == frozen));
        let mut board = Self {
            ready: standing(false),
            frozen: standing(true),
        };
        let current = |standing: &Standing| standing.lot.use_by().filter(|on| *on >= today);
        let first = board.ready.iter().filter_map(current).min();
        let more = board.ready.iter().filter(|other| current(other) != first);
        let others = more.count() > 0;
        for standing in &mut board.ready {
            let on = standing.lot.use_by();
            let urgent = |on| others || on <= today + TimeDelta::days(1);
            standing.mark = match on {
                Some(on) if on < today => Some(Mark::PastDate),
                Some(on) if Some(on) == first && urgent(on) => Some(Mark::EatFirst),
                _ => None,
            };
        }
        for standing in &mut board.frozen {
            standing.mark = match standing.lot.use_by() {
                Some(on) if on < today => Some(Mark::PastDate),
                Some(on) if is_soon(on, today) => Some(Mark::UseSoon),
                _ => None,
            };
        }
        board
    }

    pub fn is_empty(&self) -> bool {
        self.ready.is_empty() && self.frozen.is_empty()
    }
}

/// A frozen lot belongs to what is due soon.
pub fn is_soon(on: NaiveDate, today: NaiveDate) -> bool {
    on <= today + TimeDelta::days(FROZEN_SOON_DAYS)
}

impl Standing<'_> {
    pub fn mass(&self) -> Mass {
        self.parts.iter().copied().sum()
    }

    /// The same in pieces, if it is counted.
    pub fn pieces(&self) -> Option<PiecesView> {
        let first = self.lot.pieces.as_ref()?;
        let share = self.mass().grams() / self.lot.balance.grams();
        share.is_finite().then(|| PiecesView {
            count: first.count * share,
            word: first.word.clone(),
        })
    }

    pub fn portions(&self) -> Option<u32> {
        whole_portions(self.mass(), self.lot.usual)
    }
}

/// Lots that differ in nothing but their weight stand together.
pub fn standing<'a>(lots: impl Iterator<Item = &'a LotView>) -> Vec<Standing<'a>> {
    let mut all: Vec<Standing<'a>> = Vec::new();
    for lot in lots.filter(|lot| lot.holds_any()) {
        let alike = |known: &LotView| {
            (&known.batch, &known.place, &known.vessel) == (&lot.batch, &lot.place, &lot.vessel)
                && (known.use_by(), known.taken) == (lot.use_by(), lot.taken)
        };
        match all.iter_mut().find(|standing| alike(standing.lot)) {
            Some(standing) => standing.parts.push(lot.balance),
            None => all.push(Standing {
                lot,
                parts: vec![lot.balance],
                mark: None,
            }),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::keeping::{UseBy, Why};
    use crate::domain::origin::Origin;

    fn day(day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 10, day).unwrap()
    }

    fn lot(code: &str, grams: f64, due: Option<u32>, frozen: bool) -> LotView {
        let mass = Mass::from_grams(grams).unwrap();
        LotView {
            batch: Some(code.into()),
            name: code.to_lowercase(),
            place: frozen.then(|| "freezer".into()),
            vessel: None,
            mass: Some(mass),
            balance: mass,
            frozen,
            frozen_on: frozen.then(|| day(1)),
            due: due.map(|on| UseBy {
                on: day(on),
                first_on: day(on),
                why: Why::Ingredient,
            }),
            usual: Mass::from_grams(200.0),
            made_on: day(1),
            dated: true,
            origin: Origin::Cooked,
            nutrients_unknown: false,
            taken: false,
            pieces: None,
        }
    }

    #[track_caller]
    fn marks(lots: &[LotView], expected: &[(&str, Option<Mark>)]) {
        let board = Board::of(lots, day(14));
        let all = board.ready.iter().chain(&board.frozen);
        let found: Vec<(&str, Option<Mark>)> = all
            .map(|standing| (standing.lot.batch.as_deref().unwrap(), standing.mark))
            .collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn what_is_due_first_is_marked_among_others() {
        let lots = [
            lot("A1", 100.0, Some(16), false),
            lot("B2", 100.0, Some(17), false),
            lot("C3", 100.0, None, false),
            lot("D4", 100.0, Some(30), true),
        ];
        marks(
            &lots,
            &[
                ("A1", Some(Mark::EatFirst)),
                ("B2", None),
                ("C3", None),
                ("D4", None),
            ],
        );
    }

    #[test]
    fn what_stands_alone_is_marked_when_it_is_due() {
        marks(&[lot("A1", 100.0, Some(16), false)], &[("A1", None)]);
        marks(
            &[lot("A1", 100.0, Some(15), false)],
            &[("A1", Some(Mark::EatFirst))],
        );
    }

    #[test]
    fn what_is_past_its_date_is_not_to_be_eaten_first() {
        let lots = [
            lot("A1", 100.0, Some(13), false),
            lot("B2", 100.0, Some(14), false),
            lot("C3", 100.0, Some(12), true),
            lot("D4", 100.0, Some(21), true),
        ];
        marks(
            &lots,
            &[
                ("A1", Some(Mark::PastDate)),
                ("B2", Some(Mark::EatFirst)),
                ("C3", Some(Mark::PastDate)),
                ("D4", Some(Mark::UseSoon)),
            ],
        );
    }

    #[test]
    fn bags_of_one_date_stand_together_and_what_is_empty_does_not() {
        let bags = [
            lot("A1", 700.0, Some(30), true),
            lot("A1", 640.0, Some(30), true),
            lot("A1", 0.0, Some(30), true),
            lot("A1", 500.0, Some(31), true),
        ];
        let board = Board::of(&bags, day(14));
        let grams = |standing: &Standing| standing.mass().grams();
        assert_eq!(
            board.frozen.iter().map(grams).collect::<Vec<_>>(),
            [1340.0, 500.0]
        );
        assert!(Board::of(&bags[2..3], day(14)).is_empty());
    }

    #[test]
    fn a_portion_that_is_not_there_is_not_promised() {
        for (grams, portions) in [(399.0, 2), (370.0, 1), (185.0, 1), (150.0, 0), (1000.0, 5)] {
            let lots = [lot("A1", grams, None, false)];
            let board = Board::of(&lots, day(14));
            assert_eq!(board.ready[0].portions(), Some(portions), "{grams}");
        }
    }
}
