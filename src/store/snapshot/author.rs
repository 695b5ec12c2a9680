//! Who wrote down what of the batches in sight.

use std::collections::BTreeMap;

use crate::domain::ids::{EntryId, MemberId};
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

impl Transaction {
    pub(super) async fn authors(
        &mut self,
        household: HouseholdId,
        batches: &[i64],
    ) -> Result<BTreeMap<EntryId, MemberId>> {
        let ids = words::id_list(batches.iter().copied());
        let rows = sqlx::query!(
            "select entry_id, member_id from entry
             where household_id = ? and batch_id in (select value from json_each(?)) and root is null",
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read who wrote down what of batches")?;
        let rows = rows.into_iter();
        Ok(rows
            .map(|row| (EntryId(row.entry_id), MemberId(row.member_id)))
            .collect())
    }
}
