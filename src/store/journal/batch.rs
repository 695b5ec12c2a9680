//! Batches, their lots, and plates: the things that mass moves between.

use super::Writing;
use crate::domain::batch::{Batch, Lot};
use crate::domain::change::Change;
use crate::domain::cookbook::OwnYield;
use crate::domain::ids::{AccountId, BatchId, PlaceId};
use crate::domain::plate::Plate;
use crate::store::error::{Doing, Result};
use crate::store::words::{self, time_text};

impl Writing<'_> {
    pub(super) async fn batch(&mut self, batch: &Batch) -> Result<()> {
        let (made_at, made_on) = (time_text(batch.made_at), batch.made_on.to_string());
        let closed_at = self.closed_at(batch.open);
        let origin = batch.origin.word();
        sqlx::query!(
            "insert into batch (household_id, batch_id, component_id, code, name, made_at, made_on, raw, origin, dated, closed_at)
             values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            self.household,
            batch.id.0,
            batch.component.0,
            batch.code,
            batch.name,
            made_at,
            made_on,
            batch.raw,
            origin,
            batch.dated,
            closed_at
        )
        .execute(self.transaction.connection())
        .await
        .doing("open a batch")?;
        self.own_yield(batch.id, batch.own_yield.as_ref()).await
    }

    /// What it is reckoned by, in the place of what it was.
    async fn own_yield(&mut self, batch: BatchId, own: Option<&OwnYield>) -> Result<()> {
        let household = self.household;
        sqlx::query!(
            "delete from own_yield where household_id = ? and batch_id = ?",
            household,
            batch.0
        )
        .execute(self.transaction.connection())
        .await
        .doing("forget what a batch was reckoned by")?;
        let Some(own) = own else { return Ok(()) };
        let pots = i64::from(own.pots);
        sqlx::query!(
            "insert into own_yield (household_id, batch_id, pots, median, least, most, liquid)
             values (?, ?, ?, ?, ?, ?, ?)",
            household,
            batch.0,
            pots,
            own.median,
            own.least,
            own.most,
            own.liquid
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep what a batch is reckoned by")?;
        Ok(())
    }

    fn closed_at(&self, open: bool) -> Option<String> {
        (!open).then(|| time_text(self.now))
    }

    pub(super) async fn change_batch(&mut self, change: &Change) -> Result<()> {
        let household = self.household;
        if let Change::Rename {
            batch, own_yield, ..
        } = change
        {
            self.own_yield(*batch, own_yield.as_ref()).await?;
        }
        let closed_at = match change {
            Change::SetOpen { open, .. } => self.closed_at(*open),
            _ => None,
        };
        let connection = self.transaction.connection();
        let changed = match change {
            Change::Rename {
                batch,
                name,
                component,
                ..
            } => {
                sqlx::query!(
                    "update batch set name = ?, component_id = ? where household_id = ? and batch_id = ?",
                    name,
                    component.0,
                    household,
                    batch.0
                )
                .execute(connection)
                .await
            }
            Change::MadeOn {
                batch,
                made_at,
                made_on,
            } => {
                let (made_at, made_on) = (time_text(*made_at), made_on.to_string());
                sqlx::query!(
                    "update batch set made_at = ?, made_on = ? where household_id = ? and batch_id = ?",
                    made_at,
                    made_on,
                    household,
                    batch.0
                )
                .execute(connection)
                .await
            }
            Change::MarkRaw { batch, raw } => {
                sqlx::query!(
                    "update batch set raw = ? where household_id = ? and batch_id = ?",
                    raw,
                    household,
                    batch.0
                )
                .execute(connection)
                .await
            }
            Change::SetOpen { batch, .. } => {
                sqlx::query!(
                    "update batch set closed_at = ? where household_id = ? and batch_id = ?",
                    closed_at,
                    household,
                    batch.0
                )
                .execute(connection)
                .await
            }
            _ => return Ok(()),
        };
        changed.doing("change a batch")?;
        Ok(())
    }

    async fn account(&mut self, id: AccountId, kind: &str) -> Result<()> {
        sqlx::query!(
            "insert into account (household_id, account_id, kind) values (?, ?, ?)",
            self.household,
            id.0,
            kind
        )
        .execute(self.transaction.connection())
        .await
        .doing("open an account")?;
        Ok(())
    }

    pub(super) async fn lot(&mut self, batch: BatchId, lot: &Lot) -> Result<()> {
        self.account(lot.id, "lot").await?;
        let place = lot.place.map(|place| place.0);
        let came_from = lot.came_from.map(|lot| lot.0);
        let since = lot.since.map(|day| day.to_string());
        sqlx::query!(
            "insert into lot (household_id, account_id, batch_id, place_id, came_from, since)
             values (?, ?, ?, ?, ?, ?)",
            self.household,
            lot.id.0,
            batch.0,
            place,
            came_from,
            since
        )
        .execute(self.transaction.connection())
        .await
        .doing("open a lot")?;
        Ok(())
    }

    pub(super) async fn place_lot(&mut self, lot: AccountId, place: Option<PlaceId>) -> Result<()> {
        let place = place.map(|place| place.0);
        sqlx::query!(
            "update lot set place_id = ? where household_id = ? and account_id = ?",
            place,
            self.household,
            lot.0
        )
        .execute(self.transaction.connection())
        .await
        .doing("place a lot")?;
        Ok(())
    }

    pub(super) async fn plate(&mut self, plate: &Plate) -> Result<()> {
        self.account(plate.id, "plate").await?;
        let day = plate.day.to_string();
        let meal = plate.meal.map(words::meal_word);
        let opened_at = time_text(self.now);
        sqlx::query!(
            "insert into plate (household_id, account_id, member_id, day, meal, message_id, closed, opened_at)
             values (?, ?, ?, ?, ?, ?, ?, ?)",
            self.household,
            plate.id.0,
            plate.member.0,
            day,
            meal,
            plate.message.0,
            plate.closed,
            opened_at
        )
        .execute(self.transaction.connection())
        .await
        .doing("open a plate")?;
        Ok(())
    }

    pub(super) async fn close_plate(&mut self, plate: AccountId) -> Result<()> {
        sqlx::query!(
            "update plate set closed = 1 where household_id = ? and account_id = ?",
            self.household,
            plate.0
        )
        .execute(self.transaction.connection())
        .await
        .doing("close a plate")?;
        Ok(())
    }
}
