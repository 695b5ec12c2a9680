//! Where a batch came from. Whatever stands in stock is a batch, also what nobody cooked here.

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Origin {
    /// In this kitchen, from the lines of a recipe.
    #[default]
    Cooked,
    /// A plain food or a packet, as it was bought.
    Bought,
    /// It stood there before the books began: what went into it nobody told.
    Before,
    /// What was left of a meal.
    Leftover,
    /// Meals packed from other batches.
    Boxed,
    /// The rest of a batch with something added.
    ToppedUp,
}

impl Origin {
    pub const ALL: [(Origin, &'static str); 6] = [
        (Origin::Cooked, "cooked"),
        (Origin::Bought, "bought"),
        (Origin::Before, "before"),
        (Origin::Leftover, "leftover"),
        (Origin::Boxed, "boxed"),
        (Origin::ToppedUp, "topped_up"),
    ];

    /// The word in the store and in the data of the bridge.
    pub fn word(self) -> &'static str {
        let known = Self::ALL.iter().find(|(known, _)| *known == self);
        known.expect("every origin has a word").1
    }

    pub fn from_word(word: &str) -> Option<Self> {
        let known = Self::ALL.iter().find(|(_, known)| *known == word);
        known.map(|(origin, _)| *origin)
    }

    /// It was put together from what stood in stock, and nothing of it was cooked for it.
    pub fn is_of_others(self) -> bool {
        matches!(self, Origin::Leftover | Origin::Boxed | Origin::ToppedUp)
    }
}
