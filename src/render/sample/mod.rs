//! Answers of one invented household, for the tests of this layer.

mod answers;
pub mod clock;
mod count;
mod problem;

use chrono::NaiveDate;

use crate::domain::answer::*;
use crate::domain::assumption::{Assumption, FoodState};
use crate::domain::batch::{LineState, PourKind};
use crate::domain::ids::*;
use crate::domain::keeping::{UseBy, Why};
use crate::domain::kitchen::{Choice, Settings};
use crate::domain::mass::Mass;
use crate::domain::nutrients::Totals;
use crate::domain::origin::Origin;
use crate::domain::problem::ProblemKind;
use crate::foods::{self, Code, Nutrient, Profile};
use crate::lang::syntax::{AnswerStyle, MealName};
use crate::lang::{self, Sense, Vocabulary};

pub use answers::{batches, notes, portions};
pub use count::{counted, sheet, taken, tares};
pub use problem::problems;

pub const MESSAGE: MessageId = MessageId(41);

pub fn settings(answers: AnswerStyle) -> Settings {
    Settings {
        answers,
        ..Settings::of_zone(chrono_tz::Europe::Dublin)
    }
}

pub fn g(grams: f64) -> Mass {
    Mass::from_grams(grams).expect("a kitchen mass")
}

pub fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 10, 14).expect("a day of the calendar")
}

fn profile(code: u32) -> Profile {
    foods::table()
        .get(Code(code))
        .expect("a food of the table")
        .per_100g
}

pub fn line(number: u32, text: &str, code: u32, grams: f64) -> LineView {
    let food = foods::table().get(Code(code)).expect("a food of the table");
    LineView {
        number,
        text: text.into(),
        part: None,
        state: LineState::Known,
        taken_as: Some(food.description.to_string()),
        food: Some(Code(code)),
        batch: None,
        packet: None,
        mass: Some(g(grams)),
        estimated: false,
        assumptions: Vec::new(),
    }
}

fn measured(number: u32, text: &str, code: u32, grams: f64, row: &str) -> LineView {
    LineView {
        estimated: true,
        assumptions: vec![Assumption::Measure(row.into())],
        ..line(number, text, code, grams)
    }
}

pub fn unreadable(number: u32, text: &str, state: LineState) -> LineView {
    LineView {
        state,
        taken_as: None,
        food: None,
        mass: None,
        ..line(number, text, 2047, 1.0)
    }
}

/// A batch of these lines with this net weight, by arithmetic of its own.
pub fn view(name: &str, code: &str, lines: Vec<LineView>, net: f64) -> BatchView {
    let mut totals = Totals::default();
    for line in &lines {
        match (line.state, line.food, line.mass) {
            (LineState::Uncounted, _, _) => {}
            (_, Some(code), Some(mass)) => totals.add(&Totals::of(&profile(code.0), mass)),
            _ => totals.add(&Totals::unknown()),
        }
    }
    BatchView {
        id: BatchId(7),
        code: code.into(),
        name: name.into(),
        estimated: false,
        about: false,
        raw: false,
        origin: Origin::Cooked,
        dated: true,
        pieces: None,
        made_on: today(),
        raw_mass: lines.iter().filter_map(|line| line.mass).sum(),
        net_mass: g(net),
        expected: None,
        left: g(net),
        per_100g: totals.scaled(100.0 / net),
        allergens: Default::default(),
        avoided: Vec::new(),
        numbers: true,
        totals,
        lines,
        poured: Vec::new(),
        lots: vec![lot(name, code, Some("freezer"), net, None)],
    }
}

pub fn lot(
    name: &str,
    code: &str,
    place: Option<&str>,
    grams: f64,
    use_by: Option<NaiveDate>,
) -> LotView {
    LotView {
        batch: Some(code.into()),
        name: name.into(),
        place: place.map(Into::into),
        vessel: None,
        mass: Some(g(grams)),
        balance: g(grams),
        frozen: place == Some("freezer"),
        frozen_on: (place == Some("freezer")).then(today),
        due: use_by.map(|on| UseBy {
            on,
            first_on: on,
            why: Why::Ingredient,
        }),
        usual: None,
        made_on: today(),
        dated: true,
        origin: Origin::Cooked,
        nutrients_unknown: false,
        taken: false,
        pieces: None,
    }
}

