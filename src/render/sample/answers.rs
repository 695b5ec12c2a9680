//! Answers to batches and portions, each with a title for its snapshot.

use super::*;
use crate::domain::avoid::{Avoided, Has};
use crate::domain::caution::{Caution, Cautioned};

pub fn batches() -> Vec<(&'static str, BatchAnswer)> {
    let mut estimated = dal();
    (estimated.estimated, estimated.about) = (true, true);
    let mut raw = view(
        "slaw",
        "S1",
        vec![line(1, "400 g cabbage", 11109, 400.0)],
        400.0,
    );
    raw.raw = true;
    raw.lots[0].place = Some("fridge".into());
    let mut weighed = batch(BatchEvent::WeighedIn, dal());
    weighed.view.left = g(1700.0);
    weighed.view.lots[0].balance = g(1700.0);
    weighed.notes = vec![Note::Recomputed { portions: 1 }];
    let rice = view(
        "rice",
        "R4",
        vec![line(1, "500 g rice", 20044, 500.0)],
        1400.0,
    );
    let mut added = batch(BatchEvent::LinesAdded(1), dal());
    added.notes = vec![Note::WeightStands { net: g(1840.0) }];
    let mut empty = view("broth", "B1", Vec::new(), 1.0);
    empty.net_mass = g(0.0);
    empty.left = g(0.0);
    (empty.estimated, empty.about) = (true, true);
    empty.totals = Totals::unknown();
    empty.per_100g = empty.totals.clone();
    empty.lots.clear();
    let mut cooked = batch(BatchEvent::Opened, dal());
    cooked.notes = vec![Note::Caution(Cautioned {
        caution: Caution::Cool,
        about: "lentil dal".into(),
    })];
    vec![
        ("new, weighed", cooked),
        ("new, not weighed", batch(BatchEvent::Opened, estimated)),
        ("new, with unclear lines", unclear_dal()),
        ("new, named only", batch(BatchEvent::Opened, empty)),
        ("raw", batch(BatchEvent::Opened, raw)),
        ("rice", batch(BatchEvent::Opened, rice)),
        ("weighed in", weighed),
        ("a line added", added),
        ("a line changed", batch(BatchEvent::LineChanged(5), dal())),
        ("a line taken out", batch(BatchEvent::LineChanged(9), dal())),
        ("poured off", marinated()),
        ("shown", batch(BatchEvent::Shown, marinated().view)),
    ]
}

pub fn portions() -> Vec<(&'static str, PortionAnswer)> {
    let one = portion(vec![plate(
        "Robin",
        None,
        vec![of_batch(&dal(), 140.0, 1700.0)],
    )]);
    let mut more = one.clone();
    more.notes = vec![Note::SlightlyMore {
        name: "lentil dal".into(),
        over: g(12.0),
    }];
    let mut view = unclear_dal().view;
    view.code = "D8".into();
    let mut estimated = one.clone();
    estimated.plates[0]
        .lines
        .push(of_batch(&view, 100.0, 2140.0));
    estimated.plates[0].totals.add(&view.per_100g);
    let two = portion(vec![
        plate("Robin", None, vec![of_batch(&dal(), 140.0, 1700.0)]),
        plate("Ana", None, vec![of_batch(&dal(), 120.0, 1580.0)]),
    ]);
    vec![
        ("four things", dinner()),
        ("one batch", one),
        ("a little more than the books held", more),
        ("of a batch that is not weighed", estimated),
        ("two people", two),
    ]
}

/// One note of every kind.
pub fn notes() -> Vec<Note> {
    let notes = vec![
        Note::SlightlyMore {
            name: "lentil dal".into(),
            over: g(12.0),
        },
        Note::OddYield { factor: 6.21 },
        Note::WeightStands { net: g(1840.0) },
        Note::NotCounted {
            words: "salt".into(),
        },
        Note::WholeBatch { drawn: g(140.0) },
        Note::MadeLater {
            name: "salsa".into(),
            made_on: chrono::NaiveDate::from_ymd_opt(2026, 10, 14).expect("a day"),
        },
        Note::MadeSince {
            name: "salsa".into(),
            at: chrono::NaiveTime::from_hms_opt(18, 5, 0).expect("a time"),
        },
        Note::PastDate {
            name: "salsa".into(),
            due_on: chrono::NaiveDate::from_ymd_opt(2026, 10, 12).expect("a day"),
        },
        Note::Caution(Cautioned {
            caution: Caution::CoolRice,
            about: "rice".into(),
        }),
        Note::Avoided(Avoided {
            of: MemberId(2),
            member: "Ana".into(),
            what: "peanuts".into(),
            cannot: true,
            has: Has {
                in_what: vec!["peanut butter".into()],
                unknown: Vec::new(),
            },
        }),
        Note::Avoided(Avoided {
            of: MemberId(2),
            member: "Ana".into(),
            what: "peanuts".into(),
            cannot: true,
            has: Has {
                in_what: Vec::new(),
                unknown: vec!["stock cube".into()],
            },
        }),
        Note::OnePlaceOnly {
            places: vec!["fridge".into(), "freezer".into()],
        },
        Note::CheckScale {
            dishes: 4,
            less: true,
        },
        Note::CheckScale {
            dishes: 5,
            less: false,
        },
        Note::TakenBefore {
            name: "salsa".into(),
        },
        Note::Finished {
            name: "salsa".into(),
            left: g(3.0),
        },
        Note::RunsLow {
            name: "oats".into(),
            left: g(120.0),
            kept: g(500.0),
        },
        Note::LowStock {
            name: "salsa".into(),
            left: g(60.0),
            par: Some(g(800.0)),
        },
        Note::LowStock {
            name: "salsa".into(),
            left: g(0.0),
            par: None,
        },
        Note::OffPlates(vec![("Robin".into(), g(153.0)), ("Ana".into(), g(167.0))]),
        Note::NoMeal,
        Note::Recomputed { portions: 1 },
        Note::Recomputed { portions: 3 },
    ];
    for note in &notes {
        // A new kind of note stops the build here: list it above.
        match note {
            Note::SlightlyMore { .. }
            | Note::OddYield { .. }
            | Note::WeightStands { .. }
            | Note::NotCounted { .. }
            | Note::WholeBatch { .. }
            | Note::OnePlaceOnly { .. }
            | Note::MadeLater { .. }
            | Note::MadeSince { .. }
            | Note::PastDate { .. }
            | Note::Caution(_)
            | Note::Avoided(_)
            | Note::Finished { .. }
            | Note::RunsLow { .. }
            | Note::LowStock { .. }
            | Note::TakenBefore { .. }
            | Note::CheckScale { .. }
            | Note::OffPlates(_)
            | Note::NoMeal
            | Note::Recomputed { .. } => {}
        }
    }
    notes
}
