//! Problems of every kind.

use super::{clock, g};
use crate::domain::avoid::problem::AvoidProblem;
use crate::domain::finder::problem::FinderProblem;
use crate::domain::label::LabelProblem;
use crate::domain::personal::problem::{PersonalProblem, ToDelete};
use crate::domain::personal::target::Target;
use crate::domain::problem::{FarCount, ProblemKind, WeighedIn};
use crate::domain::table::problem::TableProblem;
use crate::foods::Code;
use crate::lang::syntax::Aimed;
use crate::render::{cookbook, prep};

/// One problem of every kind, about these words.
pub fn problems(words: &str) -> Vec<ProblemKind> {
    let words = words.to_string();
    let near = vec![Code(11298), Code(11282)];
    let of_prep = prep::sample::problems().into_iter();
    let mut problems = vec![
        ProblemKind::NotUnderstood,
        ProblemKind::UnknownFood {
            words: words.clone(),
            near: near.clone(),
        },
        ProblemKind::UnknownFood {
            words: words.clone(),
            near: Vec::new(),
        },
        ProblemKind::UnknownName {
            words: words.clone(),
            near: vec!["blue pot".into()],
        },
        ProblemKind::UnknownName {
            words: words.clone(),
            near: Vec::new(),
        },
        ProblemKind::SeveralCalled {
            name: words.clone(),
        },
        ProblemKind::UnknownUnit {
            word: words.clone(),
        },
        ProblemKind::UnknownMeasure {
            measure: words.clone(),
            name: words.clone(),
        },
        ProblemKind::NotAMass {
            text: words.clone(),
        },
        ProblemKind::MissingAmount {
            name: words.clone(),
        },
        ProblemKind::MissingName,
        ProblemKind::NamelessBatch,
        ProblemKind::MissingFigures,
        ProblemKind::LeftOver {
            text: words.clone(),
        },
        ProblemKind::Malformed {
            form: "dal weighed 1840",
        },
        ProblemKind::NoSuchDate {
            text: words.clone(),
        },
        ProblemKind::FutureDate,
        ProblemKind::TurnsTooLate {
            at: "at 18:00".into(),
        },
        ProblemKind::BelowTare {
            gross: g(470.0),
            tare: g(812.0),
        },
        ProblemKind::UnknownTare {
            name: words.clone(),
        },
        ProblemKind::SeveralWeighings {
            words: vec!["250 g".into(), "260 g".into()],
        },
        ProblemKind::TooMuch {
            name: words.clone(),
            asked: g(900.0),
            left: g(640.0),
        },
        ProblemKind::MoreTaken {
            name: words.clone(),
            taken: g(500.0),
            holds: g(184.0),
        },
        ProblemKind::NotFrozen {
            name: words.clone(),
        },
        ProblemKind::NoMoreThan {
            name: words.clone(),
            held: g(760.0),
            whole: g(500.0),
        },
        ProblemKind::CountedSince {
            name: words.clone(),
            held: g(1290.0),
        },
        ProblemKind::NothingToMove {
            name: words.clone(),
        },
        ProblemKind::UsedUp {
            name: words.clone(),
            food: Some(Code(16070)),
        },
        ProblemKind::UsedUp {
            name: words.clone(),
            food: None,
        },
        ProblemKind::InUse {
            name: words.clone(),
            drawn: g(300.0),
        },
        ProblemKind::TakenBack {
            name: words.clone(),
        },
        ProblemKind::NoSuchLine {
            number: 9,
            lines: 5,
        },
        ProblemKind::NoSuchLine {
            number: 2,
            lines: 1,
        },
        ProblemKind::NoSuchLine {
            number: 1,
            lines: 0,
        },
        ProblemKind::NoSuchOption {
            number: 5,
            options: 3,
        },
        ProblemKind::NoSuchOption {
            number: 2,
            options: 1,
        },
        ProblemKind::NoSuchOption {
            number: 1,
            options: 0,
        },
        ProblemKind::FarFromBooks {
            dishes: vec![FarCount {
                name: words.clone(),
                place: None,
                counted: g(900.0),
                booked: g(1700.0),
                weighed_in: Some(WeighedIn {
                    gross: g(1712.0),
                    vessel: Some("blue pot".into()),
                }),
            }],
        },
        ProblemKind::FarFromBooks {
            dishes: vec![
                FarCount {
                    name: words.clone(),
                    place: Some("freezer".into()),
                    counted: g(64.0),
                    booked: g(640.0),
                    weighed_in: None,
                },
                FarCount {
                    name: "rice".into(),
                    place: None,
                    counted: g(0.0),
                    booked: g(720.0),
                    weighed_in: None,
                },
            ],
        },
        ProblemKind::NothingMissing {
            name: Some(words.clone()),
        },
        ProblemKind::NothingMissing { name: None },
        ProblemKind::NotThere {
            name: words.clone(),
            place: "freezer".into(),
        },
        ProblemKind::VesselHolds {
            vessel: "glass jar".into(),
            name: words.clone(),
            held: Some(g(340.0)),
        },
        ProblemKind::UnknownPlace {
            name: "cellar".into(),
        },
        ProblemKind::BeforeMade {
            name: words.clone(),
            made: super::today(),
        },
        ProblemKind::DateOrder {
            made: super::today(),
            use_by: super::today() - chrono::Days::new(3),
        },
        ProblemKind::NothingToUndo,
        ProblemKind::NothingToRedo,
        ProblemKind::NotYours {
            owner: words.clone(),
        },
        ProblemKind::SamePlate {
            member: words.clone(),
        },
        ProblemKind::BigPlate { mass: g(1300.0) },
        ProblemKind::SaidTwice,
        ProblemKind::ScaleFell { last: g(688.0) },
        ProblemKind::OnTop {
            below: g(390.0),
            reading: g(700.0),
        },
        ProblemKind::JarGained {
            before: g(418.0),
            after: g(431.0),
        },
        ProblemKind::MuchLeft {
            left: g(500.0),
            plates: g(330.0),
        },
        ProblemKind::MuchLeft {
            left: g(320.0),
            plates: g(330.0),
        },
        ProblemKind::LeftInPot {
            left: g(320.0),
            pots: g(355.0),
            name: "dal".into(),
        },
        ProblemKind::NothingToFix,
        ProblemKind::NothingToRepeat,
        ProblemKind::WhichLine,
        ProblemKind::NoQuestion,
        ProblemKind::NoAnswer {
            about: words.clone(),
            choices: 2,
        },
        ProblemKind::NotAsked {
            asked: words.clone(),
        },
        ProblemKind::Circular {
            name: words.clone(),
        },
        ProblemKind::Label(LabelProblem::Nothing {
            what: Some("dal".into()),
            place: Some("freezer".into()),
        }),
        ProblemKind::Label(LabelProblem::Nothing {
            what: None,
            place: Some("garage freezer".into()),
        }),
        ProblemKind::Label(LabelProblem::Size),
        ProblemKind::Label(LabelProblem::LargerThanPage),
        ProblemKind::Personal(PersonalProblem::ImpossibleTarget(Target {
            of: Aimed::Energy,
            least: Some(-5.0),
            most: Some(-5.0),
        })),
        ProblemKind::Personal(PersonalProblem::TargetOfWhat { figure: 130.0 }),
        ProblemKind::Personal(PersonalProblem::NoTarget { of: None }),
        ProblemKind::Personal(PersonalProblem::TargetOfAnother { name: "Ana".into() }),
        ProblemKind::Personal(PersonalProblem::DeleteWhat),
        ProblemKind::Personal(PersonalProblem::ForGood(ToDelete::Asker)),
        ProblemKind::Personal(PersonalProblem::ForGood(ToDelete::Member {
            name: "Tom".into(),
        })),
        ProblemKind::Personal(PersonalProblem::ForGood(ToDelete::Household)),
        ProblemKind::Personal(PersonalProblem::KeeperStays),
        ProblemKind::Personal(PersonalProblem::NoTarget {
            of: Some(Aimed::Fibre),
        }),
        ProblemKind::Table(TableProblem::NameTaken {
            name: "Annie".into(),
            by: "Ana".into(),
        }),
        ProblemKind::Table(TableProblem::NoNickname {
            who: "Ana".into(),
            name: Some("Annie".into()),
        }),
        ProblemKind::Table(TableProblem::NoNickname {
            who: "Ana".into(),
            name: None,
        }),
        ProblemKind::Table(TableProblem::KeeperOnly {
            keeper: "Robin".into(),
        }),
        ProblemKind::Table(TableProblem::IsHere { name: "Ana".into() }),
        ProblemKind::Table(TableProblem::KeepsAlready { name: "Ana".into() }),
        ProblemKind::Table(TableProblem::DoesNotChat { name: "Mia".into() }),
        ProblemKind::Table(TableProblem::OnlyOne),
        ProblemKind::Avoid(AvoidProblem::NotTold {
            who: "Ana".into(),
            what: Some(words.clone()),
        }),
        ProblemKind::Avoid(AvoidProblem::TheirsToSay { who: "Ana".into() }),
        ProblemKind::Avoid(AvoidProblem::CookedHere {
            dish: "lentil dal".into(),
            batch: "D7".into(),
        }),
        ProblemKind::Table(TableProblem::NotAtTable {
            keeper: Some("Robin".into()),
            removed: true,
        }),
        ProblemKind::Table(TableProblem::NotAtTable {
            keeper: Some("Robin".into()),
            removed: false,
        }),
        ProblemKind::Finder(FinderProblem::TooManyDishes { most: 5 }),
        ProblemKind::Finder(FinderProblem::ImpossibleAim),
        ProblemKind::Finder(FinderProblem::DayIsFull {
            of: Aimed::Energy,
            had: Some(2050.0),
        }),
        ProblemKind::Finder(FinderProblem::NothingReady),
        ProblemKind::Finder(FinderProblem::NothingKnown {
            names: vec![words.clone(), "dal".into()],
        }),
        ProblemKind::NotYet {
            capability: words.clone(),
        },
    ];
    problems.extend(of_prep.map(ProblemKind::Prep));
    let of_cookbook = cookbook::sample::problems(&words);
    problems.extend(of_cookbook.into_iter().map(ProblemKind::Cookbook));
    problems.extend(clock::problems(&words));
    problems.iter().for_each(is_listed);
    problems
}

