//! What people choose for themselves, as rows.

use super::Writing;
use crate::domain::avoid::Avoidance;
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
        if let PersonalFact::Avoids(told) = fact {
            return self.avoidance(entry, member, told).await;
        }
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

    async fn avoidance(
        &mut self,
        entry: EntryId,
        member: MemberId,
        told: &Avoidance,
    ) -> Result<()> {
        sqlx::query!(
            "insert into avoidance (household_id, entry_id, about_id, words, cannot, holds)
             values (?, ?, ?, ?, ?, ?)",
            self.household,
            entry.0,
            member.0,
            told.what,
            told.cannot,
            told.holds
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep what a person avoids")?;
        Ok(())
    }
}
