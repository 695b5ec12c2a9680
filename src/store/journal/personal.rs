//! What people choose for themselves, as rows.

use super::Writing;
use crate::domain::ids::{EntryId, MemberId};
use crate::domain::personal::PersonalFact;
use crate::store::error::{Doing, Result};
use crate::store::words::personal::PersonalRow;

impl Writing<'_> {
    pub(super) async fn personal_detail(
        &mut self,
        entry: EntryId,
        member: MemberId,
        fact: &PersonalFact,
    ) -> Result<()> {
        let row = PersonalRow::of(fact);
        sqlx::query!(
            "insert into personal (household_id, entry_id, about_id, kind, counted, least, most, chosen, words)
             values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
            self.household,
            entry.0,
            member.0,
            row.kind,
            row.counted,
            row.least,
            row.most,
            row.chosen,
            row.words
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep what a person chose")?;
        Ok(())
    }
}
