//! What is unclear or impossible, by name. A problem records nothing.

use super::avoid::problem::AvoidProblem;
use super::clock::problem::ClockProblem;
use super::cookbook::problem::CookbookProblem;
use super::label::LabelProblem;
use chrono::NaiveDate;

use super::finder::problem::FinderProblem;
use super::mass::Mass;
use super::personal::problem::PersonalProblem;
use super::prep::problem::PrepProblem;
use super::table::problem::TableProblem;
use crate::foods;
use crate::lang::syntax::Span;

/// A problem, and the place in the message to point at.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    pub kind: ProblemKind,
    pub span: Option<Span>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum ProblemKind {
    /// Of cooking ahead.
    Prep(PrepProblem),
    /// Of dishes that were cooked before.
    Cookbook(CookbookProblem),
    NotUnderstood,
    UnknownFood {
        words: String,
        near: Vec<foods::Code>,
    },
    /// No batch, packet, container or person of that name.
    UnknownName {
        words: String,
        near: Vec<String>,
    },
    /// Two people of the household have this name.
    SeveralCalled {
        name: String,
    },
    UnknownUnit {
        word: String,
    },
    /// The food is known, and how much one such measure of it weighs is not.
    UnknownMeasure {
        measure: String,
        name: String,
    },
    NotAMass {
        text: String,
    },
    MissingAmount {
        name: String,
    },
    MissingName,
    /// A batch has ingredients and no name.
    NamelessBatch,
    MissingFigures,
    LeftOver {
        text: String,
    },
    Malformed {
        form: &'static str,
    },
    NoSuchDate {
        text: String,
    },
    FutureDate,
    /// A day cannot end at that hour.
    TurnsTooLate {
        at: String,
    },
    BelowTare {
        gross: Mass,
        tare: Mass,
    },
    /// A vessel was named whose empty weight nobody has said.
    UnknownTare {
        name: String,
    },
    /// One pot was said to weigh this and that.
    SeveralWeighings {
        words: Vec<String>,
    },
    /// More was taken than the books hold, by more than scales drift.
    TooMuch {
        name: String,
        asked: Mass,
        left: Mass,
    },
    /// What was changed leaves a batch with less than was taken from it.
    MoreTaken {
        name: String,
        taken: Mass,
        holds: Mass,
    },
    /// Nobody has told how cold it is there.
    UnknownPlace {
        name: String,
    },
    /// It was not yet made on the day on which it is said to have been moved.
    BeforeMade {
        name: String,
        made: NaiveDate,
    },
    /// It would be due before it was made, or bought.
    DateOrder {
        made: NaiveDate,
        use_by: NaiveDate,
    },
    /// More was left of a meal than was on its plates, or nearly all of it.
    MuchLeft {
        left: Mass,
        plates: Mass,
    },
    /// What was left of a meal is about as much as stands in its pots.
    LeftInPot {
        left: Mass,
        pots: Mass,
        name: String,
    },
    /// Nothing of it stands in a freezer.
    NotFrozen {
        name: String,
    },
    /// All of it stands there already.
    NothingToMove {
        name: String,
    },
    /// The batches of that name are used up.
    UsedUp {
        name: String,
        food: Option<foods::Code>,
    },
    /// Others have eaten from it, so it cannot be taken back.
    InUse {
        name: String,
        drawn: Mass,
    },
    /// What would come back was drawn from a batch that has been taken back itself.
    TakenBack {
        name: String,
    },
    NoSuchLine {
        number: u32,
        lines: u32,
    },
    /// A question was answered with a number that it does not have.
    NoSuchOption {
        number: u32,
        options: u32,
    },
    /// A count is far from what the books hold.
    FarFromBooks {
        dishes: Vec<FarCount>,
    },
    /// No count of late has missed any of it.
    NothingMissing {
        name: Option<String>,
    },
    /// By the books nothing of it stands in that place.
    NotThere {
        name: String,
        place: String,
    },
    /// Another dish stands in that vessel by the books.
    VesselHolds {
        vessel: String,
        /// With its code.
        name: String,
        held: Option<Mass>,
    },
    /// The same plate was told a moment ago.
    SamePlate {
        member: String,
    },
    /// A part of a pot, by eye, is more than one person eats.
    BigPlate {
        mass: Mass,
    },
    /// The very same message was booked a moment ago.
    SaidTwice,
    /// A running reading is below the one before.
    ScaleFell {
        last: Mass,
    },
    /// What is topped up weighs no less than before.
    NoMoreThan {
        name: String,
        held: Mass,
        whole: Mass,
    },
    /// It was counted after all of it is said to have gone elsewhere.
    CountedSince {
        name: String,
        held: Mass,
    },
    /// A reading above the one before it: with what was there, or by itself?
    OnTop {
        below: Mass,
        reading: Mass,
    },
    /// A jar weighs more than before.
    JarGained {
        before: Mass,
        after: Mass,
    },
    /// There is nothing on the last plate that a correction could mean.
    NothingToFix,
    /// There is no such plate to eat again.
    NothingToRepeat,
    /// A correction fits several lines.
    WhichLine,
    NothingToUndo,
    NothingToRedo,
    NotYours {
        owner: String,
    },
    NoQuestion,
    /// An open question was answered with a yes, and has none.
    NoAnswer {
        about: String,
        choices: u32,
    },
    /// The question is to somebody else.
    NotAsked {
        asked: String,
    },
    /// A batch cannot be an ingredient of itself.
    Circular {
        name: String,
    },
    Label(LabelProblem),
    Clock(ClockProblem),
    /// Of what people choose for themselves.
    Personal(PersonalProblem),
    Finder(FinderProblem),
    /// Of what people avoid.
    Avoid(AvoidProblem),
    /// Of who is at the table.
    Table(TableProblem),
    NotYet {
        capability: String,
    },
}

