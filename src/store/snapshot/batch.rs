//! Batches with what went in, what left, what the scale said, and where the rest is.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, Utc};

use super::FINISHED_STAY;
use crate::domain::batch::{Batch, Line, Pour, ScaleReading};
use crate::domain::ids::*;
use crate::domain::ledger::Account;
use crate::domain::mass::Mass;
use crate::domain::pieces::Counted;
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

pub(super) type Batches = BTreeMap<BatchId, Batch>;

impl Transaction {
    /// Open batches, those finished lately, those `touched`, and whatever any of them was made from.
    pub(super) async fn needed_batches(
        &mut self,
        household: HouseholdId,
        touched: &BTreeSet<BatchId>,
        now: DateTime<Utc>,
    ) -> Result<Vec<i64>> {
        let touched = words::id_list(touched.iter().map(|batch| batch.0));
        let finished_since = words::time_text(now - FINISHED_STAY);
        sqlx::query_scalar!(
            r#"with recursive needed (batch_id) as (
                   select batch_id from batch where household_id = ?1 and closed_at is null
                   union
                   select batch_id from batch where household_id = ?1 and closed_at >= ?2
                   union
                   select value from json_each(?3)
                   union
                   select i.source_id from needed n
                   join entry e on e.household_id = ?1 and e.batch_id = n.batch_id and e.kind = 'ingredient'
                   join ingredient i on i.household_id = ?1 and i.entry_id = e.entry_id
                   where i.source_id is not null)
               select batch_id as "batch_id!: i64" from needed order by batch_id"#,
            household.0,
            finished_since,
            touched
        )
        .fetch_all(self.connection())
        .await
        .doing("look for batches on the board")
    }

    pub(super) async fn all_batches(&mut self, household: HouseholdId) -> Result<Vec<i64>> {
        sqlx::query_scalar!(
            "select batch_id from batch where household_id = ? order by batch_id",
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("list the batches")
    }

    /// These batches, whole.
    pub(super) async fn batches(&mut self, household: HouseholdId, ids: &[i64]) -> Result<Batches> {
        let ids = words::id_list(ids.iter().copied());
        let mut batches = self.batch_rows(household, &ids).await?;
        self.add_opening_and_water(household, &ids, &mut batches)
            .await?;
        self.add_lines(household, &ids, &mut batches).await?;
        self.add_last_numbers(household, &ids, &mut batches).await?;
        self.add_pours(household, &ids, &mut batches).await?;
        self.add_lots(household, &ids, &mut batches).await?;
        self.add_moves(household, &mut batches).await?;
        self.add_told_dates(household, &mut batches).await?;
        self.add_vessels(household, &mut batches).await?;
        self.add_readings(household, &ids, &mut batches).await?;
        self.add_counted(household, &ids, &mut batches).await?;
        self.add_takings(household, &ids, &mut batches).await?;
        self.add_reasons(household, &ids, &mut batches).await?;
        self.add_prices(household, &ids, &mut batches).await?;
        self.add_own_yields(household, &ids, &mut batches).await?;
        Ok(batches)
    }

    async fn batch_rows(&mut self, household: HouseholdId, ids: &str) -> Result<Batches> {
        let rows = sqlx::query!(
            r#"select batch_id, component_id, code, name, made_at, made_on, raw as "raw: bool", origin, dated as "dated: bool", closed_at
               from batch where household_id = ? and batch_id in (select value from json_each(?))"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read batches")?;
        let mut batches = Batches::new();
        for row in rows {
            let id = BatchId(row.batch_id);
            let made = (words::time(&row.made_at)?, words::day(&row.made_on)?);
            batches.insert(
                id,
                Batch {
                    code: row.code,
                    name: row.name,
                    dated: row.dated,
                    raw: row.raw,
                    origin: words::origin(row.origin.as_deref())?,
                    open: row.closed_at.is_none(),
                    ..Batch::opened(id, ComponentId(row.component_id), made)
                },
            );
        }
        Ok(batches)
    }

    async fn add_opening_and_water(
        &mut self,
        household: HouseholdId,
        ids: &str,
        batches: &mut Batches,
    ) -> Result<()> {
        let opened = sqlx::query!(
            r#"select batch_id as "batch_id!", entry_id as "entry_id!",
                      exists (select 1 from voided v
                              where v.household_id = entry.household_id and v.entry_id = entry.entry_id)
                          as "voided!: bool"
               from entry
               where household_id = ? and batch_id in (select value from json_each(?)) and kind = 'batch'"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read what opened batches")?;
        for row in opened {
            if let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) {
                batch.entry = Some(EntryId(row.entry_id));
                batch.voided = row.voided;
            }
        }
        let water = Account::Water.id().0;
        let taken_up = sqlx::query!(
            r#"select batch_id as "batch_id!: i64",
                      sum(case when from_id = ?3 then mass_mg else -mass_mg end) as "water_mg!: i64"
               from entry
               where household_id = ?1 and batch_id in (select value from json_each(?2))
                 and (from_id = 2 or to_id = 2)
               group by batch_id"#,
            household.0,
            ids,
            water
        )
        .fetch_all(self.connection())
        .await
        .doing("add up the water of batches")?;
        for row in taken_up {
            if let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) {
                batch.water = Mass::from_mg(row.water_mg);
            }
        }
        Ok(())
    }

    /// The highest line number that each batch has ever given, void lines included.
    async fn add_last_numbers(
        &mut self,
        household: HouseholdId,
        ids: &str,
        batches: &mut Batches,
    ) -> Result<()> {
        let rows = sqlx::query!(
            r#"select e.batch_id as "batch_id!: i64", max(i.line) as "line!: i64"
               from entry e
               join ingredient i on i.household_id = e.household_id and i.entry_id = e.entry_id
               where e.household_id = ? and e.batch_id in (select value from json_each(?)) and e.kind = 'ingredient'
               group by e.batch_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read the last line numbers of batches")?;
        for row in rows {
            if let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) {
                batch.last_number = words::line_number(row.line)?;
            }
        }
        Ok(())
    }

    async fn add_lines(
        &mut self,
        household: HouseholdId,
        ids: &str,
        batches: &mut Batches,
    ) -> Result<()> {
        let rows = sqlx::query!(
            r#"select e.batch_id as "batch_id!", e.entry_id, e.occurred_at, e.mass_mg, e.profile_id, e.from_id,
                      coalesce((select max(r.entry_id) from entry r
                                where r.household_id = e.household_id and r.root = e.entry_id), e.entry_id)
                          as "tip!: i64",
                      a.kind as from_kind, i.line, i.text, i.part, i.state, i.estimated as "estimated: bool", i.note, i.source_id
               from entry e
               join ingredient i on i.household_id = e.household_id and i.entry_id = e.entry_id
               join account a on a.household_id = e.household_id and a.account_id = e.from_id
               where e.household_id = ? and e.batch_id in (select value from json_each(?)) and e.kind = 'ingredient'
                 and not exists (select 1 from voided v
                                 where v.household_id = e.household_id and v.entry_id = e.entry_id)
               order by i.line, e.entry_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read the lines of batches")?;
        for row in rows {
            if let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) {
                batch.lines.push(Line {
                    entry: EntryId(row.entry_id),
                    tip: EntryId(row.tip),
                    occurred_at: words::time(&row.occurred_at)?,
                    number: words::line_number(row.line)?,
                    text: row.text,
                    from: words::account(&row.from_kind, row.from_id)?,
                    part: row.part,
                    state: words::line_state(&row.state)?,
                    mass: Mass::from_mg(row.mass_mg),
                    estimated: row.estimated,
                    note: row.note,
                    profile: row.profile_id.map(ProfileId),
                    source: row.source_id.map(BatchId),
                });
            }
        }
        Ok(())
    }

    async fn add_pours(
        &mut self,
        household: HouseholdId,
        ids: &str,
        batches: &mut Batches,
    ) -> Result<()> {
        let rows = sqlx::query!(
            r#"select e.batch_id as "batch_id!", e.entry_id, e.occurred_at, e.mass_mg, p.what, p.part
               from entry e
               join pour_off p on p.household_id = e.household_id and p.entry_id = e.entry_id
               where e.household_id = ? and e.batch_id in (select value from json_each(?)) and e.kind = 'pour_off'
                 and not exists (select 1 from voided v
                                 where v.household_id = e.household_id and v.entry_id = e.entry_id)
               order by e.occurred_at, e.entry_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read what was poured off")?;
        for row in rows {
            if let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) {
                batch.pours.push(Pour {
                    entry: EntryId(row.entry_id),
                    occurred_at: words::time(&row.occurred_at)?,
                    kind: words::pour_kind(&row.what, row.part)?,
                    mass: Mass::from_mg(row.mass_mg),
                });
            }
        }
        Ok(())
    }

    /// Weighings of the whole, and counts of a lot: a count has an account of counts at one end.
    async fn add_readings(
        &mut self,
        household: HouseholdId,
        ids: &str,
        batches: &mut Batches,
    ) -> Result<()> {
        let rows = sqlx::query!(
            r#"select e.batch_id as "batch_id!", e.entry_id, e.occurred_at, e.from_id, e.to_id, w.gross_mg, w.tare_mg
               from entry e
               join weighing w on w.household_id = e.household_id and w.entry_id = e.entry_id
               where e.household_id = ? and e.batch_id in (select value from json_each(?))
                 and e.kind in ('weigh', 'count')
                 and not exists (select 1 from voided v
                                 where v.household_id = e.household_id and v.entry_id = e.entry_id)
               order by e.occurred_at, e.entry_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read weighings")?;
        let of_counts = Account::OF_COUNTS.map(|account| account.id().0);
        for row in rows {
            let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) else {
                continue;
            };
            let reading = ScaleReading {
                entry: EntryId(row.entry_id),
                occurred_at: words::time(&row.occurred_at)?,
                gross: Mass::from_mg(row.gross_mg),
                tare: Mass::from_mg(row.tare_mg),
            };
            let ends = [row.from_id, row.to_id];
            if !ends.iter().any(|end| of_counts.contains(end)) {
                batch.weighings.push(reading);
            } else if let Some(lot) = batch.lots.iter_mut().find(|lot| ends.contains(&lot.id.0)) {
                lot.counts.push(reading);
            }
        }
        Ok(())
    }

    /// How many pieces they are.
    async fn add_counted(
        &mut self,
        household: HouseholdId,
        ids: &str,
        batches: &mut Batches,
    ) -> Result<()> {
        let rows = sqlx::query!(
            r#"select e.batch_id as "batch_id!", e.entry_id, p.count, p.of_mg, p.word
               from entry e
               join pieces p on p.household_id = e.household_id and p.entry_id = e.entry_id
               where e.household_id = ? and e.batch_id in (select value from json_each(?))
                 and not exists (select 1 from voided v
                                 where v.household_id = e.household_id and v.entry_id = e.entry_id)
               order by e.entry_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read how many pieces batches are")?;
        for row in rows {
            if let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) {
                batch.counted.push(Counted {
                    entry: EntryId(row.entry_id),
                    count: words::count(row.count)?,
                    of: row.of_mg.map(Mass::from_mg),
                    word: row.word,
                });
            }
        }
        Ok(())
    }
}
