//! Households, their members, and the people behind them.

use chrono::{DateTime, Utc};
use chrono_tz::Tz;

use super::Transaction;
use super::error::{Doing, Result};
use super::words::time_text;
use crate::domain::ids::MemberId;
use crate::domain::ledger::Account;

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct HouseholdId(pub i64);

/// What a household begins with; everything else has defaults.
#[derive(Debug, Clone)]
pub struct NewHousehold<'a> {
    pub name: &'a str,
    pub zone: Tz,
}

impl Transaction {
    /// A new household with the accounts that every one has once.
    pub async fn create_household(
        &mut self,
        new: &NewHousehold<'_>,
        now: DateTime<Utc>,
    ) -> Result<HouseholdId> {
        let (zone, now) = (new.zone.name(), time_text(now));
        let id = sqlx::query!(
            "insert into household (name, timezone, created_at) values (?, ?, ?)",
            new.name,
            zone,
            now
        )
        .execute(self.connection())
        .await
        .doing("create a household")?
        .last_insert_rowid();
        for (account, kind) in Account::SINGLE {
            let kind = kind.kind();
            sqlx::query!(
                "insert into account (household_id, account_id, kind) values (?, ?, ?)",
                id,
                account.0,
                kind
            )
            .execute(self.connection())
            .await
            .doing("create a household's accounts")?;
        }
        Ok(HouseholdId(id))
    }

    /// The sender's place at the household's table; taken now if there was none.
    pub async fn ensure_member(
        &mut self,
        household: HouseholdId,
        channel: &str,
        sender: &str,
        name: &str,
        now: DateTime<Utc>,
    ) -> Result<MemberId> {
        let known = sqlx::query_scalar!(
            r#"select m.member_id as "member_id!: i64" from identity i
             join member m on m.person_id = i.person_id and m.household_id = ?
             where i.channel = ? and i.sender = ?"#,
            household.0,
            channel,
            sender
        )
        .fetch_optional(self.connection())
        .await
        .doing("look up a member")?;
        if let Some(member) = known {
            return Ok(MemberId(member));
        }
        let person = self.ensure_person(channel, sender, now).await?;
        self.forget(household);
        let now = time_text(now);
        let member = sqlx::query_scalar!(
            r#"insert into member (household_id, member_id, person_id, name, joined_at)
               values (?1, (select coalesce(max(member_id), 0) + 1 from member where household_id = ?1), ?2, ?3, ?4)
               returning member_id as "member_id!: i64""#,
            household.0,
            person,
            name,
            now
        )
        .fetch_one(self.connection())
        .await
        .doing("add a member")?;
        Ok(MemberId(member))
    }

    async fn ensure_person(
        &mut self,
        channel: &str,
        sender: &str,
        now: DateTime<Utc>,
    ) -> Result<i64> {
        if let Some(known) = self.person_of(channel, sender).await? {
            return Ok(known);
        }
        let person = self.add_person(now).await?;
        sqlx::query!(
            "insert into identity (channel, sender, person_id) values (?, ?, ?)",
            channel,
            sender,
            person
        )
        .execute(self.connection())
        .await
        .doing("add an identity")?;
        Ok(person)
    }

    /// Whose account this is.
    pub(super) async fn person_of(&mut self, channel: &str, sender: &str) -> Result<Option<i64>> {
        sqlx::query_scalar!(
            "select person_id from identity where channel = ? and sender = ?",
            channel,
            sender
        )
        .fetch_optional(self.connection())
        .await
        .doing("look up a person")
    }

    /// Somebody who has no account yet and sits nowhere.
    pub(super) async fn add_person(&mut self, now: DateTime<Utc>) -> Result<i64> {
        let now = time_text(now);
        let added = sqlx::query!("insert into person (created_at) values (?)", now)
            .execute(self.connection())
            .await
            .doing("add a person")?;
        Ok(added.last_insert_rowid())
    }

    pub async fn make_keeper(&mut self, household: HouseholdId, member: MemberId) -> Result<()> {
        self.forget(household);
        sqlx::query!(
            "update member set keeper = 1 where household_id = ? and member_id = ?",
            household.0,
            member.0
        )
        .execute(self.connection())
        .await
        .doing("make a member a keeper")?;
        Ok(())
    }

    /// The households at whose table the sender sits.
    pub async fn households_of(&mut self, channel: &str, sender: &str) -> Result<Vec<HouseholdId>> {
        let households = sqlx::query_scalar!(
            "select m.household_id from identity i
             join member m on m.person_id = i.person_id and m.left_at is null
             where i.channel = ? and i.sender = ?
               and not exists (select 1 from away_from_table a
                               where a.household_id = m.household_id and a.member_id = m.member_id)
             order by m.household_id",
            channel,
            sender
        )
        .fetch_all(self.connection())
        .await
        .doing("look up a sender's households")?;
        Ok(households.into_iter().map(HouseholdId).collect())
    }

    /// The one household that the sender keeps and that no group shares yet, if there is just one.
    pub async fn household_kept_alone(
        &mut self,
        channel: &str,
        sender: &str,
    ) -> Result<Option<HouseholdId>> {
        let households = sqlx::query_scalar!(
            "select m.household_id from identity i
             join member m on m.person_id = i.person_id and m.keeper = 1 and m.left_at is null
             where i.channel = ? and i.sender = ?
               and not exists (select 1 from chat c where c.household_id = m.household_id and c.private = 0)",
            channel,
            sender
        )
        .fetch_all(self.connection())
        .await
        .doing("look up a keeper's household")?;
        match households.as_slice() {
            [only] => Ok(Some(HouseholdId(*only))),
            _ => Ok(None),
        }
    }
}
