//! Nutrients per 100 g, as they were when they were used.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::ids::ProfileId;
use crate::domain::kitchen::Profile;
use crate::foods::{self, Nutrient};
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

struct ProfileRow {
    profile_id: i64,
    food: Option<String>,
    packet: Option<String>,
    description: String,
    energy_kcal: Option<f64>,
    protein_g: Option<f64>,
    fat_g: Option<f64>,
    saturated_fat_g: Option<f64>,
    carbohydrate_g: Option<f64>,
    sugars_g: Option<f64>,
    fibre_g: Option<f64>,
    sodium_mg: Option<f64>,
    potassium_mg: Option<f64>,
    calcium_mg: Option<f64>,
    iron_mg: Option<f64>,
    cholesterol_mg: Option<f64>,
    water_g: Option<f64>,
    alcohol_g: Option<f64>,
}

impl ProfileRow {
    fn read(self) -> Result<Profile> {
        let mut per_100g = foods::Profile::default();
        for (nutrient, amount) in [
            (Nutrient::EnergyKcal, self.energy_kcal),
            (Nutrient::Protein, self.protein_g),
            (Nutrient::Fat, self.fat_g),
            (Nutrient::SaturatedFat, self.saturated_fat_g),
            (Nutrient::Carbohydrate, self.carbohydrate_g),
            (Nutrient::Sugars, self.sugars_g),
            (Nutrient::Fibre, self.fibre_g),
            (Nutrient::Sodium, self.sodium_mg),
            (Nutrient::Potassium, self.potassium_mg),
            (Nutrient::Calcium, self.calcium_mg),
            (Nutrient::Iron, self.iron_mg),
            (Nutrient::Cholesterol, self.cholesterol_mg),
            (Nutrient::Water, self.water_g),
            (Nutrient::Alcohol, self.alcohol_g),
        ] {
            per_100g.set(nutrient, amount);
        }
        Ok(Profile {
            id: ProfileId(self.profile_id),
            food: words::optional(self.food, words::food)?,
            packet: self.packet,
            description: self.description,
            per_100g,
        })
    }
}

impl Transaction {
    pub(super) async fn profiles(
        &mut self,
        household: HouseholdId,
        ids: &BTreeSet<ProfileId>,
    ) -> Result<BTreeMap<ProfileId, Profile>> {
        if ids.is_empty() {
            return Ok(BTreeMap::new());
        }
        let ids = words::id_list(ids.iter().map(|id| id.0));
        let rows = sqlx::query_as!(
            ProfileRow,
            r#"select profile_id, food, packet, description, energy_kcal, protein_g, fat_g, saturated_fat_g,
                      carbohydrate_g, sugars_g, fibre_g, sodium_mg, potassium_mg, calcium_mg, iron_mg, cholesterol_mg,
                      water_g, alcohol_g
               from profile where household_id = ? and profile_id in (select value from json_each(?))"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read foods' nutrients")?;
        rows.into_iter()
            .map(|row| row.read().map(|profile| (profile.id, profile)))
            .collect()
    }

    /// The newest copy of a food of the table.
    pub(in crate::store) async fn newest_profile_of(
        &mut self,
        household: HouseholdId,
        food: foods::Code,
    ) -> Result<Option<Profile>> {
        let food = food.to_string();
        let row = sqlx::query_as!(
            ProfileRow,
            r#"select profile_id, food, packet, description, energy_kcal, protein_g, fat_g, saturated_fat_g,
                      carbohydrate_g, sugars_g, fibre_g, sodium_mg, potassium_mg, calcium_mg, iron_mg, cholesterol_mg,
                      water_g, alcohol_g
               from profile where household_id = ? and food = ? order by profile_id desc limit 1"#,
            household.0,
            food
        )
        .fetch_optional(self.connection())
        .await
        .doing("look up a food's nutrients")?;
        row.map(ProfileRow::read).transpose()
    }
}
