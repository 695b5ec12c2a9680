//! What is said of a packet: its figures, and what they are for.

use super::syntax::{Amount, Words};

/// A nutrient named on a packet or in a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LabelField {
    EnergyKcal,
    EnergyKj,
    Protein,
    Fat,
    SaturatedFat,
    /// As printed: whether it includes fibre is the label's region's business.
    Carbohydrate,
    Sugars,
    Fibre,
    /// Milligrams.
    Sodium,
    /// Grams.
    Salt,
    Alcohol,
}

/// What the figures of a packet are for.
#[derive(Debug, Clone, PartialEq)]
pub enum LabelBasis {
    /// "per 100 g" is `Per(Mass(100.0))`; "per serving 30 g" too, with its own mass.
    Per(Amount),
    /// "per serving" with no size: asked for.
    ServingUnsized,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Packet {
    pub name: Words,
    pub basis: LabelBasis,
    /// In the unit that the field names (g, kcal, kJ; sodium in mg).
    pub values: Vec<(LabelField, f64)>,
    /// Wording tells the region: "total carbohydrate", "dietary fiber", "Calories" are a US label,
    /// whose carbohydrate includes fibre. `None`: not said.
    pub us_label: Option<bool>,
}
