//! The lots of batches: where they stand, what has moved in and out of them, what dates were told of them,
//! and what they stand in.

use std::collections::BTreeMap;

use super::batch::Batches;
use crate::domain::batch::Lot;
use crate::domain::ids::*;
use crate::domain::mass::Mass;
use crate::domain::moves::Move;
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

impl Transaction {
    pub(super) async fn add_lots(
        &mut self,
        household: HouseholdId,
        ids: &str,
        batches: &mut Batches,
    ) -> Result<()> {
        let rows = sqlx::query!(
            r#"select l.batch_id as "batch_id!", l.account_id, l.place_id, l.came_from, l.since, a.balance_mg
               from lot l
               join account a on a.household_id = l.household_id and a.account_id = l.account_id
               where l.household_id = ? and l.batch_id in (select value from json_each(?))
               order by l.account_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read lots")?;
        for row in rows {
            if let Some(batch) = batches.get_mut(&BatchId(row.batch_id)) {
                batch.lots.push(Lot {
                    id: AccountId(row.account_id),
                    place: row.place_id.map(PlaceId),
                    came_from: row.came_from.map(AccountId),
                    since: words::optional(row.since, words::day)?,
                    told: Vec::new(),
                    stood: Vec::new(),
                    balance: Mass::from_mg(row.balance_mg),
                    moves: Vec::new(),
                    counts: Vec::new(),
                });
            }
        }
        Ok(())
    }

    /// What has moved in and out of lots, without what was taken back whole.
    pub(super) async fn add_moves(
        &mut self,
        household: HouseholdId,
        batches: &mut Batches,
    ) -> Result<()> {
        let lots = batches.values().flat_map(|batch| &batch.lots);
        let ids = words::id_list(lots.map(|lot| lot.id.0));
        let rows = sqlx::query!(
            r#"select moved.lot as "lot!: i64", moved.first as "first!: i64", min(moved.occurred_at) as "occurred_at!: String",
                      a.account_id as "other!: i64", a.kind as "other_kind!: String", sum(moved.mass_mg) as "mass_mg!: i64"
               from (select from_id as lot, to_id as other, -mass_mg as mass_mg, occurred_at,
                            coalesce(root, entry_id) as first
                     from entry where household_id = ?1 and from_id >= 100
                                  and from_id in (select value from json_each(?2))
                     union all
                     select to_id, from_id, mass_mg, occurred_at, coalesce(root, entry_id)
                     from entry where household_id = ?1 and to_id >= 100
                                  and to_id in (select value from json_each(?2))) moved
               join account a on a.household_id = ?1 and a.account_id = moved.other
               group by moved.first, moved.lot having sum(moved.mass_mg) <> 0
               order by moved.first"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read what moved in and out of lots")?;
        let mut moves: BTreeMap<i64, Vec<Move>> = BTreeMap::new();
        for row in rows {
            moves.entry(row.lot).or_default().push(Move {
                entry: EntryId(row.first),
                occurred_at: words::time(&row.occurred_at)?,
                other: words::account(&row.other_kind, row.other)?,
                mass: Mass::from_mg(row.mass_mg),
            });
        }
        for lot in batches.values_mut().flat_map(|batch| &mut batch.lots) {
            lot.moves = moves.remove(&lot.id.0).unwrap_or_default();
        }
        Ok(())
    }

    /// Dates as printed on packets.
    pub(super) async fn add_told_dates(
        &mut self,
        household: HouseholdId,
        batches: &mut Batches,
    ) -> Result<()> {
        let lots = batches.values().flat_map(|batch| &batch.lots);
        let ids = words::id_list(lots.map(|lot| lot.id.0));
        let rows = sqlx::query!(
            r#"select lot_id, entry_id, use_by from told_date t
               where household_id = ? and lot_id in (select value from json_each(?))
                 and not exists (select 1 from voided v
                                 where v.household_id = t.household_id and v.entry_id = t.entry_id)
               order by entry_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read the dates that were told")?;
        let mut told: BTreeMap<i64, Vec<_>> = BTreeMap::new();
        for row in rows {
            let on = words::day(&row.use_by)?;
            told.entry(row.lot_id)
                .or_default()
                .push((EntryId(row.entry_id), on));
        }
        for lot in batches.values_mut().flat_map(|batch| &mut batch.lots) {
            lot.told = told.remove(&lot.id.0).unwrap_or_default();
        }
        Ok(())
    }

    /// What lots stand in.
    pub(super) async fn add_vessels(
        &mut self,
        household: HouseholdId,
        batches: &mut Batches,
    ) -> Result<()> {
        let lots = batches.values().flat_map(|batch| &batch.lots);
        let ids = words::id_list(lots.map(|lot| lot.id.0));
        let rows = sqlx::query!(
            r#"select lot_id, entry_id, container_id, tare_mg from vessel s
               where household_id = ? and lot_id in (select value from json_each(?))
                 and not exists (select 1 from voided v
                                 where v.household_id = s.household_id and v.entry_id = s.entry_id)
               order by entry_id"#,
            household.0,
            ids
        )
        .fetch_all(self.connection())
        .await
        .doing("read what lots stand in")?;
        let mut stood: BTreeMap<i64, Vec<_>> = BTreeMap::new();
        for row in rows {
            let vessel = words::vessel(row.container_id, row.tare_mg);
            let entry = EntryId(row.entry_id);
            stood.entry(row.lot_id).or_default().push((entry, vessel));
        }
        for lot in batches.values_mut().flat_map(|batch| &mut batch.lots) {
            lot.stood = stood.remove(&lot.id.0).unwrap_or_default();
        }
        Ok(())
    }
}
