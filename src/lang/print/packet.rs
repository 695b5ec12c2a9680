//! A packet's label as canonical text.

use std::fmt::{self, Display, Formatter};

use super::Plain;
use crate::lang::syntax::{LabelBasis, LabelField, Packet};

fn field_words(field: LabelField) -> (&'static str, &'static str) {
    match field {
        LabelField::EnergyKcal => ("kcal", "kcal"),
        LabelField::EnergyKj => ("kJ", "kJ"),
        LabelField::Protein => ("g", "protein"),
        LabelField::Fat => ("g", "fat"),
        LabelField::SaturatedFat => ("g", "saturated fat"),
        LabelField::Carbohydrate => ("g", "carbohydrate"),
        LabelField::Sugars => ("g", "sugars"),
        LabelField::Fibre => ("g", "fibre"),
        LabelField::Sodium => ("mg", "sodium"),
        LabelField::Salt => ("g", "salt"),
        LabelField::Alcohol => ("g", "alcohol"),
    }
}

impl Display for Packet {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "packet {}", self.name)?;
        match &self.basis {
            LabelBasis::Per(amount) => write!(f, " per {amount}:")?,
            LabelBasis::ServingUnsized => f.write_str(" per serving:")?,
        }
        for (index, (field, value)) in self.values.iter().enumerate() {
            let separator = if index > 0 { "," } else { "" };
            let (unit, word) = match (*field, self.us_label) {
                (LabelField::Carbohydrate, Some(true)) => ("g", "total carbohydrate"),
                (LabelField::Fibre, Some(true)) => ("g", "dietary fiber"),
                (LabelField::EnergyKcal, Some(true)) => ("calories", ""),
                (field, _) => field_words(field),
            };
            if unit == word || word.is_empty() {
                write!(f, "{separator} {} {unit}", Plain(*value))?;
            } else {
                write!(f, "{separator} {} {unit} {word}", Plain(*value))?;
            }
        }
        Ok(())
    }
}
