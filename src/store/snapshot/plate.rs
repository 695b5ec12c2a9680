//! Plates of the last days, with what stands on them.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::domain::ids::*;
use crate::domain::mass::Mass;
use crate::domain::plate::{Plate, PlatePortion};
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

impl Transaction {
    /// The plates since a day that hold anything, with their days and whose they are.
    pub(super) async fn plates_lately(
        &mut self,
        household: HouseholdId,
        since: NaiveDate,
    ) -> Result<BTreeMap<AccountId, (NaiveDate, MemberId)>> {
        let since = since.to_string();
        let rows = sqlx::query!(
            r#"select p.account_id as "account_id!: i64", p.day, p.member_id from plate p
               join account a on a.household_id = p.household_id and a.account_id = p.account_id
               where p.household_id = ? and p.day >= ? and a.balance_mg > 0"#,
            household.0,
            since
        )
        .fetch_all(self.connection())
        .await
        .doing("read on which days people ate")?;
        let plates = rows.into_iter();
        plates
            .map(|row| {
                let whose = (words::day(&row.day)?, MemberId(row.member_id));
                Ok((AccountId(row.account_id), whose))
            })
            .collect()
    }

    /// Plain food that was put on plates since a day, by day and food.
    pub(super) async fn plain_eaten(
        &mut self,
        household: HouseholdId,
        since: NaiveDate,
    ) -> Result<Vec<(NaiveDate, ProfileId, Mass)>> {
        let since = since.to_string();
        let rows = sqlx::query!(
            r#"select p.day, e.profile_id as "profile_id!: i64", sum(e.mass_mg) as "mass_mg!: i64"
               from plate p
               join entry e on e.household_id = p.household_id and e.to_id = p.account_id
                           and e.kind = 'portion' and e.batch_id is null and e.profile_id is not null
               where p.household_id = ? and p.day >= ?
                 and not exists (select 1 from voided v
                                 where v.household_id = e.household_id and v.entry_id = e.entry_id)
               group by p.day, e.profile_id
               order by p.day, e.profile_id"#,
            household.0,
            since
        )
        .fetch_all(self.connection())
        .await
        .doing("read what plain food was eaten")?;
        let eaten = rows.into_iter().map(|row| {
            let mass = Mass::from_mg(row.mass_mg);
            Ok((words::day(&row.day)?, ProfileId(row.profile_id), mass))
        });
        eaten.collect()
    }

    /// Everybody's plates since a day; since an earlier one those of one member, and of guests and children, who are asked
    /// for by others. Oldest first.
    pub(super) async fn plates(
        &mut self,
        household: HouseholdId,
        everybody_since: NaiveDate,
        (member, since): (MemberId, NaiveDate),
    ) -> Result<(Vec<Plate>, BTreeSet<EntryId>)> {
        let (everybody_since, since) = (everybody_since.to_string(), since.to_string());
        let rows = sqlx::query!(
            r#"select account_id, member_id, day, meal, message_id, closed as "closed: bool" from plate
               where household_id = ?1 and day >= ?2 and (day >= ?3 or member_id = ?4
                      or member_id in (select m.member_id from member m
                                       where m.household_id = ?1 and m.person_id is null))
               order by account_id"#,
            household.0,
            since,
            everybody_since,
            member.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read plates")?;
        let mut plates = Vec::with_capacity(rows.len());
        for row in rows {
            plates.push(Plate {
                id: AccountId(row.account_id),
                member: MemberId(row.member_id),
                day: words::day(&row.day)?,
                meal: words::optional(row.meal, words::meal)?,
                message: MessageId(row.message_id),
                closed: row.closed,
                portions: Vec::new(),
            });
        }
        let privately = self.add_portions(household, &mut plates).await?;
        Ok((plates, privately))
    }

    /// Gives those that were told in private chats.
    async fn add_portions(
        &mut self,
        household: HouseholdId,
        plates: &mut [Plate],
    ) -> Result<BTreeSet<EntryId>> {
        let ids = words::id_list(plates.iter().map(|plate| plate.id.0));
        let rows = sqlx::query!(
            r#"select e.to_id, e.entry_id,
                      coalesce((select max(r.entry_id) from entry r
                                where r.household_id = e.household_id and r.root = e.entry_id), e.entry_id)
                          as "tip!: i64",
                      e.occurred_at, e.recorded_at, e.from_id, a.kind as from_kind, e.mass_mg, e.batch_id,
                      e.profile_id, p.estimated as "estimated: bool",
                      coalesce((select g.private from message g where g.message_id = e.message_id), 0)
                          as "told_privately!: bool"
               from entry e
               join portion p on p.household_id = e.household_id and p.entry_id = e.entry_id
               join account a on a.household_id = e.household_id and a.account_id = e.from_id
               where e.household_id = ? and e.to_id >= 100 and e.to_id in (select value from json_each(?))
                 and not exists (select 1 from voided v
                                 where v.household_id = e.household_id and v.entry_id = e.entry_id)
               order by e.entry_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read what is on plates")?;
        let mut privately = BTreeSet::new();
        for row in rows {
            let id = AccountId(row.to_id);
            let Some(plate) = plates.iter_mut().find(|plate| plate.id == id) else {
                continue;
            };
            if row.told_privately {
                privately.insert(EntryId(row.entry_id));
            }
            plate.portions.push(PlatePortion {
                entry: EntryId(row.entry_id),
                tip: EntryId(row.tip),
                occurred_at: words::time(&row.occurred_at)?,
                recorded_at: words::time(&row.recorded_at)?,
                from: words::account(&row.from_kind, row.from_id)?,
                mass: Mass::from_mg(row.mass_mg),
                batch: row.batch_id.map(BatchId),
                profile: row.profile_id.map(ProfileId),
                estimated: row.estimated,
            });
        }
        Ok(privately)
    }
}