pub fn dal() -> BatchView {
    let lines = vec![
        line(1, "500 g red lentils", 16069, 500.0),
        measured(2, "2 tbsp sunflower oil", 4506, 27.2, "tbsp"),
        measured(3, "1 medium onion", 11282, 110.0, "medium (2-1/2\" dia)"),
        LineView {
            estimated: true,
            assumptions: vec![Assumption::Volume],
            ..line(4, "400 ml coconut milk", 12118, 382.0)
        },
        line(5, "10 g salt", 2047, 10.0),
    ];
    view("lentil dal", "D7", lines, 1840.0)
}

pub fn batch(event: BatchEvent, view: BatchView) -> BatchAnswer {
    BatchAnswer {
        made_today: true,
        event,
        view,
        notes: Vec::new(),
        pending: Vec::new(),
        message: MESSAGE,
    }
}

/// The dal before it was weighed, with everything that can be wrong with a line.
pub fn unclear_dal() -> BatchAnswer {
    let mut lines = dal().lines;
    lines.push(unreadable(6, "12 quonks flour", LineState::Pending));
    lines.push(unreadable(7, "salt to taste", LineState::Uncounted));
    lines.push(unreadable(8, "cumin", LineState::NoMass));
    lines.push(LineView {
        mass: Some(g(80.0)),
        ..unreadable(9, "80 g zorbleaf", LineState::NoFood)
    });
    let mut view = view("lentil dal", "D7", lines, 2240.0);
    (view.estimated, view.about) = (true, true);
    view.lots[0].mass = None;
    BatchAnswer {
        made_today: true,
        pending: vec![
            (
                6,
                ProblemKind::UnknownUnit {
                    word: "quonks".into(),
                }
                .anywhere(),
            ),
            (
                9,
                ProblemKind::UnknownFood {
                    words: "zorbleaf".into(),
                    near: vec![Code(11457), Code(11282)],
                }
                .anywhere(),
            ),
        ],
        ..batch(BatchEvent::Opened, view)
    }
}

/// Chicken with a marinade of its own part, some of it poured away.
pub fn marinated() -> BatchAnswer {
    let mut lines = vec![
        line(1, "900 g chicken thigh", 5096, 900.0),
        line(2, "120 g soy sauce", 16123, 120.0),
        line(3, "40 g honey", 19296, 40.0),
    ];
    for line in &mut lines[1..] {
        line.part = Some("marinade".into());
    }
    lines[0].assumptions = vec![Assumption::Kinds(vec![Code(5091), Code(5098)])];
    let mut view = view("sticky chicken", "S2", lines, 640.0);
    view.poured = vec![
        PouredView {
            kind: PourKind::Part("marinade".into()),
            mass: g(95.0),
            absorbed: Some(g(65.0)),
            guessed_lines: vec!["120 g soy sauce".into(), "40 g honey".into()],
        },
        PouredView {
            kind: PourKind::Fat,
            mass: g(35.0),
            absorbed: None,
            guessed_lines: Vec::new(),
        },
    ];
    let mut answer = batch(BatchEvent::PouredOff(g(95.0)), view);
    answer.notes = vec![Note::OddYield { factor: 6.2 }];
    answer
}

pub fn of_batch(view: &BatchView, grams: f64, left: f64) -> PortionLine {
    PortionLine {
        name: view.name.clone(),
        batch: Some(view.code.clone()),
        food: None,
        packet: None,
        mass: g(grams),
        mass_estimated: false,
        left: Some(g(left)),
        left_pieces: None,
        batch_estimated: view.estimated,
        totals: view.per_100g.scaled(grams / 100.0),
        lots: Vec::new(),
        of_several: false,
        told_privately: false,
        assumptions: Vec::new(),
    }
}

pub fn of_food(code: u32, grams: f64) -> PortionLine {
    let food = foods::table().get(Code(code)).expect("a food of the table");
    PortionLine {
        name: food.description.to_string(),
        batch: None,
        food: Some(Code(code)),
        packet: None,
        mass: g(grams),
        mass_estimated: false,
        left: None,
        left_pieces: None,
        batch_estimated: false,
        totals: Totals::of(&profile(code), g(grams)),
        lots: Vec::new(),
        of_several: false,
        told_privately: false,
        assumptions: Vec::new(),
    }
}

