//! What somebody took and did not weigh.

use std::collections::BTreeMap;

use crate::domain::batch::{Batch, Taking};
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
}
