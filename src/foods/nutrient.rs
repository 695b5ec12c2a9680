//! The nutrients kept of every food, and a food's profile of them per 100 g.
//!
//! Definitions and units are those of the USDA National Nutrient Database for Standard Reference, Release 28:
//! carbohydrate is by difference and includes fibre.

/// 1 kcal in kJ: the table's documentation.
pub const KJ_PER_KCAL: f64 = 4.184;
/// Salt over sodium: Regulation (EU) No 1169/2011, Annex I.
pub const SALT_PER_SODIUM: f64 = 2.5;

/// One nutrient of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Nutrient {
    EnergyKcal,
    Protein,
    Fat,
    SaturatedFat,
    /// By difference, fibre included.
    Carbohydrate,
    Sugars,
    Fibre,
    Sodium,
    Potassium,
    Calcium,
    Iron,
    Cholesterol,
    Water,
    Alcohol,
}

impl Nutrient {
    /// Every nutrient, in the order of the packed table's columns.
    pub const ALL: [Nutrient; 14] = [
        Nutrient::EnergyKcal,
        Nutrient::Protein,
        Nutrient::Fat,
        Nutrient::SaturatedFat,
        Nutrient::Carbohydrate,
        Nutrient::Sugars,
        Nutrient::Fibre,
        Nutrient::Sodium,
        Nutrient::Potassium,
        Nutrient::Calcium,
        Nutrient::Iron,
        Nutrient::Cholesterol,
        Nutrient::Water,
        Nutrient::Alcohol,
    ];

    /// The name used in JSON, with the unit last: `protein_g`.
    pub fn key(self) -> &'static str {
        match self {
            Nutrient::EnergyKcal => "energy_kcal",
            Nutrient::Protein => "protein_g",
            Nutrient::Fat => "fat_g",
            Nutrient::SaturatedFat => "saturated_fat_g",
            Nutrient::Carbohydrate => "carbohydrate_g",
            Nutrient::Sugars => "sugars_g",
            Nutrient::Fibre => "fibre_g",
            Nutrient::Sodium => "sodium_mg",
            Nutrient::Potassium => "potassium_mg",
            Nutrient::Calcium => "calcium_mg",
            Nutrient::Iron => "iron_mg",
            Nutrient::Cholesterol => "cholesterol_mg",
            Nutrient::Water => "water_g",
            Nutrient::Alcohol => "alcohol_g",
        }
    }

    /// As a sentence names it.
    pub fn name(self) -> &'static str {
        match self {
            Nutrient::EnergyKcal => "energy",
            Nutrient::Protein => "protein",
            Nutrient::Fat => "fat",
            Nutrient::SaturatedFat => "saturated fat",
            Nutrient::Carbohydrate => "carbs",
            Nutrient::Sugars => "sugars",
            Nutrient::Fibre => "fibre",
            Nutrient::Sodium => "sodium",
            Nutrient::Potassium => "potassium",
            Nutrient::Calcium => "calcium",
            Nutrient::Iron => "iron",
            Nutrient::Cholesterol => "cholesterol",
            Nutrient::Water => "water",
            Nutrient::Alcohol => "alcohol",
        }
    }

    /// The unit of its amounts: `kcal`, `g` or `mg`.
    pub fn unit(self) -> &'static str {
        match self {
            Nutrient::EnergyKcal => "kcal",
            Nutrient::Sodium
            | Nutrient::Potassium
            | Nutrient::Calcium
            | Nutrient::Iron
            | Nutrient::Cholesterol => "mg",
            _ => "g",
        }
    }

    /// Its number in the release's files (NUTR_DEF: `Nutr_No`).
    pub fn release_number(self) -> u16 {
        match self {
            Nutrient::EnergyKcal => 208,
            Nutrient::Protein => 203,
            Nutrient::Fat => 204,
            Nutrient::SaturatedFat => 606,
            Nutrient::Carbohydrate => 205,
            Nutrient::Sugars => 269,
            Nutrient::Fibre => 291,
            Nutrient::Sodium => 307,
            Nutrient::Potassium => 306,
            Nutrient::Calcium => 301,
            Nutrient::Iron => 303,
            Nutrient::Cholesterol => 601,
            Nutrient::Water => 255,
            Nutrient::Alcohol => 221,
        }
    }
}

/// Amounts of every nutrient, usually per 100 g. `None` is unknown, which is never the same as zero: it is kept as
/// no number at all, since an `Option` would double the table in memory.
#[derive(Debug, Clone, Copy)]
pub struct Profile([f64; 14]);

impl Default for Profile {
    fn default() -> Self {
        Self([f64::NAN; 14])
    }
}

impl PartialEq for Profile {
    fn eq(&self, other: &Self) -> bool {
        self.iter().eq(other.iter())
    }
}

impl Profile {
    /// The amount in the nutrient's own unit, if the release has it.
    pub fn get(&self, nutrient: Nutrient) -> Option<f64> {
        let amount = self.0[nutrient as usize];
        (!amount.is_nan()).then_some(amount)
    }

    pub fn set(&mut self, nutrient: Nutrient, amount: Option<f64>) {
        self.0[nutrient as usize] = amount.unwrap_or(f64::NAN);
    }

    /// Every nutrient with its amount, in the order of [`Nutrient::ALL`].
    pub fn iter(&self) -> impl Iterator<Item = (Nutrient, Option<f64>)> + '_ {
        Nutrient::ALL.into_iter().map(|it| (it, self.get(it)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn order_of_all_is_the_order_of_the_variants() {
        for (index, nutrient) in Nutrient::ALL.into_iter().enumerate() {
            assert_eq!(nutrient as usize, index);
            assert!(nutrient.key().ends_with(nutrient.unit()));
        }
    }

    #[test]
    fn unknown_stays_apart_from_zero() {
        let mut profile = Profile::default();
        assert_eq!(profile.get(Nutrient::Fibre), None);
        profile.set(Nutrient::Fibre, Some(0.0));
        assert_eq!(profile.get(Nutrient::Fibre), Some(0.0));
        assert_eq!(
            profile
                .iter()
                .filter(|(_, amount)| amount.is_some())
                .count(),
            1
        );
    }
}
