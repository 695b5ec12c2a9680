//! What cannot be of what people avoid, by name.

#[derive(Debug, Clone, PartialEq)]
pub enum AvoidProblem {
    /// Nothing like it was told of them.
    NotTold { who: String, what: Option<String> },
    /// That somebody may have it after all is theirs to say.
    TheirsToSay { who: String },
    /// What is in it, its ingredients tell.
    CookedHere { dish: String, batch: String },
}

impl AvoidProblem {
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotTold { .. } => "not_avoided",
            Self::TheirsToSay { .. } => "theirs_to_say",
            Self::CookedHere { .. } => "cooked_here",
        }
    }
}
