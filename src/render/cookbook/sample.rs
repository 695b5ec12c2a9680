//! Answers and problems of dishes that were cooked before, for the tests of this layer.

use chrono::NaiveDate;

use crate::domain::answer::CookbookAnswer;
use crate::domain::batch::Money;
use crate::domain::cookbook::Cover;
use crate::domain::cookbook::answer::*;
use crate::domain::cookbook::problem::CookbookProblem;
use crate::domain::estimate::{ComesTo, Spread};
use crate::domain::ids::MessageId;
use crate::domain::mass::Mass;
use crate::domain::nutrients::Sum;
use crate::domain::worth::Worth;
use crate::render::sample::{g, today};

/// One of every kind, each with its title.
pub fn answers() -> Vec<(&'static str, CookbookAnswer)> {
    let answers = vec![
        ("a recipe", CookbookAnswer::Recipe(recipe(None))),
        (
            "cooked again",
            CookbookAnswer::Recipe(recipe(Some(("D12".into(), MessageId(7))))),
        ),
        ("pots compared", CookbookAnswer::Compared(compared())),
        ("how fast it goes", CookbookAnswer::Pace(pace(true, false))),
        ("when it runs out", CookbookAnswer::Pace(pace(true, true))),
        (
            "what runs out first",
            CookbookAnswer::Pace(pace(false, true)),
        ),
        (
            "who eats it",
            CookbookAnswer::Share(ShareAnswer {
                name: "rice".into(),
                today: today(),
                since: day(8, 19),
                own: g(3200.0),
                guests: vec![("Mira".into(), g(800.0))],
                all: g(8000.0),
            }),
        ),
        ("what it costs", CookbookAnswer::Cost(cost())),
        (
            "what was spent",
            CookbookAnswer::Spent(SpentAnswer {
                from: day(10, 12),
                until: today(),
                today: today(),
                worth: euros(640, g(150.0)),
                dishes: vec![("dal".into(), euros(640, g(150.0)))],
            }),
        ),
    ];
    answers
        .iter()
        .for_each(|(_, answer)| is_answer_listed(answer));
    answers
}

fn day(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, month, day).expect("a day")
}

fn euros(hundredths: i64, unpriced: Mass) -> Worth {
    let money = Money {
        hundredths,
        currency: "€".into(),
    };
    Worth {
        cost: vec![money],
        unpriced,
    }
}

fn recipe(opened: Option<(String, MessageId)>) -> RecipeAnswer {
    let row = |name: &str, mass: Option<f64>, ratio: Option<f64>, changed: Changed| RecipeRow {
        name: name.into(),
        part: None,
        mass: mass.map(g),
        estimated: false,
        ratio,
        changed,
    };
    RecipeAnswer {
        name: "dal".into(),
        code: "D3".into(),
        made_on: day(10, 3),
        today: today(),
        factor: 1.5,
        lines: vec![
            row("red lentils", Some(750.0), Some(1.0), Changed::No),
            row("onion", Some(210.0), Some(0.28), Changed::No),
            row(
                "ghee",
                Some(30.0),
                Some(0.04),
                Changed::Instead("oil".into()),
            ),
            row("carrots", Some(122.0), Some(0.163), Changed::Added),
            row("salt", None, None, Changed::No),
        ],
        without: vec!["chilli".into()],
        comes_to: ComesTo {
            mass: g(2610.0),
            spread: Some(Spread {
                least: g(2500.0),
                most: g(2700.0),
                pots: 3,
            }),
        },
        raw: false,
        poured: g(40.0),
        opened,
    }
}

fn compared() -> ComparedAnswer {
    let sum = |amount| Sum {
        amount: Some(amount),
        at_least: false,
    };
    let pot = |code: &str, made_on, raw, net, lasted_days, left: f64, thrown: f64| PotCompared {
        code: code.into(),
        made_on,
        raw: g(raw),
        main: Some(g(500.0)),
        net: g(net),
        estimated: false,
        energy: sum(118.0),
        protein: sum(7.9),
        worth: euros(240, g(thrown)),
        lasted_days,
        left: g(left),
        thrown_away: g(thrown),
    };
    ComparedAnswer {
        unweighed: vec!["D4".into()],
        name: "dal".into(),
        today: today(),
        pots: vec![
            pot("D9", day(10, 3), 690.0, 1600.0, None, 420.0, 0.0),
            pot("D5", day(9, 19), 640.0, 1500.0, Some(4), 0.0, 150.0),
        ],
        main: Some("red lentils".into()),
        ratios: vec![
            ("onion".into(), vec![Some(0.34), Some(0.28)]),
            ("salt".into(), vec![Some(0.02), Some(0.02)]),
            ("carrots".into(), vec![Some(0.1), None]),
        ],
    }
}

fn pace(one: bool, runs_out: bool) -> PaceAnswer {
    let rice = PaceLine {
        name: "rice".into(),
        per_day: Some(g(210.0)),
        known_days: 41,
        left: g(1450.0),
        estimated: false,
        cover: Cover {
            days: Some(6.9),
            out_on: Some(day(10, 21)),
            passes: Some((day(10, 18), g(610.0))),
        },
    };
    let stew = PaceLine {
        name: "stew".into(),
        per_day: None,
        known_days: 0,
        cover: Cover::default(),
        ..rice.clone()
    };
    PaceAnswer {
        today: today(),
        one,
        runs_out,
        dishes: if one { vec![rice] } else { vec![rice, stew] },
    }
}

fn cost() -> CostAnswer {
    CostAnswer {
        name: "dal".into(),
        code: "D9".into(),
        made_on: day(10, 3),
        today: today(),
        net: g(1600.0),
        estimated: false,
        worth: euros(240, g(30.0)),
        unpriced: vec!["cumin".into()],
        portion: Some((g(310.0), euros(47, g(6.0)))),
        week: Some((g(1470.0), euros(221, g(28.0)))),
    }
}

/// One of every kind.
pub fn problems(words: &str) -> Vec<CookbookProblem> {
    let (dish, name) = ("dal".to_owned(), words.to_owned());
    let problems = vec![
        CookbookProblem::NoRecipe { name: name.clone() },
        CookbookProblem::WhichDish,
        CookbookProblem::NotInRecipe {
            dish: dish.clone(),
            name: name.clone(),
            lines: vec!["red lentils".into(), name.clone()],
        },
        CookbookProblem::NoWeight {
            dish,
            name: name.clone(),
        },
        CookbookProblem::OddFactor { factor: 400.0 },
        CookbookProblem::OnePot { name },
    ];
    problems.iter().for_each(is_problem_listed);
    problems
}

/// A new kind stops the build here: list it above.
fn is_problem_listed(problem: &CookbookProblem) {
    match problem {
        CookbookProblem::NoRecipe { .. }
        | CookbookProblem::WhichDish
        | CookbookProblem::NotInRecipe { .. }
        | CookbookProblem::NoWeight { .. }
        | CookbookProblem::OddFactor { .. }
        | CookbookProblem::OnePot { .. } => {}
    }
}

/// The same of answers.
fn is_answer_listed(answer: &CookbookAnswer) {
    match answer {
        CookbookAnswer::Recipe(_)
        | CookbookAnswer::Compared(_)
        | CookbookAnswer::Pace(_)
        | CookbookAnswer::Share(_)
        | CookbookAnswer::Cost(_)
        | CookbookAnswer::Spent(_) => {}
    }
}
