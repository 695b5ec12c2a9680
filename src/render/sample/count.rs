//! What counts found, and what nobody weighed.

use super::{MESSAGE, g, lot, today};
use crate::domain::answer::{CountAnswer, CountLine, SheetAnswer, TakenAnswer, VesselView};

pub fn counted() -> CountAnswer {
    let counted = |difference: f64| CountLine {
        name: "lentil dal".into(),
        batch: "D7".into(),
        place: None,
        counted: g(1210.0),
        difference: g(difference),
        unweighed: g(0.0),
    };
    CountAnswer {
        lines: vec![
            counted(-40.0),
            counted(0.0),
            CountLine {
                place: Some("freezer".into()),
                ..counted(5.5)
            },
            CountLine {
                unweighed: g(240.0),
                ..counted(-240.0)
            },
            CountLine {
                unweighed: g(240.0),
                ..counted(-300.0)
            },
        ],
        elsewhere: Vec::new(),
        walk: false,
        today: today(),
        notes: Vec::new(),
        message: MESSAGE,
    }
}

pub fn tares() -> Vec<VesselView> {
    let vessel = |name: &str, tare, holds| VesselView {
        name: name.into(),
        tare,
        holds,
    };
    vec![
        vessel(
            "blue pot",
            Some(g(812.0)),
            vec![("dal".into(), Some(g(640.0)))],
        ),
        vessel("glass jar", Some(g(310.0)), Vec::new()),
        vessel("green tub", None, vec![("soup".into(), None)]),
    ]
}

pub fn taken() -> TakenAnswer {
    TakenAnswer {
        dishes: vec!["lentil dal".into(), "brown rice".into()],
        amount: "some".into(),
        taker: Some("Robin".into()),
        notes: Vec::new(),
        message: MESSAGE,
    }
}

pub fn sheet() -> SheetAnswer {
    let lots = vec![
        lot("lentil dal", "D7", Some("fridge"), 640.0, None),
        lot("lentil dal", "D9", Some("fridge"), 1200.0, None),
        lot("salsa", "S2", None, 85.0, None),
        lot("brown rice", "R3", Some("freezer"), 600.0, None),
    ];
    let today = today();
    SheetAnswer { lots, today }
}
