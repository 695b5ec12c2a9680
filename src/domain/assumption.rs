//! What was assumed when words were taken for a food and a mass, to be said in the answer and kept
//! with the line.

use super::mass::Mass;
use crate::foods;

#[derive(Debug, Clone, PartialEq)]
pub enum Assumption {
    /// The food's state was not said; the plain one was taken, the other stands beside it.
    State {
        taken: FoodState,
        other: foods::Code,
    },
    /// Kinds differ by fat, cut or preparation; the plain one was taken.
    Kinds(Vec<foods::Code>),
    /// A measure of the table gave the weight: its row's words.
    Measure(String),
    /// A volume was turned into a weight by the food's own density.
    Volume,
    /// The same, by a typical density.
    TypicalDensity,
    /// The words were spelled otherwise.
    Spelling(String),
    /// A tin's printed weight, less what is drained off it.
    DrainedShare,
    /// It was counted, and one weighs so much.
    Piece(Mass),
    /// Both measures were given and the weighed one was taken.
    WeighedWins,
    /// It stands as the recipe says, and nobody has weighed it yet.
    Planned,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FoodState {
    Raw,
    Dry,
    Cooked,
}

impl FoodState {
    pub fn word(self) -> &'static str {
        match self {
            Self::Raw => "raw",
            Self::Dry => "dry",
            Self::Cooked => "cooked",
        }
    }
}

/// As one text for the books: `word=argument` joined with "; ".
pub fn encode(assumptions: &[Assumption]) -> Option<String> {
    let parts: Vec<String> = assumptions.iter().map(encode_one).collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}

fn encode_one(assumption: &Assumption) -> String {
    match assumption {
        Assumption::State { taken, other } => format!("{}={other}", taken.word()),
        Assumption::Kinds(codes) => {
            let codes: Vec<String> = codes.iter().map(ToString::to_string).collect();
            format!("kinds={}", codes.join(","))
        }
        Assumption::Measure(row) => format!("measure={}", row.replace(';', ",")),
        Assumption::Volume => "volume=".into(),
        Assumption::TypicalDensity => "density=".into(),
        Assumption::Spelling(words) => format!("spelling={}", words.replace(';', ",")),
        Assumption::DrainedShare => "drained=".into(),
        Assumption::Piece(each) => format!("piece={}", each.mg()),
        Assumption::WeighedWins => "weighed=".into(),
        Assumption::Planned => "planned=".into(),
    }
}

/// Back from the books; what is not known (a newer word) is passed over.
pub fn decode(text: &str) -> Vec<Assumption> {
    text.split("; ").filter_map(decode_one).collect()
}

fn decode_one(part: &str) -> Option<Assumption> {
    let (word, argument) = part.split_once('=')?;
    let state = |taken| {
        Some(Assumption::State {
            taken,
            other: argument.parse().ok()?,
        })
    };
    match word {
        "raw" => state(FoodState::Raw),
        "dry" => state(FoodState::Dry),
        "cooked" => state(FoodState::Cooked),
        "kinds" => Some(Assumption::Kinds(
            argument
                .split(',')
                .filter_map(|code| code.parse().ok())
                .collect(),
        )),
        "measure" => Some(Assumption::Measure(argument.into())),
        "volume" => Some(Assumption::Volume),
        "density" => Some(Assumption::TypicalDensity),
        "spelling" => Some(Assumption::Spelling(argument.into())),
        "drained" => Some(Assumption::DrainedShare),
        "piece" => Some(Assumption::Piece(Mass::from_mg(argument.parse().ok()?))),
        "weighed" => Some(Assumption::WeighedWins),
        "planned" => Some(Assumption::Planned),
        _ => None,
    }
}
