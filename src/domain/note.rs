//! What is asked, and what is said beside an answer.

use chrono::{NaiveDate, NaiveTime};

use super::avoid::Avoided;
use super::caution::Cautioned;
use super::ids::QuestionId;
use super::kitchen::Choice;
use super::mass::Mass;
use super::open_question::{KEEPER, PLATE, SET_UP};
use super::problem::ProblemKind;
use crate::lang::syntax::SettingPart;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum About {
    WhichBatch,
    WhichFood,
    HowMuch,
    /// How many grams of one thing on a plate: its options are the whole message with a stand-in for
    /// them, and as it was told, and are not offered.
    Grams,
    WhichWeighing,
    /// How cold it is in a place that nobody has told of.
    WhichPlace,
    WhichTimer,
    Confirm,
    /// A plate is offered to be booked.
    Plate,
    /// Who is to keep the household from here on.
    Keeper,
    /// What is to hold of a setting, when a household begins.
    SetUp(SettingPart),
    Who,
    When,
}

impl About {
    /// The stable word in the bridge's data.
    pub fn word(self) -> &'static str {
        match self {
            Self::WhichBatch => "which_batch",
            Self::WhichFood => "which_food",
            Self::HowMuch => "how_much",
            Self::Grams => "grams",
            Self::WhichWeighing => "which_weighing",
            Self::WhichPlace => "which_place",
            Self::WhichTimer => "which_timer",
            Self::Confirm => "confirm",
            Self::Plate => PLATE,
            Self::Keeper => KEEPER,
            Self::SetUp(_) => SET_UP,
            Self::Who => "who",
            Self::When => "when",
        }
    }
}

/// A question, with the problem that raised it.
#[derive(Debug, Clone, PartialEq)]
pub struct Ask {
    pub question: QuestionId,
    pub about: About,
    /// What the question is about, as typed.
    pub words: String,
    pub problem: Option<ProblemKind>,
    pub options: Vec<Choice>,
}

/// Something to say beside an answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Note {
    /// A little more was taken than the books held; recorded all the same.
    SlightlyMore { name: String, over: Mass },
    /// A yield outside what cooking usually gives: asked about, never refused.
    OddYield { factor: f64 },
    /// Lines were added after weighing: the weighed total stands.
    WeightStands { net: Mass },
    /// A pinch: named, not counted.
    NotCounted { words: String },
    /// Taken for the whole batch, though portions were drawn before.
    WholeBatch { drawn: Mass },
    /// A batch was put in several places; it is kept whole, in none of them.
    OnePlaceOnly { places: Vec<String> },
    /// The day that was told is before the batch was made.
    MadeLater { name: String, made_on: NaiveDate },
    /// The hour that was told is long before the batch was in the books.
    MadeSince { name: String, at: NaiveTime },
    /// It was drawn after its use-by day; recorded all the same.
    PastDate { name: String, due_on: NaiveDate },
    /// A share of it was told while somebody had taken of it unweighed.
    TakenBefore { name: String },
    /// Counts of so many dishes lean one way: the scale may be off.
    CheckScale { dishes: usize, less: bool },
    /// So little is left that it is taken for nothing: it leaves the board, and stays in the books.
    Finished { name: String, left: Mass },
    /// Of what is to be at home less is left: it was put on the shopping list.
    RunsLow {
        name: String,
        left: Mass,
        kept: Mass,
    },
    /// The last usual portion of it was drawn.
    LowStock {
        name: String,
        left: Mass,
        /// So much of it is to be kept ready.
        par: Option<Mass>,
    },
    /// Somebody avoids what is on their plate.
    Avoided(Avoided),
    /// It may do harm: what is said of it is data.
    Caution(Cautioned),
    /// What came off the plates of a meal, by whose they are.
    OffPlates(Vec<(String, Mass)>),
    /// No meal is booked that it could be of: what is in it is unknown.
    NoMeal,
    /// Portions eaten before now show other figures.
    Recomputed { portions: usize },
}
