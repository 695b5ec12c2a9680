//! What the household has taught: packets, measures, choices of food, containers, settings. A fact
//! counts while its entry is not void, so an undone lesson is forgotten and an earlier one counts again.

use crate::domain::change::SettingChange;
use crate::domain::ids::*;
use crate::domain::kitchen::{Container, FoodChoice, Measure, OwnDays, Packet};
use crate::domain::mass::Mass;
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

impl Transaction {
    pub(super) async fn packets(&mut self, household: HouseholdId) -> Result<Vec<Packet>> {
        let rows = sqlx::query!(
            r#"select entry_id, name, name_key, profile_id, serving_mg, doubted as "doubted: bool" from packet k
               where household_id = ?
                 and not exists (select 1 from voided v
                                 where v.household_id = k.household_id and v.entry_id = k.entry_id)
               order by entry_id"#,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read packets")?;
        Ok(rows
            .into_iter()
            .map(|row| Packet {
                entry: EntryId(row.entry_id),
                name: row.name,
                key: row.name_key,
                profile: ProfileId(row.profile_id),
                serving: row.serving_mg.map(Mass::from_mg),
                doubted: row.doubted,
            })
            .collect())
    }

    pub(super) async fn measures(&mut self, household: HouseholdId) -> Result<Vec<Measure>> {
        let rows = sqlx::query!(
            "select entry_id, measure, name_key, each_mg from measure m
             where household_id = ?
               and not exists (select 1 from voided v
                               where v.household_id = m.household_id and v.entry_id = m.entry_id)
             order by entry_id",
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read measures")?;
        Ok(rows
            .into_iter()
            .map(|row| Measure {
                entry: EntryId(row.entry_id),
                measure: row.measure,
                key: row.name_key,
                each: Mass::from_mg(row.each_mg),
            })
            .collect())
    }

    pub(super) async fn choices(
        &mut self,
        household: HouseholdId,
    ) -> Result<Vec<(EntryId, FoodChoice)>> {
        let rows = sqlx::query!(
            r#"select entry_id, name_key, food, eaten as "eaten: bool" from choice c
               where household_id = ?
                 and not exists (select 1 from voided v
                                 where v.household_id = c.household_id and v.entry_id = c.entry_id)
               order by entry_id"#,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read choices of food")?;
        rows.into_iter()
            .map(|row| {
                let choice = FoodChoice {
                    key: row.name_key,
                    food: words::food(&row.food)?,
                    eaten: row.eaten,
                };
                Ok((EntryId(row.entry_id), choice))
            })
            .collect()
    }

    pub(super) async fn chosen(
        &mut self,
        household: HouseholdId,
    ) -> Result<Vec<(EntryId, SettingChange)>> {
        let rows = sqlx::query!(
            "select entry_id, key, value from setting s
             where household_id = ?
               and not exists (select 1 from voided v
                               where v.household_id = s.household_id and v.entry_id = s.entry_id)
             order by entry_id",
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read settings")?;
        rows.into_iter()
            .map(|row| Ok((EntryId(row.entry_id), words::setting(&row.key, &row.value)?)))
            .collect()
    }

    pub(super) async fn own_days(
        &mut self,
        household: HouseholdId,
    ) -> Result<Vec<(EntryId, OwnDays)>> {
        let rows = sqlx::query!(
            "select entry_id, component_id, storage, count, unit from own_days d
             where household_id = ?
               and not exists (select 1 from voided v
                               where v.household_id = d.household_id and v.entry_id = d.entry_id)
             order by entry_id",
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read a household's own keeping times")?;
        rows.into_iter()
            .map(|row| {
                let own = words::own_days(row.component_id, &row.storage, row.count, row.unit)?;
                Ok((EntryId(row.entry_id), own))
            })
            .collect()
    }

    pub(super) async fn containers(&mut self, household: HouseholdId) -> Result<Vec<Container>> {
        let rows = sqlx::query!(
            "select container_id, name from container where household_id = ? order by container_id",
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read containers")?;
        let mut containers: Vec<Container> = rows
            .into_iter()
            .map(|row| Container {
                id: ContainerId(row.container_id),
                name: row.name,
                tares: Vec::new(),
            })
            .collect();
        if !containers.is_empty() {
            self.add_tares(household, &mut containers).await?;
        }
        Ok(containers)
    }

    async fn add_tares(
        &mut self,
        household: HouseholdId,
        containers: &mut [Container],
    ) -> Result<()> {
        let rows = sqlx::query!(
            "select entry_id, container_id, tare_mg from tare t
             where household_id = ?
               and not exists (select 1 from voided v
                               where v.household_id = t.household_id and v.entry_id = t.entry_id)
             order by entry_id",
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read the tares of containers")?;
        for row in rows {
            if let Some(container) = find(containers, row.container_id) {
                container
                    .tares
                    .push((EntryId(row.entry_id), Mass::from_mg(row.tare_mg)));
            }
        }
        Ok(())
    }
}

fn find(containers: &mut [Container], id: i64) -> Option<&mut Container> {
    containers
        .iter_mut()
        .find(|container| container.id == ContainerId(id))
}
