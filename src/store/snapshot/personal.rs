//! What people have chosen for themselves.

use std::collections::BTreeMap;

use super::clock::{first, is_untold_fact};
use crate::domain::act::Act;
use crate::domain::avoid::Avoidance;
use crate::domain::change::Detail;
use crate::domain::ids::{EntryId, MemberId};
use crate::domain::personal::{Chain, PersonalBooks, PersonalFact};
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;
use crate::store::words::personal::PersonalRow;

impl Transaction {
    /// All that stands.
    pub(super) async fn personal(&mut self, household: HouseholdId) -> Result<PersonalBooks> {
        let told = self.personal_facts(household, None).await?;
        let chains = self.nickname_chains(household).await?;
        Ok(PersonalBooks { told, chains })
    }

    /// What nicknames are taken back with.
    async fn nickname_chains(
        &mut self,
        household: HouseholdId,
    ) -> Result<BTreeMap<EntryId, Chain>> {
        let rows = sqlx::query!(
            r#"select p.entry_id, e.occurred_at,
                      coalesce((select max(x.entry_id) from entry x
                                where x.household_id = p.household_id and x.root = p.entry_id), p.entry_id) as "tip!: i64"
               from personal p
               join entry e on e.household_id = p.household_id and e.entry_id = p.entry_id
               where p.household_id = ? and p.kind = 'nickname'"#,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read what people are called as well")?;
        let chain = |tip: i64, at: &str| -> Result<Chain> {
            let (tip, told_at) = (EntryId(tip), words::time(at)?);
            Ok(Chain { tip, told_at })
        };
        let chains = rows.into_iter();
        chains
            .map(|row| Ok((EntryId(row.entry_id), chain(row.tip, &row.occurred_at)?)))
            .collect()
    }

    /// What the facts of these acts were about, whether they stand or not.
    pub(super) async fn fill_personal(
        &mut self,
        household: HouseholdId,
        acts: &mut [Act],
    ) -> Result<()> {
        let untold = acts.iter().flat_map(|act| &act.entries);
        let ids: Vec<i64> = untold.filter(|it| is_untold_fact(it)).map(first).collect();
        if ids.is_empty() {
            return Ok(());
        }
        let ids = words::id_list(ids);
        let facts = self.personal_facts(household, Some(&ids)).await?;
        let facts: BTreeMap<EntryId, Detail> = facts
            .into_iter()
            .map(|(entry, member, fact)| (entry, Detail::Personal { member, fact }))
            .collect();
        let entries = acts.iter_mut().flat_map(|act| &mut act.entries);
        for entry in entries.filter(|it| is_untold_fact(it)) {
            entry.detail = facts.get(&EntryId(first(entry))).cloned();
        }
        Ok(())
    }

    /// The facts of these entries, or all that stand.
    async fn personal_facts(
        &mut self,
        household: HouseholdId,
        entries: Option<&str>,
    ) -> Result<Vec<(EntryId, MemberId, PersonalFact)>> {
        let rows = sqlx::query!(
            r#"select entry_id, about_id, kind, counted, least, most, chosen as "chosen: bool", words
               from personal p
               where household_id = ?1
                 and case when ?2 is null
                          then not exists (select 1 from voided v
                                           where v.household_id = p.household_id and v.entry_id = p.entry_id)
                          else entry_id in (select value from json_each(?2)) end
               order by entry_id"#,
            household.0,
            entries
        )
        .fetch_all(self.connection())
        .await
        .doing("read what people chose for themselves")?;
        let chosen = rows.into_iter().map(|row| {
            let fact = PersonalRow {
                kind: row.kind,
                counted: row.counted,
                least: row.least,
                most: row.most,
                chosen: row.chosen,
                words: row.words,
            };
            Ok((EntryId(row.entry_id), MemberId(row.about_id), fact.read()?))
        });
        let mut told: Vec<(EntryId, MemberId, PersonalFact)> = chosen.collect::<Result<_>>()?;
        told.extend(self.avoidances(household, entries).await?);
        told.sort_by_key(|(entry, ..)| *entry);
        Ok(told)
    }

    async fn avoidances(
        &mut self,
        household: HouseholdId,
        entries: Option<&str>,
    ) -> Result<Vec<(EntryId, MemberId, PersonalFact)>> {
        let rows = sqlx::query!(
            r#"select entry_id, about_id, words, cannot as "cannot: bool", holds as "holds: bool"
               from avoidance a
               where household_id = ?1
                 and case when ?2 is null
                          then not exists (select 1 from voided v
                                           where v.household_id = a.household_id and v.entry_id = a.entry_id)
                          else entry_id in (select value from json_each(?2)) end"#,
            household.0,
            entries
        )
        .fetch_all(self.connection())
        .await
        .doing("read what people avoid")?;
        let told = rows.into_iter().map(|row| {
            let fact = Avoidance {
                what: row.words,
                cannot: row.cannot,
                holds: row.holds,
            };
            (
                EntryId(row.entry_id),
                MemberId(row.about_id),
                PersonalFact::Avoids(fact),
            )
        });
        Ok(told.collect())
    }
}