/// A new kind of problem stops the build here: list it above.
fn is_listed(kind: &ProblemKind) {
    match kind {
        ProblemKind::NotUnderstood
        | ProblemKind::UnknownPlace { .. }
        | ProblemKind::BeforeMade { .. }
        | ProblemKind::DateOrder { .. }
        | ProblemKind::SamePlate { .. }
        | ProblemKind::BigPlate { .. }
        | ProblemKind::SaidTwice
        | ProblemKind::ScaleFell { .. }
        | ProblemKind::OnTop { .. }
        | ProblemKind::JarGained { .. }
        | ProblemKind::MuchLeft { .. }
        | ProblemKind::LeftInPot { .. }
        | ProblemKind::NothingToFix
        | ProblemKind::NothingToRepeat
        | ProblemKind::WhichLine
        | ProblemKind::UnknownFood { .. }
        | ProblemKind::UnknownName { .. }
        | ProblemKind::SeveralCalled { .. }
        | ProblemKind::UnknownUnit { .. }
        | ProblemKind::UnknownMeasure { .. }
        | ProblemKind::NotAMass { .. }
        | ProblemKind::MissingAmount { .. }
        | ProblemKind::MissingName
        | ProblemKind::NamelessBatch
        | ProblemKind::MissingFigures
        | ProblemKind::LeftOver { .. }
        | ProblemKind::Malformed { .. }
        | ProblemKind::NoSuchDate { .. }
        | ProblemKind::FutureDate
        | ProblemKind::TurnsTooLate { .. }
        | ProblemKind::BelowTare { .. }
        | ProblemKind::UnknownTare { .. }
        | ProblemKind::SeveralWeighings { .. }
        | ProblemKind::TooMuch { .. }
        | ProblemKind::NotFrozen { .. }
        | ProblemKind::NoMoreThan { .. }
        | ProblemKind::CountedSince { .. }
        | ProblemKind::NothingToMove { .. }
        | ProblemKind::UsedUp { .. }
        | ProblemKind::InUse { .. }
        | ProblemKind::TakenBack { .. }
        | ProblemKind::NoSuchLine { .. }
        | ProblemKind::NoSuchOption { .. }
        | ProblemKind::NoAnswer { .. }
        | ProblemKind::NotAsked { .. }
        | ProblemKind::FarFromBooks { .. }
        | ProblemKind::NotThere { .. }
        | ProblemKind::VesselHolds { .. }
        | ProblemKind::NothingMissing { .. }
        | ProblemKind::NothingToUndo
        | ProblemKind::NothingToRedo
        | ProblemKind::MoreTaken { .. }
        | ProblemKind::NotYours { .. }
        | ProblemKind::NoQuestion
        | ProblemKind::Circular { .. }
        | ProblemKind::Label(_)
        | ProblemKind::Prep(_)
        | ProblemKind::Cookbook(_)
        | ProblemKind::Clock(_)
        | ProblemKind::Personal(_)
        | ProblemKind::Finder(_)
        | ProblemKind::Table(_)
        | ProblemKind::Avoid(_)
        | ProblemKind::NotYet { .. } => {}
    }
}
