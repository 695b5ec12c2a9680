//! The household itself: its zone, its people, its names, its next numbers.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::domain::ids::*;
use crate::domain::kitchen::{Component, Member, Next, Place, PlaceKind, Settings};
use crate::domain::table::Seat;
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

/// So far back plates tell who eats here.
const TABLE_DAYS: &str = "-28 days";

impl Transaction {
    /// What a household begins with, whatever it has chosen since.
    pub(super) async fn defaults(&mut self, household: HouseholdId) -> Result<Settings> {
        let zone = sqlx::query_scalar!(
            "select timezone from household where household_id = ?",
            household.0
        )
        .fetch_one(self.connection())
        .await
        .doing("read a household")?;
        Ok(Settings::of_zone(words::zone(&zone)?))
    }

    /// Everybody who ever was at the table, as they came.
    pub(super) async fn members(&mut self, household: HouseholdId) -> Result<Vec<Member>> {
        let rows = sqlx::query!(
            r#"select member_id, name, keeper as "keeper: bool", person_id is not null as "chats!: bool",
                      left_at is null as "here!: bool"
               from member
               where household_id = ? order by member_id"#,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read members")?;
        let rows = rows.into_iter().map(|row| Member {
            keeper: row.keeper,
            seat: if row.here { Seat::Here } else { Seat::Left },
            ..Member::new(MemberId(row.member_id), &row.name, row.chats)
        });
        Ok(rows.collect())
    }

    /// Who had a plate on which of the last days on which anybody had one.
    pub(super) async fn at_table(
        &mut self,
        household: HouseholdId,
    ) -> Result<BTreeSet<(NaiveDate, MemberId)>> {
        let rows = sqlx::query!(
            "select distinct day, member_id from plate
             where household_id = ?1 and day > (select date(max(day), ?2) from plate where household_id = ?1)
             order by day, member_id",
            household.0,
            TABLE_DAYS
        )
        .fetch_all(self.connection())
        .await
        .doing("read who ate here lately")?;
        let rows = rows.into_iter();
        rows.map(|row| Ok((words::day(&row.day)?, MemberId(row.member_id))))
            .collect()
    }

    pub(super) async fn components(&mut self, household: HouseholdId) -> Result<Vec<Component>> {
        let rows = sqlx::query!(
            "select component_id, name, name_key from component where household_id = ? order by component_id",
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read components")?;
        Ok(rows
            .into_iter()
            .map(|row| Component {
                id: ComponentId(row.component_id),
                name: row.name,
                key: row.name_key,
            })
            .collect())
    }

    pub(super) async fn places(&mut self, household: HouseholdId) -> Result<Vec<Place>> {
        let rows = sqlx::query!(
            "select place_id, name, kind from place where household_id = ? order by place_id",
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read places")?;
        let told = self.place_kinds(household).await?;
        rows.into_iter()
            .map(|row| {
                let id = PlaceId(row.place_id);
                let own = told.iter().filter(|(_, place, _)| *place == id);
                Ok(Place {
                    id,
                    name: row.name,
                    opened_as: words::place_kind(&row.kind)?,
                    told: own.map(|(entry, _, kind)| (*entry, *kind)).collect(),
                })
            })
            .collect()
    }

    /// What kinds of places the household has told, oldest first.
    async fn place_kinds(
        &mut self,
        household: HouseholdId,
    ) -> Result<Vec<(EntryId, PlaceId, PlaceKind)>> {
        let rows = sqlx::query!(
            "select entry_id, place_id, kind from place_kind k
             where household_id = ?
               and not exists (select 1 from voided v
                               where v.household_id = k.household_id and v.entry_id = k.entry_id)
             order by entry_id",
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read the kinds of places")?;
        rows.into_iter()
            .map(|row| {
                let kind = words::place_kind(&row.kind)?;
                Ok((EntryId(row.entry_id), PlaceId(row.place_id), kind))
            })
            .collect()
    }

    pub(super) async fn next_numbers(&mut self, household: HouseholdId) -> Result<Next> {
        // Lots and plates count from 100, above the accounts that every household has.
        let row = sqlx::query!(
            r#"select
                 (select coalesce(max(member_id), 0) from member where household_id = ?1) as "member!: i64",
                 (select coalesce(max(entry_id), 0) from entry where household_id = ?1) as "entry!: i64",
                 (select max(99, max(account_id)) from account where household_id = ?1) as "account!: i64",
                 (select coalesce(max(batch_id), 0) from batch where household_id = ?1) as "batch!: i64",
                 (select coalesce(max(component_id), 0) from component where household_id = ?1) as "component!: i64",
                 (select coalesce(max(place_id), 0) from place where household_id = ?1) as "place!: i64",
                 (select coalesce(max(container_id), 0) from container where household_id = ?1) as "container!: i64",
                 (select coalesce(max(profile_id), 0) from profile where household_id = ?1) as "profile!: i64",
                 (select coalesce(max(question_id), 0) from question where household_id = ?1) as "question!: i64""#,
            household.0
        )
        .fetch_one(self.connection())
        .await
        .doing("read the next numbers")?;
        Ok(Next {
            member: row.member + 1,
            entry: row.entry + 1,
            account: row.account + 1,
            batch: row.batch + 1,
            component: row.component + 1,
            place: row.place + 1,
            container: row.container + 1,
            profile: row.profile + 1,
            question: row.question + 1,
        })
    }
}