/// What was on these plates today.
pub fn day(plates: Vec<PlateView>) -> DayAnswer {
    DayAnswer {
        of: crate::domain::ids::MemberId(1),
        member: "Robin".into(),
        day: today(),
        totals: plates[0].totals.clone(),
        plates,
        targets: Vec::new(),
        numbers: true,
    }
}

pub fn plate(member: &str, meal: Option<MealName>, lines: Vec<PortionLine>) -> PlateView {
    let mut totals = Totals::default();
    lines.iter().for_each(|line| totals.add(&line.totals));
    PlateView {
        id: crate::domain::ids::AccountId(1),
        of: crate::domain::ids::MemberId(1),
        numbers: true,
        member: member.into(),
        day: today(),
        long_ago: false,
        meal,
        lines,
        totals,
    }
}

pub fn portion(plates: Vec<PlateView>) -> PortionAnswer {
    PortionAnswer {
        plates,
        notes: Vec::new(),
        message: MESSAGE,
    }
}

/// Dal and barley from batches, oil by the spoon, dry rice taken as dry.
pub fn dinner() -> PortionAnswer {
    let barley = view(
        "barley",
        "B3",
        vec![line(1, "500 g barley", 20005, 500.0)],
        1480.0,
    );
    let mut oil = of_food(4053, 9.0);
    oil.mass_estimated = true;
    oil.assumptions = vec![Assumption::Measure("tsp".into())];
    let mut rice = of_food(20044, 60.0);
    rice.assumptions = vec![Assumption::State {
        taken: FoodState::Dry,
        other: Code(20045),
    }];
    portion(vec![plate(
        "Robin",
        Some(MealName::Dinner),
        vec![
            of_batch(&dal(), 140.0, 1700.0),
            of_batch(&barley, 180.0, 640.0),
            oil,
            rice,
        ],
    )])
}

pub fn miso() -> PacketAnswer {
    let mut per_100g = Profile::default();
    for (nutrient, amount) in [
        (Nutrient::EnergyKcal, 832.0),
        (Nutrient::Protein, 12.0),
        (Nutrient::Fat, 6.0),
        (Nutrient::Carbohydrate, 26.0),
        (Nutrient::Sodium, 3720.0),
    ] {
        per_100g.set(nutrient, Some(amount));
    }
    PacketAnswer {
        name: "miso paste".into(),
        per_100g,
        serving: Some(g(18.0)),
        by_volume: false,
        doubt: Some(LabelDoubt::Energy {
            printed_kcal: 832.0,
            low_kcal: 184.4,
            high_kcal: 206.0,
            looks_like_kj: true,
        }),
        message: MESSAGE,
    }
}

pub fn ask(about: About, words: &str, problem: Option<ProblemKind>, labels: &[&str]) -> Ask {
    Ask {
        question: QuestionId(3),
        about,
        words: words.into(),
        problem,
        options: labels
            .iter()
            .map(|label| Choice {
                label: (*label).into(),
                says: (*label).into(),
            })
            .collect(),
    }
}

/// An example that the bot shows must be one that it can read, in the kitchen of these tests.
#[track_caller]
pub fn is_understood(example: &str) {
    let mut vocabulary = Vocabulary::new();
    for (sense, name) in [
        (Sense::Batch, "lentil dal"),
        (Sense::Batch, "barley"),
        (Sense::Batch, "roast parsnips"),
        (Sense::Batch, "quonk"),
        (Sense::Code, "D7"),
        (Sense::Container, "blue pot"),
        (Sense::Measure, "ladle"),
        (Sense::Person, "Ana"),
        (Sense::Person, "Robin"),
        (Sense::Place, "freezer"),
    ] {
        vocabulary.add(sense, name);
    }
    let parsed = lang::parse(example, &vocabulary);
    let best = parsed.best();
    assert!(
        best.errors.is_empty() && !best.commands.is_empty(),
        "{example}: {:?}",
        best.errors
    );
}
