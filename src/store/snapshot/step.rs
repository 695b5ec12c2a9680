//! The steps of dishes, as they were told.

use crate::domain::ids::{ComponentId, EntryId};
use crate::domain::prep::books::PrepDetail;
use crate::domain::prep::sheet::DishStep;
use crate::domain::prep::work::Step;
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

impl Transaction {
    /// The steps that these entries tell, or all that stand.
    pub(super) async fn steps(
        &mut self,
        household: HouseholdId,
        entries: Option<&str>,
    ) -> Result<Vec<(EntryId, PrepDetail)>> {
        let rows = sqlx::query!(
            r#"select t.entry_id as "entry_id!: i64", t.component_id, s.words as "words?", s.minutes as "minutes?",
                      s.uses as "uses?", s.oven_c
               from steps_told t
               left join step s on s.household_id = t.household_id and s.entry_id = t.entry_id
               where t.household_id = ?1
                 and case when ?2 is null
                          then not exists (select 1 from voided v
                                           where v.household_id = t.household_id and v.entry_id = t.entry_id)
                          else t.entry_id in (select value from json_each(?2)) end
               order by t.entry_id, s.number"#,
            household.0,
            entries
        )
        .fetch_all(self.connection())
        .await
        .doing("read the steps of dishes")?;
        let mut told: Vec<(EntryId, ComponentId, Vec<DishStep>)> = Vec::new();
        for row in rows {
            let entry = EntryId(row.entry_id);
            if told.last().is_none_or(|(known, ..)| *known != entry) {
                told.push((entry, ComponentId(row.component_id), Vec::new()));
            }
            let (Some(called), Some(minutes), Some(uses)) = (row.words, row.minutes, row.uses)
            else {
                continue;
            };
            let heat = row.oven_c.map(words::count).transpose()?;
            let step = DishStep {
                words: called,
                step: Step {
                    minutes: words::count(minutes)?,
                    uses: words::step::uses(&uses, heat)?,
                },
            };
            if let Some((.., steps)) = told.last_mut() {
                steps.push(step);
            }
        }
        let told = told.into_iter();
        Ok(told
            .map(|(entry, dish, steps)| (entry, PrepDetail::Steps { dish, steps }))
            .collect())
    }
}
