//! The earlier pots of dishes, and what they had come to when a batch was opened.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use super::PACE_STAY;
use crate::domain::batch::Batch;
use crate::domain::cookbook::{OwnYield, POTS_LOOKED};
use crate::domain::ids::{BatchId, ComponentId};
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

impl Transaction {
    /// The newest pots of each of these dishes, finished or not.
    pub(super) async fn pots(
        &mut self,
        household: HouseholdId,
        dishes: &[ComponentId],
    ) -> Result<Vec<BatchId>> {
        let dishes = words::id_list(dishes.iter().map(|dish| dish.0));
        let newest = POTS_LOOKED as i64;
        let ids = sqlx::query_scalar!(
            r#"select b.batch_id
               from (select distinct value as component_id from json_each(?2)) dish
               join batch b on b.household_id = ?1 and b.component_id = dish.component_id
                           and b.batch_id in (
                               select pot.batch_id from batch pot
                               where pot.household_id = ?1 and pot.component_id = dish.component_id
                               order by pot.batch_id desc limit ?3)
               order by b.batch_id"#,
            household.0,
            dishes,
            newest
        )
        .fetch_all(self.connection())
        .await
        .doing("look for earlier pots of a dish")?;
        Ok(ids.into_iter().map(BatchId).collect())
    }

    /// The pots that were finished in the last weeks.
    pub(super) async fn lately_finished(
        &mut self,
        household: HouseholdId,
        now: DateTime<Utc>,
    ) -> Result<Vec<BatchId>> {
        let since = words::time_text(now - PACE_STAY);
        let ids = sqlx::query_scalar!(
            r#"select batch_id as "batch_id!: i64" from batch
               where household_id = ? and closed_at >= ? order by batch_id"#,
            household.0,
            since
        )
        .fetch_all(self.connection())
        .await
        .doing("look for pots of the last weeks")?;
        Ok(ids.into_iter().map(BatchId).collect())
    }

    pub(super) async fn add_own_yields(
        &mut self,
        household: HouseholdId,
        ids: &str,
        batches: &mut BTreeMap<BatchId, Batch>,
    ) -> Result<()> {
        let rows = sqlx::query!(
            "select batch_id, pots, median, least, most, liquid from own_yield
             where household_id = ? and batch_id in (select value from json_each(?))",
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read what earlier pots had come to")?;
        for row in rows {
            if let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) {
                batch.own_yield = Some(OwnYield {
                    pots: words::count(row.pots)?,
                    median: row.median,
                    least: row.least,
                    most: row.most,
                    liquid: row.liquid,
                });
            }
        }
        Ok(())
    }
}
