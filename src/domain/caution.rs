//! What is cautioned of, as values: which caution, and the batch that it is about. `decide/caution.rs` tells when,
//! `render` words it.

use chrono::{DateTime, Utc};

use super::answer::{Answer, Note};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Caution {
    PastDate,
    CoolRice,
    CoolShallow,
    Cool,
    Poultry,
    Mince,
    Reheat,
    ReheatRice,
    Refreeze,
    RefreezeWarm,
    Marinade,
    LowOxygen,
    GarlicOil,
    ThinBrine,
    StoodOut,
}

impl Caution {
    /// Every caution, with its stable word in the bridge's data.
    pub const ALL: [(Caution, &'static str); 15] = [
        (Caution::PastDate, "past date"),
        (Caution::CoolRice, "cool rice"),
        (Caution::CoolShallow, "cool shallow"),
        (Caution::Cool, "cool"),
        (Caution::Poultry, "poultry"),
        (Caution::Mince, "mince"),
        (Caution::Reheat, "reheat"),
        (Caution::ReheatRice, "reheat rice"),
        (Caution::Refreeze, "refreeze"),
        (Caution::RefreezeWarm, "refreeze warm"),
        (Caution::Marinade, "marinade"),
        (Caution::LowOxygen, "low oxygen"),
        (Caution::GarlicOil, "garlic oil"),
        (Caution::ThinBrine, "thin brine"),
        (Caution::StoodOut, "stood out"),
    ];

    pub fn word(self) -> &'static str {
        let known = Self::ALL.iter().find(|(known, _)| *known == self);
        known.expect("every caution has a word").1
    }

    pub fn from_word(word: &str) -> Option<Self> {
        let known = Self::ALL.iter().find(|(_, known)| *known == word);
        known.map(|(caution, _)| *caution)
    }

    /// What holds for anything that is cooked: said of one pot of a day, it need not be said of the next.
    pub fn is_general(self) -> bool {
        matches!(
            self,
            Self::CoolRice
                | Self::CoolShallow
                | Self::Cool
                | Self::Poultry
                | Self::Mince
                | Self::Reheat
                | Self::ReheatRice
        )
    }
}

/// A caution, and the name of what it is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cautioned {
    pub caution: Caution,
    pub about: String,
}

/// The cautions that were said last in a chat.
#[derive(Debug, Clone, PartialEq)]
pub struct Said {
    pub cautions: Vec<Cautioned>,
    pub at: DateTime<Utc>,
    /// Nothing was said since, or the message is a reply to them.
    pub meant: bool,
    pub dated: Option<Dated>,
}

/// The answer that is meant told until when food may be eaten, and cautioned of nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Dated {
    /// The batches, by their codes.
    pub batches: Vec<String>,
    pub at: DateTime<Utc>,
}

/// What these answers caution of.
pub fn of(answers: &[Answer]) -> Vec<Cautioned> {
    let notes = answers.iter().flat_map(Answer::noted);
    let cautions = notes.filter_map(|note| match note {
        Note::Caution(cautioned) => Some(cautioned.clone()),
        Note::PastDate { name, .. } => Some(Cautioned {
            caution: Caution::PastDate,
            about: name.clone(),
        }),
        _ => None,
    });
    cautions.collect()
}