/// A count, and what the books hold.
#[derive(Debug, Clone, PartialEq)]
pub struct FarCount {
    pub name: String,
    pub place: Option<String>,
    pub counted: Mass,
    pub booked: Mass,
    pub weighed_in: Option<WeighedIn>,
}

/// What the scale showed with a vessel that came off.
#[derive(Debug, Clone, PartialEq)]
pub struct WeighedIn {
    pub gross: Mass,
    /// What it is called, if that was said.
    pub vessel: Option<String>,
}

impl ProblemKind {
    /// The stable code in the bridge's data.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Prep(problem) => problem.code(),
            Self::Cookbook(problem) => problem.code(),
            Self::NotUnderstood => "not_understood",
            Self::UnknownFood { .. } => "unknown_food",
            Self::UnknownName { .. } | Self::SeveralCalled { .. } => "unknown_name",
            Self::UnknownUnit { .. } => "unknown_unit",
            Self::UnknownMeasure { .. } => "unknown_measure",
            Self::NotAMass { .. } => "not_a_mass",
            Self::MissingAmount { .. } => "missing_amount",
            Self::MissingName => "missing_name",
            Self::NamelessBatch => "nameless_batch",
            Self::MissingFigures => "missing_figures",
            Self::LeftOver { .. } => "left_over",
            Self::Malformed { .. } => "malformed",
            Self::NoSuchDate { .. } => "no_such_date",
            Self::FutureDate => "future_date",
            Self::TurnsTooLate { .. } => "turns_too_late",
            Self::BelowTare { .. } => "below_tare",
            Self::UnknownTare { .. } => "unknown_tare",
            Self::TooMuch { .. } | Self::MoreTaken { .. } => "too_much",
            Self::SeveralWeighings { .. } => "several_weighings",
            Self::UsedUp { .. } => "used_up",
            Self::UnknownPlace { .. } => "unknown_place",
            Self::BeforeMade { .. } => "before_made",
            Self::DateOrder { .. } => "date_order",
            Self::MuchLeft { .. } => "much_left",
            Self::LeftInPot { .. } => "left_in_pot",
            Self::NotFrozen { .. } => "not_frozen",
            Self::NothingToMove { .. } => "nothing_to_move",
            Self::InUse { .. } => "in_use",
            Self::TakenBack { .. } => "taken_back",
            Self::NoSuchLine { .. } => "no_such_line",
            Self::NoSuchOption { .. } | Self::NoAnswer { .. } => "no_such_option",
            Self::FarFromBooks { .. } => "far_from_books",
            Self::NotThere { .. } => "not_there",
            Self::VesselHolds { .. } => "vessel_holds",
            Self::NothingMissing { .. } => "nothing_missing",
            Self::SamePlate { .. } => "same_plate",
            Self::BigPlate { .. } => "big_plate",
            Self::SaidTwice => "said_twice",
            Self::ScaleFell { .. } => "scale_fell",
            Self::NoMoreThan { .. } => "no_more_than",
            Self::CountedSince { .. } => "counted_since",
            Self::OnTop { .. } => "on_top",
            Self::JarGained { .. } => "jar_gained",
            Self::NothingToFix => "nothing_to_fix",
            Self::NothingToRepeat => "nothing_to_repeat",
            Self::WhichLine => "which_line",
            Self::NothingToUndo => "nothing_to_undo",
            Self::NothingToRedo => "nothing_to_redo",
            Self::NotYours { .. } | Self::NotAsked { .. } => "not_yours",
            Self::NoQuestion => "no_question",
            Self::Circular { .. } => "circular",
            Self::Label(problem) => problem.code(),
            Self::Clock(problem) => problem.code(),
            Self::Personal(problem) => problem.code(),
            Self::Finder(problem) => problem.code(),
            Self::Table(problem) => problem.code(),
            Self::Avoid(problem) => problem.code(),
            Self::NotYet { .. } => "not_yet",
        }
    }

    pub fn at(self, span: Span) -> Problem {
        Problem {
            kind: self,
            span: Some(span),
        }
    }

    pub fn anywhere(self) -> Problem {
        Problem {
            kind: self,
            span: None,
        }
    }
}
