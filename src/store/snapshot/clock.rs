//! What of time to come an act has written, and who is away.

use std::collections::BTreeMap;

use crate::domain::act::{Act, ActEntry};
use crate::domain::change::Detail;
use crate::domain::clock::ClockDetail;
use crate::domain::clock::absence::{Absence, KeptAbsence};
use crate::domain::ids::{EntryId, MemberId};
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

impl Transaction {
    /// Fill in the details of facts that the first look has none for: a table of its own keeps them.
    pub(super) async fn clock_details(
        &mut self,
        household: HouseholdId,
        acts: &mut [Act],
    ) -> Result<()> {
        let untold = acts.iter().flat_map(|act| &act.entries);
        let ids: Vec<i64> = untold.filter(|it| is_untold_fact(it)).map(first).collect();
        if ids.is_empty() {
            return Ok(());
        }
        let reminders = self
            .reminders(household, ids.iter().copied())
            .await?
            .into_iter();
        let reminders = reminders.map(|it| (it.entry.0, ClockDetail::Reminder(it.asked)));
        let mut found: BTreeMap<i64, ClockDetail> = reminders.collect();
        let absences = self.absences_of(household, &ids).await?.into_iter();
        found.extend(absences.map(|it| (it.entry.0, ClockDetail::Absence(it.absence))));
        let entries = acts.iter_mut().flat_map(|act| &mut act.entries);
        for entry in entries.filter(|it| is_untold_fact(it)) {
            entry.detail = found.get(&first(entry)).cloned().map(Detail::Clock);
        }
        Ok(())
    }

    /// Who does not eat here when, as it stands.
    pub(super) async fn absences(&mut self, household: HouseholdId) -> Result<Vec<KeptAbsence>> {
        let standing = sqlx::query_scalar!(
            r#"select entry_id as "entry_id!: i64" from absence a
               where household_id = ?
                 and not exists (select 1 from voided v
                                 where v.household_id = a.household_id and v.entry_id = a.entry_id)"#,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("look for who is away")?;
        self.absences_of(household, &standing).await
    }

    async fn absences_of(
        &mut self,
        household: HouseholdId,
        ids: &[i64],
    ) -> Result<Vec<KeptAbsence>> {
        if ids.is_empty() {
            return Ok(Vec::new());
        }
        let ids = words::id_list(ids.iter().copied());
        let rows = sqlx::query!(
            r#"select a.entry_id as "entry_id!: i64", a.absent_id, a.from_day, a.until_day, e.occurred_at,
                      coalesce((select max(x.entry_id) from entry x
                                where x.household_id = a.household_id and x.root = a.entry_id), a.entry_id) as "tip!: i64"
               from json_each(?1) wanted
               join absence a on a.household_id = ?2 and a.entry_id = wanted.value
               join entry e on e.household_id = a.household_id and e.entry_id = a.entry_id
               order by a.entry_id"#,
            ids,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read who is away")?;
        let rows = rows.into_iter();
        rows.map(|row| {
            Ok(KeptAbsence {
                entry: EntryId(row.entry_id),
                tip: EntryId(row.tip),
                told_at: words::time(&row.occurred_at)?,
                absence: Absence {
                    member: row.absent_id.map(MemberId),
                    from: words::day(&row.from_day)?,
                    until: words::day(&row.until_day)?,
                },
            })
        })
        .collect()
    }
}

/// The first entry of its chain, which the detail stands under.
pub(super) fn first(entry: &ActEntry) -> i64 {
    entry.entry.root.unwrap_or(entry.entry.id).0
}

/// A fact, or what took one back, whose detail is not known yet.
pub(super) fn is_untold_fact(entry: &ActEntry) -> bool {
    entry.entry.is_of_a_fact() && entry.detail.is_none()
}
