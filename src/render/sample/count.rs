//! What counts found, and what nobody weighed.

use super::{MESSAGE, g, today};
use crate::domain::answer::{CountAnswer, CountLine, TakenAnswer};

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
        today: today(),
        notes: Vec::new(),
        message: MESSAGE,
    }
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
