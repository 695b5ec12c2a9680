//! What is answered of what people avoid, as values.

use super::super::ids::MessageId;
use super::{Avoidance, Avoided};

#[derive(Debug, Clone, PartialEq)]
pub enum AvoidAnswer {
    /// What somebody avoids from here on, or does so no more.
    Told {
        who: Eater,
        told: Vec<Avoidance>,
        message: MessageId,
    },
    /// What some people avoid; those who were asked of and avoid nothing are there as well.
    Listed(Vec<(Eater, Vec<Avoidance>)>),
    /// Whether a dish has anything of what somebody avoids.
    Of {
        who: Eater,
        dish: String,
        batch: Option<String>,
        avoids: Vec<Avoidance>,
        found: Vec<Avoided>,
    },
    /// What is in a thing that is bought, by all that was told.
    Contents {
        name: String,
        things: Vec<String>,
        /// Nothing else is in it.
        whole: bool,
        /// The lists' labels of what they carry.
        allergens: Vec<String>,
        message: MessageId,
    },
    /// What is in a dish, or in each that stands here.
    In {
        asked: Asked,
        dishes: Vec<InDish>,
        /// The dish was named.
        named: bool,
    },
}

/// What was looked for.
#[derive(Debug, Clone, PartialEq)]
pub enum Asked {
    Allergens,
    What(String),
    Person(Eater, Vec<Avoidance>),
}

/// What a pot has of what was looked for.
#[derive(Debug, Clone, PartialEq)]
pub struct InDish {
    pub name: String,
    /// Its code; a packet has none.
    pub batch: Option<String>,
    /// What of it, and in which ingredients.
    pub found: Vec<(String, Vec<String>)>,
    /// Ingredients of which nobody can tell.
    pub unknown: Vec<String>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Eater {
    pub name: String,
    /// The reader.
    pub you: bool,
}

impl AvoidAnswer {
    /// The message that it can be taken back with.
    pub fn taken_back_with(&self) -> Option<MessageId> {
        match self {
            Self::Told { message, .. } | Self::Contents { message, .. } => Some(*message),
            _ => None,
        }
    }
}
