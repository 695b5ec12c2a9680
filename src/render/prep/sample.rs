//! Answers and problems of cooking ahead, for the tests of this layer.

use crate::domain::answer::Answer;
use crate::domain::batch::Money;
use crate::domain::ids::EntryId;
use crate::domain::prep::answer::{PrepAnswer, ShoppingAnswer, ShoppingEvent};
use crate::domain::prep::books::Limit;
use crate::domain::prep::goods::Good;
use crate::domain::prep::list::{Packs, ToBuy};
use crate::domain::prep::problem::PrepProblem;
use crate::domain::prep::shop::{ListLineView, ShoppingView};
use crate::render::sample::{g, today};
use crate::render::snapshots::{compare, section};

pub fn answers() -> Vec<(&'static str, PrepAnswer)> {
    let line = |id, name: &str, grams: Option<f64>, ticked: bool| ListLineView {
        id: EntryId(id),
        buy: ToBuy {
            good: Good {
                food: None,
                key: name.into(),
                words: name.into(),
            },
            need: grams.map(g),
            buy: grams.map(g),
            packs: None,
            cost: None,
        },
        said: Vec::new(),
        ticked_by: ticked.then(|| "Ana".into()),
    };
    let mut lentils = line(3, "lentils", Some(1000.0), false);
    lentils.buy.packs = Some(Packs {
        count: 2,
        mass: g(500.0),
        word: "bag".into(),
    });
    let money = Money {
        hundredths: 480,
        currency: "€".into(),
    };
    lentils.buy.cost = Some(money.clone());
    let mut tomatoes = line(4, "tomatoes", None, false);
    tomatoes.said = vec!["2 tins".into()];
    let view = ShoppingView {
        list: EntryId(1),
        days: Some((today(), today() + chrono::Days::new(6))),
        total: vec![money],
        unpriced: 3,
        lines: vec![
            line(2, "onions", Some(850.0), false),
            lentils,
            tomatoes,
            line(5, "milk", None, true),
        ],
    };
    let shopping = |event, list| {
        PrepAnswer::Shopping(ShoppingAnswer {
            event,
            list,
            today: today(),
            message: None,
        })
    };
    let mut bought = view.clone();
    for line in &mut bought.lines {
        line.ticked_by = Some("Ana".into());
    }
    let begun = ShoppingEvent::Begun {
        left: vec!["salt".into()],
    };
    let done = ShoppingEvent::Done { bought: 3 };
    vec![
        (
            "shopping list",
            shopping(ShoppingEvent::Shown, Some(view.clone())),
        ),
        ("all bought", shopping(ShoppingEvent::Shown, Some(bought))),
        ("no list", shopping(ShoppingEvent::Shown, None)),
        ("a new list", shopping(begun, Some(view.clone()))),
        (
            "got something",
            shopping(ShoppingEvent::Got(vec!["milk".into()]), Some(view)),
        ),
        ("done", shopping(done, None)),
    ]
}

#[test]
fn what_is_ahead_in_words() {
    let answers = answers().into_iter();
    let sections = answers.map(|(title, answer)| section(title, Answer::Prep(Box::new(answer))));
    compare("prep.txt", &sections.collect::<Vec<_>>());
}

/// One of every kind.
pub fn problems() -> Vec<PrepProblem> {
    let listed = || vec!["red onions".into(), "spring onions".into()];
    let name = || "leeks".into();
    let problems = vec![
        PrepProblem::TrimmedHeavier {
            bought: g(980.0),
            trimmed: g(1150.0),
        },
        PrepProblem::NoList,
        PrepProblem::NotListed {
            name: name(),
            listed: listed(),
        },
        PrepProblem::SeveralListed {
            name: "onions".into(),
            listed: listed(),
        },
        PrepProblem::ListFull { most: 60 },
        PrepProblem::NothingTicked,
        PrepProblem::NoPeople,
        PrepProblem::TooManyPeople { most: 100 },
        PrepProblem::NoMeals,
        PrepProblem::NoneOfThem {
            what: Limit::Burners,
        },
        PrepProblem::BigHelping {
            dish: "lentil dal".into(),
            each: g(5000.0),
            shared: g(1250.0),
            days: 2,
            people: 2,
        },
        PrepProblem::SeveralGoods {
            name: "onions".into(),
            goods: listed(),
        },
        PrepProblem::NoPortion {
            dish: "lentil dal".into(),
        },
        PrepProblem::NotWished {
            dish: "lentil dal".into(),
        },
        PrepProblem::PlanTooLong { most: 28 },
        PrepProblem::NobodyPlanned,
        PrepProblem::NoDay {
            told: "yesterday".into(),
            gone: true,
        },
        PrepProblem::NoDay {
            told: "40 October".into(),
            gone: false,
        },
        PrepProblem::NotPlanned {
            name: name(),
            planned: vec!["lentil dal".into()],
        },
        PrepProblem::AllAway,
        PrepProblem::NothingKnown,
        PrepProblem::StepWithoutTime {
            words: "chop onions".into(),
        },
        PrepProblem::NoStep {
            dish: "lentil dal".into(),
            verb: "simmers".into(),
        },
        PrepProblem::NoSteps { dishes: Vec::new() },
        PrepProblem::NothingToBuy,
    ];
    problems.iter().for_each(is_listed);
    problems
}

/// A new kind stops the build here: list it above.
fn is_listed(problem: &PrepProblem) {
    match problem {
        PrepProblem::TrimmedHeavier { .. }
        | PrepProblem::NoList
        | PrepProblem::NotListed { .. }
        | PrepProblem::SeveralListed { .. }
        | PrepProblem::ListFull { .. }
        | PrepProblem::NothingTicked
        | PrepProblem::NoStep { .. }
        | PrepProblem::NoPeople
        | PrepProblem::TooManyPeople { .. }
        | PrepProblem::NoMeals
        | PrepProblem::NoneOfThem { .. }
        | PrepProblem::BigHelping { .. }
        | PrepProblem::SeveralGoods { .. }
        | PrepProblem::NoPortion { .. }
        | PrepProblem::NotWished { .. }
        | PrepProblem::PlanTooLong { .. }
        | PrepProblem::NobodyPlanned
        | PrepProblem::NoDay { .. }
        | PrepProblem::NotPlanned { .. }
        | PrepProblem::AllAway
        | PrepProblem::NothingKnown
        | PrepProblem::StepWithoutTime { .. }
        | PrepProblem::NoSteps { .. }
        | PrepProblem::NothingToBuy => {}
    }
}
