//! Why nothing comes of what is said of dishes that were cooked before.

#[derive(Debug, Clone, PartialEq)]
pub enum CookbookProblem {
    /// No pot of it has ingredients.
    NoRecipe { name: String },
    /// "same but ghee for oil", where no pot is in sight.
    WhichDish,
    NotInRecipe {
        dish: String,
        name: String,
        /// What goes in.
        lines: Vec<String>,
    },
    /// Nobody weighed it, so nothing can be in proportion to it.
    NoWeight { dish: String, name: String },
    /// Nothing, or more than any kitchen cooks.
    OddFactor { factor: f64 },
    /// There is nothing to compare with.
    OnePot { name: String },
}

impl CookbookProblem {
    /// The stable word in the bridge's data.
    pub fn code(&self) -> &'static str {
        match self {
            Self::NoRecipe { .. } => "no_recipe",
            Self::WhichDish => "which_dish",
            Self::NotInRecipe { .. } => "not_in_recipe",
            Self::NoWeight { .. } => "no_weight",
            Self::OddFactor { .. } => "odd_factor",
            Self::OnePot { .. } => "one_pot",
        }
    }
}
