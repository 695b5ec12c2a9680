//! The newest shopping list, and how the shop was walked with those before it.

use crate::domain::ids::{EntryId, MemberId};
use crate::domain::mass::Mass;
use crate::domain::prep::goods::Good;
use crate::domain::prep::shop::{KeptFact, ListFact, ListTold, ShopBooks, Want};
use crate::store::Transaction;
use crate::store::error::{Doing, Error, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

/// So many walks tell where things stand: what is older counts for next to nothing.
const WALKS: i64 = 6;

impl Transaction {
    pub(super) async fn shop(&mut self, household: HouseholdId) -> Result<ShopBooks> {
        let lists = self.lists(household, 1).await?;
        Ok(ShopBooks {
            kept: self.list_facts(household, &lists).await?,
            walks: Vec::new(),
        })
    }

    /// What was ticked of the lists before the newest, in order: the oldest list first.
    pub(super) async fn walks(&mut self, household: HouseholdId) -> Result<Vec<Vec<String>>> {
        let lists = self.lists(household, WALKS + 1).await?;
        let [_, earlier @ ..] = lists.as_slice() else {
            return Ok(Vec::new());
        };
        let facts = self.list_facts(household, earlier).await?;
        let walk = |list: &EntryId| {
            let ticked = facts.iter().filter(|kept| kept.fact.list == *list);
            let key = |kept: &KeptFact| match &kept.fact.told {
                ListTold::Ticked(good) => Some(good.key.clone()),
                _ => None,
            };
            ticked.filter_map(key).collect()
        };
        Ok(earlier.iter().rev().map(walk).collect())
    }

    /// The lists that were begun last, the newest first.
    async fn lists(&mut self, household: HouseholdId, count: i64) -> Result<Vec<EntryId>> {
        let lists = sqlx::query_scalar!(
            r#"select entry_id as "entry_id!: i64" from list_fact f
               where household_id = ? and kind = 'begun'
                 and not exists (select 1 from voided v
                                 where v.household_id = f.household_id and v.entry_id = f.entry_id)
               order by entry_id desc limit ?"#,
            household.0,
            count
        )
        .fetch_all(self.connection())
        .await
        .doing("look for shopping lists")?;
        Ok(lists.into_iter().map(EntryId).collect())
    }

    /// What was said of these lists and stands, oldest first.
    async fn list_facts(
        &mut self,
        household: HouseholdId,
        lists: &[EntryId],
    ) -> Result<Vec<KeptFact>> {
        if lists.is_empty() {
            return Ok(Vec::new());
        }
        let lists = words::id_list(lists.iter().map(|list| list.0));
        let standing = sqlx::query_scalar!(
            r#"select f.entry_id as "entry_id!: i64"
               from json_each(?1) wanted
               join list_fact f on f.household_id = ?2 and f.list_id = wanted.value
               where not exists (select 1 from voided v
                                 where v.household_id = f.household_id and v.entry_id = f.entry_id)"#,
            lists,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("look for what stands on shopping lists")?;
        self.list_facts_of(household, &standing).await
    }

    /// What these entries say of lists, whether they stand or not.
    pub(super) async fn list_facts_of(
        &mut self,
        household: HouseholdId,
        ids: &[i64],
    ) -> Result<Vec<KeptFact>> {
        if ids.is_empty() {
            return Ok(Vec::new());
        }
        let ids = words::id_list(ids.iter().copied());
        let rows = sqlx::query!(
            r#"select f.entry_id as "entry_id!: i64", f.list_id, f.kind, f.name_key, f.words, f.food, f.mass_mg, f.said,
                      f.planned as "planned: bool", f.from_day, f.until_day, e.occurred_at, e.member_id,
                      coalesce((select max(x.entry_id) from entry x
                                where x.household_id = f.household_id and x.root = f.entry_id), f.entry_id) as "tip!: i64"
               from json_each(?1) wanted
               join list_fact f on f.household_id = ?2 and f.entry_id = wanted.value
               join entry e on e.household_id = f.household_id and e.entry_id = f.entry_id
               order by f.entry_id"#,
            ids,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read what was said of shopping lists")?;
        let mut facts = Vec::with_capacity(rows.len());
        for row in rows {
            let good = match (row.name_key, row.words) {
                (Some(key), Some(words)) => Some(Good {
                    food: words::optional(row.food, words::food)?,
                    key,
                    words,
                }),
                _ => None,
            };
            let days = row.from_day.zip(row.until_day);
            let told = match (row.kind.as_str(), good, days) {
                ("begun", None, None) => ListTold::Begun,
                ("closed", None, None) => ListTold::Closed,
                ("ticked", Some(good), None) => ListTold::Ticked(good),
                ("wanted", Some(good), None) => ListTold::Wanted(Want {
                    good,
                    mass: row.mass_mg.map(Mass::from_mg),
                    said: row.said,
                    planned: row.planned,
                }),
                ("planned", None, Some((from, until))) => ListTold::Planned {
                    from: words::day(&from)?,
                    until: words::day(&until)?,
                },
                (kind, ..) => {
                    return Err(Error::Unreadable {
                        what: "what was said of a shopping list",
                        value: kind.to_owned(),
                    });
                }
            };
            facts.push(KeptFact {
                entry: EntryId(row.entry_id),
                tip: EntryId(row.tip),
                told_at: words::time(&row.occurred_at)?,
                member: MemberId(row.member_id),
                fact: ListFact {
                    list: EntryId(row.list_id),
                    told,
                },
            });
        }
        Ok(facts)
    }
}
