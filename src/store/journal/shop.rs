//! What was said of shopping lists, as rows.

use super::Writing;
use crate::domain::ids::EntryId;
use crate::domain::prep::goods::Good;
use crate::domain::prep::shop::{ListFact, ListTold};
use crate::store::error::{Doing, Result};
use crate::store::words;

impl Writing<'_> {
    pub(super) async fn list_fact(&mut self, entry: EntryId, fact: &ListFact) -> Result<()> {
        let kind = words::shop::kind(&fact.told);
        let (mut good, mut mass, mut said, mut planned): (Option<&Good>, _, _, _) =
            (None, None, None, false);
        let (mut from, mut until) = (None, None);
        match &fact.told {
            ListTold::Begun | ListTold::Closed => {}
            ListTold::Wanted(want) => {
                good = Some(&want.good);
                mass = want.mass.map(|mass| mass.mg());
                (said, planned) = (want.said.as_deref(), want.planned);
            }
            ListTold::Ticked(ticked) => good = Some(ticked),
            ListTold::Planned {
                from: first,
                until: last,
            } => (from, until) = (Some(first.to_string()), Some(last.to_string())),
        }
        let key = good.map(|good| good.key.as_str());
        let typed = good.map(|good| good.words.as_str());
        let food = good.and_then(|good| good.food).map(|code| code.to_string());
        sqlx::query!(
            "insert into list_fact (household_id, entry_id, list_id, kind, name_key, words, food, mass_mg, said, planned,
                                    from_day, until_day)
             values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            self.household,
            entry.0,
            fact.list.0,
            kind,
            key,
            typed,
            food,
            mass,
            said,
            planned,
            from,
            until
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep what was said of the shopping list")?;
        Ok(())
    }
}
