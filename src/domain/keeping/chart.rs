//! The published keeping times, as `data/keeping.txt` has them with the source of each.

use std::sync::OnceLock;

use chrono::{Months, NaiveDate, TimeDelta};

use super::kind::Kind;

pub use crate::lang::syntax::{Keeping as Span, Region, Storage};

/// Every region, with its word in the chart and in the books.
pub const REGIONS: [(Region, &str); 3] = [
    (Region::UnitedStates, "us"),
    (Region::UnitedKingdom, "uk"),
    (Region::AustraliaNewZealand, "au-nz"),
];

pub fn region_word(region: Region) -> &'static str {
    let known = REGIONS.iter().find(|(known, _)| *known == region);
    known.expect("every region has a word").1
}

pub fn region_of_word(word: &str) -> Option<Region> {
    let known = REGIONS.iter().find(|(_, known)| *known == word);
    known.map(|(region, _)| *region)
}

/// The region that a time zone lies in or next to; elsewhere the one with the shortest times.
pub fn region_of_zone(zone: &str) -> Region {
    match zone.split('/').next().unwrap_or_default() {
        "America" | "US" | "Canada" | "Mexico" => Region::UnitedStates,
        "Australia" | "Pacific" | "NZ" | "Antarctica" => Region::AustraliaNewZealand,
        _ => Region::UnitedKingdom,
    }
}

impl Span {
    pub fn from(self, day: NaiveDate) -> NaiveDate {
        match self {
            Span::Days(days) => day + TimeDelta::days(days.into()),
            Span::Months(months) => day + Months::new(months),
        }
    }

    /// For comparing one with another: a month is no fixed number of days.
    pub fn days(self) -> u32 {
        match self {
            Span::Days(days) => days,
            Span::Months(months) => months * 30,
        }
    }
}

/// What a chart says of one kind in one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Keeps {
    /// It is due by then.
    pub until: Span,
    /// From then on it is eaten first, where the chart gives a range.
    pub first: Span,
    pub source: &'static str,
}

impl Keeps {
    /// What the household has set itself, in the place of a source.
    const SET: &'static str = "as you set";

    pub fn as_set(span: Span) -> Self {
        Self {
            until: span,
            first: span,
            source: Self::SET,
        }
    }

