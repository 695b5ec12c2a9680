//! What people took of earlier pots of the dishes that are open now: it tells what a usual portion is.

use std::collections::BTreeMap;

use crate::domain::ids::ComponentId;
use crate::domain::mass::Mass;
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

/// So many of the newest earlier pots of a dish are asked.
const POTS: i64 = 2;

impl Transaction {
    /// By dish, what was put on plates of its newest pots that are not among those `in_sight`, newest first.
    pub(super) async fn eaten_before(
        &mut self,
        household: HouseholdId,
        in_sight: &[i64],
    ) -> Result<BTreeMap<ComponentId, Vec<Mass>>> {
        let in_sight = words::id_list(in_sight.iter().copied());
        let rows = sqlx::query!(
            r#"select dish.component_id, sum(e.mass_mg) as "mass_mg!: i64"
               from (select distinct component_id from batch where household_id = ?1 and closed_at is null) dish
               join batch b on b.household_id = ?1 and b.component_id = dish.component_id
                           and b.batch_id in (
                               select earlier.batch_id from batch earlier
                               where earlier.household_id = ?1 and earlier.component_id = dish.component_id
                                 and earlier.batch_id not in (select value from json_each(?2))
                               order by earlier.batch_id desc limit ?3)
               join entry e on e.household_id = ?1 and e.batch_id = b.batch_id and e.kind = 'portion'
               where not exists (select 1 from voided v
                                 where v.household_id = e.household_id and v.entry_id = e.entry_id)
               group by dish.component_id, e.to_id
               order by e.to_id desc"#,
            household.0,
            in_sight,
            POTS
        )
        .fetch_all(self.connection())
        .await
        .doing("read what people took of earlier pots")?;
        let mut eaten: BTreeMap<ComponentId, Vec<Mass>> = BTreeMap::new();
        for row in rows {
            let dish = eaten.entry(ComponentId(row.component_id)).or_default();
            dish.push(Mass::from_mg(row.mass_mg));
        }
        Ok(eaten)
    }
}
