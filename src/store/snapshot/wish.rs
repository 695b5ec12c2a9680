//! What is wished for.

use crate::domain::ids::{ComponentId, EntryId};
use crate::domain::mass::Mass;
use crate::domain::prep::wish::{KeptWish, Wish};
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

/// So many of the newest may be of days to come: nobody wishes for more.
const NEWEST: i64 = 60;

impl Transaction {
    /// The newest that stand, oldest first.
    pub(super) async fn wishes(&mut self, household: HouseholdId) -> Result<Vec<KeptWish>> {
        let standing = sqlx::query_scalar!(
            r#"select entry_id as "entry_id!: i64" from wish w
               where household_id = ?
                 and not exists (select 1 from voided v
                                 where v.household_id = w.household_id and v.entry_id = w.entry_id)
               order by entry_id desc limit ?"#,
            household.0,
            NEWEST
        )
        .fetch_all(self.connection())
        .await
        .doing("look for wishes")?;
        self.wishes_of(household, &standing).await
    }

    /// What these entries wish for, whether they stand or not.
    pub(super) async fn wishes_of(
        &mut self,
        household: HouseholdId,
        ids: &[i64],
    ) -> Result<Vec<KeptWish>> {
        if ids.is_empty() {
            return Ok(Vec::new());
        }
        let ids = words::id_list(ids.iter().copied());
        let rows = sqlx::query!(
            r#"select w.entry_id as "entry_id!: i64", w.component_id, w.from_day, w.until_day, w.mass_mg, w.meal, w.people,
                      e.occurred_at,
                      coalesce((select max(x.entry_id) from entry x
                                where x.household_id = w.household_id and x.root = w.entry_id), w.entry_id) as "tip!: i64"
               from json_each(?1) wanted
               join wish w on w.household_id = ?2 and w.entry_id = wanted.value
               join entry e on e.household_id = w.household_id and e.entry_id = w.entry_id
               order by w.entry_id"#,
            ids,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read wishes")?;
        let rows = rows.into_iter();
        rows.map(|row| {
            Ok(KeptWish {
                entry: EntryId(row.entry_id),
                tip: EntryId(row.tip),
                told_at: words::time(&row.occurred_at)?,
                wish: Wish {
                    dish: ComponentId(row.component_id),
                    from: words::day(&row.from_day)?,
                    until: words::day(&row.until_day)?,
                    a_day: row.mass_mg.map(Mass::from_mg),
                    meal: row.meal.as_deref().map(words::meal).transpose()?,
                    people: row.people.map(words::count).transpose()?,
                },
            })
        })
        .collect()
    }
}