    pub fn is_set(&self) -> bool {
        self.source == Self::SET
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Whose {
    Region(Region),
    /// One chart for every region, held against what the region says of leftovers.
    Every,
    /// One chart, and no region says otherwise.
    Any,
}

struct Row {
    kind: Kind,
    storage: Storage,
    whose: Whose,
    /// `None`: it does not keep there.
    keeps: Option<Keeps>,
}

impl Row {
    fn read(line: &'static str) -> Option<Row> {
        let mut columns = line.split('|').map(str::trim);
        let kind = Kind::from_word(columns.next()?)?;
        let storage = match columns.next()? {
            "fridge" => Storage::Fridge,
            "thawed" => Storage::Thawed,
            "freezer" => Storage::Freezer,
            _ => return None,
        };
        let whose = match columns.next()? {
            "*" => Whose::Every,
            "any" => Whose::Any,
            word => Whose::Region(region_of_word(word)?),
        };
        let span = columns.next()?;
        let source = columns.next()?;
        let keeps = match span {
            "never" => None,
            _ => {
                let (range, unit) = span.split_once(' ')?;
                let (low, high) = range.split_once('-').unwrap_or((range, range));
                let span = |number: &str| {
                    let number = number.parse().ok()?;
                    Some(match unit.trim_end_matches('s') {
                        "day" => Span::Days(number),
                        "month" => Span::Months(number),
                        _ => return None,
                    })
                };
                Some(Keeps {
                    until: span(high)?,
                    first: span(low)?,
                    source,
                })
            }
        };
        Some(Row {
            kind,
            storage,
            whose,
            keeps,
        })
    }
}

fn rows() -> &'static [Row] {
    static ROWS: OnceLock<Vec<Row>> = OnceLock::new();
    ROWS.get_or_init(|| {
        let lines = include_str!("../data/keeping.txt").lines();
        let lines = lines.filter(|line| !line.is_empty() && !line.starts_with('#'));
        let row = |line| Row::read(line).expect("a row of the keeping chart reads");
        lines.map(row).collect()
    })
}

/// How long food of these kinds keeps: as long as the shortest-lived of them. `None`: not at all.
pub fn keeps(kinds: &[Kind], storage: Storage, region: Region) -> Option<Keeps> {
    let mut shortest: Option<Keeps> = None;
    for kind in kinds {
        let keeps = of_kind(*kind, storage, region)?;
        shortest = Some(shortest.map_or(keeps, |known| shorter(known, keeps)));
    }
    shortest
}

fn of_kind(kind: Kind, storage: Storage, region: Region) -> Option<Keeps> {
    let row = |kind: Kind, whose: &[Whose]| {
        let of_it = |row: &&Row| row.kind == kind && row.storage == storage;
        rows()
            .iter()
            .filter(of_it)
            .find(|row| whose.contains(&row.whose))
    };
    if let Some(own) = row(kind, &[Whose::Region(region), Whose::Any]) {
        return own.keeps;
    }
    let whose = [Whose::Region(region), Whose::Every];
    let leftovers = row(Kind::Leftovers, &whose).and_then(|row| row.keeps);
    match row(kind, &[Whose::Every]) {
        None => leftovers,
        // A chart that is the region's own wins over a longer one of elsewhere.
        Some(every) => {
            let every = every.keeps?;
            let of_region = leftovers.filter(|_| storage != Storage::Freezer);
            Some(of_region.map_or(every, |leftovers| shorter(every, leftovers)))
        }
    }
}

/// The one that ends first; of two that end together, the one that says more.
fn shorter(one: Keeps, other: Keeps) -> Keeps {
    if other.until.days() < one.until.days() {
        other
    } else {
        one
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn days(kind: Kind, storage: Storage, region: Region) -> (Span, &'static str) {
        let keeps = keeps(&[kind], storage, region).expect("it keeps there");
        (keeps.until, keeps.source)
    }

    #[test]
    fn published_times_stand_as_published() {
        use Region::*;
        use Storage::*;
        // HHS cold food storage chart.
        let hhs = [
            (Kind::CookedMeat, Fridge, Span::Days(4)),
            (Kind::CookedMeat, Freezer, Span::Months(6)),
            (Kind::Soup, Fridge, Span::Days(4)),
            (Kind::Soup, Freezer, Span::Months(3)),
            (Kind::Salad, Fridge, Span::Days(4)),
            (Kind::HardCookedEggs, Fridge, Span::Days(7)),
            (Kind::RawMince, Fridge, Span::Days(2)),
            (Kind::RawMeat, Fridge, Span::Days(5)),
            (Kind::Broth, Fridge, Span::Days(2)),
        ];
        for (kind, storage, span) in hhs {
            assert!(
                days(kind, storage, UnitedStates) == (span, "HHS")
                    || days(kind, storage, UnitedStates) == (span, "HHS, second-hand"),
                "{kind:?}"
            );
        }
        // Rice: UK Food Standards Agency 1 day; NSW Food Authority and NZ MPI 2 days; US sources 3 to 6.
        let rice = [
            (UnitedStates, 3),
            (UnitedKingdom, 1),
            (AustraliaNewZealand, 2),
        ];
        for (region, count) in rice {
            assert_eq!(days(Kind::Rice, Fridge, region).0, Span::Days(count));
        }
        // Other leftovers: UK 2 days; NSW 3 and NZ 4, of which the shorter stands.
        let leftovers = [(UnitedKingdom, 2), (AustraliaNewZealand, 3)];
        for (region, count) in leftovers {
            for kind in [Kind::Leftovers, Kind::CookedMeat, Kind::Soup, Kind::Salad] {
                assert_eq!(days(kind, Fridge, region).0, Span::Days(count), "{kind:?}");
            }
        }
        // Thawed in the fridge: FSIS 3 to 4 days, UK 1 to 2, NSW within a day.
        let thawed = [
            (UnitedStates, 4),
            (UnitedKingdom, 2),
            (AustraliaNewZealand, 1),
        ];
        for (region, count) in thawed {
            assert_eq!(days(Kind::Soup, Thawed, region).0, Span::Days(count));
        }
    }

    #[test]
    fn the_shortest_kind_of_a_dish_rules_it() {
        let both = [Kind::CookedMeat, Kind::Rice];
        let keeps = keeps(&both, Storage::Fridge, Region::UnitedStates).expect("it keeps");
        assert_eq!(keeps.until, Span::Days(3));
    }

    #[test]
    fn a_salad_does_not_freeze() {
        assert_eq!(
            keeps(&[Kind::Salad], Storage::Freezer, Region::UnitedKingdom),
            None
        );
    }

    #[test]
    fn every_kind_has_a_time_in_the_fridge_everywhere() {
        for (kind, word) in Kind::ALL {
            for (region, _) in REGIONS {
                for storage in [Storage::Fridge, Storage::Thawed] {
                    assert!(keeps(&[kind], storage, region).is_some(), "{word}");
                }
            }
        }
    }
}
