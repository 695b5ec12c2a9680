//! Nutrients per 100 g, copied as they were when they were used.

use super::Writing;
use crate::domain::ids::ProfileId;
use crate::domain::kitchen::Profile;
use crate::foods::Nutrient;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;

impl Writing<'_> {
    /// A food of the table is kept once, as long as its values stay the same.
    pub(super) async fn profile(&mut self, profile: &Profile) -> Result<()> {
        if let Some(known) = self.same_profile(profile).await? {
            self.kept.insert(profile.id, known);
            return Ok(());
        }
        let food = profile.food.map(|code| code.to_string());
        let value = |nutrient| profile.per_100g.get(nutrient);
        let [
            energy,
            protein,
            fat,
            saturated_fat,
            carbohydrate,
            sugars,
            fibre,
        ] = [
            Nutrient::EnergyKcal,
            Nutrient::Protein,
            Nutrient::Fat,
            Nutrient::SaturatedFat,
            Nutrient::Carbohydrate,
            Nutrient::Sugars,
            Nutrient::Fibre,
        ]
        .map(value);
        let [
            sodium,
            potassium,
            calcium,
            iron,
            cholesterol,
            water,
            alcohol,
        ] = [
            Nutrient::Sodium,
            Nutrient::Potassium,
            Nutrient::Calcium,
            Nutrient::Iron,
            Nutrient::Cholesterol,
            Nutrient::Water,
            Nutrient::Alcohol,
        ]
        .map(value);
        sqlx::query!(
            "insert into profile (household_id, profile_id, food, packet, description,
                                  energy_kcal, protein_g, fat_g, saturated_fat_g, carbohydrate_g, sugars_g, fibre_g,
                                  sodium_mg, potassium_mg, calcium_mg, iron_mg, cholesterol_mg, water_g, alcohol_g)
             values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            self.household,
            profile.id.0,
            food,
            profile.packet,
            profile.description,
            energy,
            protein,
            fat,
            saturated_fat,
            carbohydrate,
            sugars,
            fibre,
            sodium,
            potassium,
            calcium,
            iron,
            cholesterol,
            water,
            alcohol
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep a food's nutrients")?;
        Ok(())
    }

    async fn same_profile(&mut self, profile: &Profile) -> Result<Option<ProfileId>> {
        let Some(code) = profile.food else {
            return Ok(None);
        };
        let household = HouseholdId(self.household);
        let kept = self.transaction.newest_profile_of(household, code).await?;
        Ok(kept
            .filter(|kept| {
                kept.per_100g == profile.per_100g && kept.description == profile.description
            })
            .map(|kept| kept.id))
    }

    /// The number that a profile of this decision has in the books.
    pub(super) fn kept_profile(&self, id: Option<ProfileId>) -> Option<i64> {
        id.map(|id| self.kept.get(&id).unwrap_or(&id).0)
    }
}
