//! What an entry was about: one row in the table of its kind, under the entry's own number.

use super::Writing;
use crate::domain::change::Detail;
use crate::domain::ids::EntryId;
use crate::domain::keeping::Span;
use crate::store::error::{Doing, Result};
use crate::store::words;

impl Writing<'_> {
    pub(super) async fn detail(&mut self, entry: EntryId, detail: &Detail) -> Result<()> {
        match detail {
            Detail::Ingredient { .. }
            | Detail::Weighing { .. }
            | Detail::PourOff(_)
            | Detail::Pieces { .. }
            | Detail::Taking { .. }
            | Detail::Waste { .. }
            | Detail::Price(_)
            | Detail::Portion { .. } => self.pot_detail(entry, detail).await,
            Detail::Prep(told) => self.prep_detail(entry, told).await,
            Detail::Packet { .. } | Detail::Measure { .. } | Detail::Choice(_) => {
                self.food_detail(entry, detail).await
            }
            Detail::Tare { .. } | Detail::Vessel { .. } | Detail::Setting(_) => {
                self.kitchen_detail(entry, detail).await
            }
            Detail::Clock(detail) => self.clock_detail(entry, detail).await,
            Detail::Personal { member, fact } => self.personal_detail(entry, *member, fact).await,
            Detail::ToldDate { .. } | Detail::OwnDays(_) | Detail::PlaceKind { .. } => {
                self.keeping_detail(entry, detail).await
            }
        }
    }

    /// What the household has said of how long food keeps, and how cold its places are.
    async fn keeping_detail(&mut self, entry: EntryId, detail: &Detail) -> Result<()> {
        let household = self.household;
        let connection = self.transaction.connection();
        let written = match detail {
            Detail::ToldDate { lot, on } => {
                let on = on.to_string();
                sqlx::query!(
                    "insert into told_date (household_id, entry_id, lot_id, use_by) values (?, ?, ?, ?)",
                    household,
                    entry.0,
                    lot.0,
                    on
                )
                .execute(connection)
                .await
            }
            Detail::OwnDays(own) => {
                let storage = words::storage_word(own.storage);
                let (count, unit) = match own.keeps {
                    None => (None, None),
                    Some(Span::Days(days)) => (Some(days), Some("day")),
                    Some(Span::Months(months)) => (Some(months), Some("month")),
                };
                sqlx::query!(
                    "insert into own_days (household_id, entry_id, component_id, storage, count, unit)
                     values (?, ?, ?, ?, ?, ?)",
                    household,
                    entry.0,
                    own.component.0,
                    storage,
                    count,
                    unit
                )
                .execute(connection)
                .await
            }
            Detail::PlaceKind { place, kind } => {
                let kind = words::place_word(*kind);
                sqlx::query!(
                    "insert into place_kind (household_id, entry_id, place_id, kind) values (?, ?, ?, ?)",
                    household,
                    entry.0,
                    place.0,
                    kind
                )
                .execute(connection)
                .await
            }
            _ => unreachable!("sorted out by `detail`"),
        };
        written.doing("keep what was said about keeping")?;
        Ok(())
    }

    /// What went into a pot, out of it, onto the scale or onto a plate.
    async fn pot_detail(&mut self, entry: EntryId, detail: &Detail) -> Result<()> {
        let household = self.household;
        let connection = self.transaction.connection();
        let written = match detail {
            Detail::Ingredient {
                number,
                text,
                part,
                state,
                estimated,
                note,
                source,
            } => {
                let (state, source) = (state.word(), source.map(|batch| batch.0));
                sqlx::query!(
                    "insert into ingredient (household_id, entry_id, line, text, part, state, estimated, note, source_id)
                     values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    household,
                    entry.0,
                    number,
                    text,
                    part,
                    state,
                    estimated,
                    note,
                    source
                )
                .execute(connection)
                .await
            }
            Detail::Weighing { gross, tare } => {
                let (gross, tare, net) = (gross.mg(), tare.mg(), (*gross - *tare).mg());
                sqlx::query!(
                    "insert into weighing (household_id, entry_id, gross_mg, tare_mg, net_mg) values (?, ?, ?, ?, ?)",
                    household,
                    entry.0,
                    gross,
                    tare,
                    net
                )
                .execute(connection)
                .await
            }
            Detail::Pieces { count, of, word } => {
                let of = of.map(|mass| mass.mg());
                sqlx::query!(
                    "insert into pieces (household_id, entry_id, count, of_mg, word) values (?, ?, ?, ?, ?)",
                    household,
                    entry.0,
                    count,
                    of,
                    word
                )
                .execute(connection)
                .await
            }
            Detail::Portion { estimated } => {
                sqlx::query!(
                    "insert into portion (household_id, entry_id, estimated) values (?, ?, ?)",
                    household,
                    entry.0,
                    estimated
                )
                .execute(connection)
                .await
            }
            Detail::Taking { amount, taker } => {
                let taker = taker.map(|member| member.0);
                sqlx::query!(
                    "insert into taking (household_id, entry_id, amount, taker_id) values (?, ?, ?, ?)",
                    household,
                    entry.0,
                    amount,
                    taker
                )
                .execute(connection)
                .await
            }
            Detail::Waste { reason } => {
                sqlx::query!(
                    "insert into waste (household_id, entry_id, reason) values (?, ?, ?)",
                    household,
                    entry.0,
                    reason
                )
                .execute(connection)
                .await
            }
            Detail::Price(money) => {
                sqlx::query!(
                    "insert into price (household_id, entry_id, hundredths, currency) values (?, ?, ?, ?)",
                    household,
                    entry.0,
                    money.hundredths,
                    money.currency
                )
                .execute(connection)
                .await
            }
            Detail::PourOff(kind) => {
                let (what, part) = words::pour_words(kind);
                sqlx::query!(
                    "insert into pour_off (household_id, entry_id, what, part) values (?, ?, ?, ?)",
                    household,
                    entry.0,
                    what,
                    part
                )
                .execute(connection)
                .await
            }
            _ => unreachable!("sorted out by `detail`"),
        };
        written.doing("keep what an entry was about")?;
        Ok(())
    }

    /// What the household has taught about foods.
    async fn food_detail(&mut self, entry: EntryId, detail: &Detail) -> Result<()> {
        let household = self.household;
        let written = match detail {
            Detail::Packet {
                name,
                key,
                profile,
                serving,
                doubted,
            } => {
                let profile = self.kept_profile(Some(*profile));
                let serving = serving.map(|mass| mass.mg());
                sqlx::query!(
                    "insert into packet (household_id, entry_id, name, name_key, profile_id, serving_mg, doubted)
                     values (?, ?, ?, ?, ?, ?, ?)",
                    household,
                    entry.0,
                    name,
                    key,
                    profile,
                    serving,
                    doubted
                )
                .execute(self.transaction.connection())
                .await
            }
            Detail::Measure { measure, key, each } => {
                let each = each.mg();
                sqlx::query!(
                    "insert into measure (household_id, entry_id, measure, name_key, each_mg) values (?, ?, ?, ?, ?)",
                    household,
                    entry.0,
                    measure,
                    key,
                    each
                )
                .execute(self.transaction.connection())
                .await
            }
            Detail::Choice(choice) => {
                let food = choice.food.to_string();
                sqlx::query!(
                    "insert into choice (household_id, entry_id, name_key, food, eaten) values (?, ?, ?, ?, ?)",
                    household,
                    entry.0,
                    choice.key,
                    food,
                    choice.eaten
                )
                .execute(self.transaction.connection())
                .await
            }
            _ => unreachable!("sorted out by `detail`"),
        };
        written.doing("keep what was taught about a food")?;
        Ok(())
    }

    /// What the household has said about its kitchen.
    async fn kitchen_detail(&mut self, entry: EntryId, detail: &Detail) -> Result<()> {
        let household = self.household;
        let connection = self.transaction.connection();
        let written = match detail {
            Detail::Tare { container, tare } => {
                let tare = tare.mg();
                sqlx::query!(
                    "insert into tare (household_id, entry_id, container_id, tare_mg) values (?, ?, ?, ?)",
                    household,
                    entry.0,
                    container.0,
                    tare
                )
                .execute(connection)
                .await
            }
            Detail::Vessel { lot, vessel } => {
                let (container, tare_mg) = words::vessel_columns(*vessel);
                sqlx::query!(
                    "insert into vessel (household_id, entry_id, lot_id, container_id, tare_mg) values (?, ?, ?, ?, ?)",
                    household,
                    entry.0,
                    lot.0,
                    container,
                    tare_mg
                )
                .execute(connection)
                .await
            }
            Detail::Setting(change) => {
                let (key, value) = words::setting_words(change);
                sqlx::query!(
                    "insert into setting (household_id, entry_id, key, value) values (?, ?, ?, ?)",
                    household,
                    entry.0,
                    key,
                    value
                )
                .execute(connection)
                .await
            }
            _ => unreachable!("sorted out by `detail`"),
        };
        written.doing("keep what was said about the kitchen")?;
        Ok(())
    }
}
