//! What somebody took and did not weigh, why food was thrown away, and what batches cost.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use crate::domain::batch::{Batch, Money, Taking};
use crate::domain::ids::*;
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

impl Transaction {
    pub(super) async fn add_takings(
        &mut self,
        household: HouseholdId,
        ids: &str,
        batches: &mut BTreeMap<BatchId, Batch>,
    ) -> Result<()> {
        let rows = sqlx::query!(
            r#"select e.batch_id as "batch_id!", e.entry_id, e.occurred_at, e.from_id, t.amount, t.taker_id
               from entry e
               join taking t on t.household_id = e.household_id and t.entry_id = e.entry_id
               where e.household_id = ? and e.batch_id in (select value from json_each(?)) and e.kind = 'taking'
                 and not exists (select 1 from voided v
                                 where v.household_id = e.household_id and v.entry_id = e.entry_id)
               order by e.occurred_at, e.entry_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read what was taken unweighed")?;
        for row in rows {
            if let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) {
                batch.takings.push(Taking {
                    entry: EntryId(row.entry_id),
                    occurred_at: words::time(&row.occurred_at)?,
                    lot: AccountId(row.from_id),
                    amount: row.amount,
                    taker: row.taker_id.map(MemberId),
                });
            }
        }
        Ok(())
    }

    pub(super) async fn add_reasons(
        &mut self,
        household: HouseholdId,
        ids: &str,
        batches: &mut BTreeMap<BatchId, Batch>,
    ) -> Result<()> {
        let rows = sqlx::query!(
            r#"select e.batch_id as "batch_id!", e.entry_id, w.reason
               from entry e
               join waste w on w.household_id = e.household_id and w.entry_id = e.entry_id
               where e.household_id = ? and e.batch_id in (select value from json_each(?)) and e.kind = 'waste'
                 and not exists (select 1 from voided v
                                 where v.household_id = e.household_id and v.entry_id = e.entry_id)
               order by e.entry_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read why food was thrown away")?;
        for row in rows {
            if let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) {
                batch.reasons.push((EntryId(row.entry_id), row.reason));
            }
        }
        Ok(())
    }

    pub(super) async fn add_prices(
        &mut self,
        household: HouseholdId,
        ids: &str,
        batches: &mut BTreeMap<BatchId, Batch>,
    ) -> Result<()> {
        let rows = sqlx::query!(
            r#"select e.batch_id as "batch_id!", e.entry_id, p.hundredths, p.currency
               from entry e
               join price p on p.household_id = e.household_id and p.entry_id = e.entry_id
               where e.household_id = ? and e.batch_id in (select value from json_each(?)) and e.kind = 'fact'
                 and not exists (select 1 from voided v
                                 where v.household_id = e.household_id and v.entry_id = e.entry_id)
               order by e.entry_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read what batches cost")?;
        for row in rows {
            if let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) {
                let money = Money {
                    hundredths: row.hundredths,
                    currency: row.currency,
                };
                batch.prices.push((EntryId(row.entry_id), money));
            }
        }
        Ok(())
    }

    /// The batches that a report speaks of: made, counted or thrown away of since a day.
    pub(super) async fn reported_batches(
        &mut self,
        household: HouseholdId,
        since: DateTime<Utc>,
    ) -> Result<Vec<BatchId>> {
        let (day, moment) = (since.date_naive().to_string(), words::time_text(since));
        let ids = sqlx::query_scalar!(
            r#"select batch_id as "batch_id!: i64" from batch where household_id = ?1 and made_on >= ?2
               union
               select batch_id from entry
               where household_id = ?1 and kind in ('count', 'waste') and occurred_at >= ?3
                 and batch_id is not null"#,
            household.0,
            day,
            moment
        )
        .fetch_all(self.connection())
        .await
        .doing("look for what a report speaks of")?;
        Ok(ids.into_iter().map(BatchId).collect())
    }
}
