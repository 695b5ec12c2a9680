//! What was told for cooking ahead.

use std::collections::BTreeMap;

use super::clock::{first, is_untold_fact};
use crate::domain::act::Act;
use crate::domain::allergen::contents::Contents;
use crate::domain::batch::Money;
use crate::domain::change::Detail;
use crate::domain::ids::{ComponentId, EntryId};
use crate::domain::mass::Mass;
use crate::domain::prep::books::{Limit, PrepBooks, PrepDetail};
use crate::domain::prep::goods::{Cupboard, Good, GoodFact};
use crate::store::Transaction;
use crate::store::error::{Doing, Error, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

impl Transaction {
    /// All that stands.
    pub(super) async fn prep(&mut self, household: HouseholdId) -> Result<PrepBooks> {
        let mut books = PrepBooks {
            shop: self.shop(household).await?,
            wishes: self.wishes(household).await?,
            ..PrepBooks::default()
        };
        for (entry, detail) in self.prep_details(household, None).await? {
            books.tell(entry, detail);
        }
        Ok(books)
    }

    /// What the facts of these acts were about, whether they stand or not.
    pub(super) async fn fill_prep(
        &mut self,
        household: HouseholdId,
        acts: &mut [Act],
    ) -> Result<()> {
        let untold = acts.iter().flat_map(|act| &act.entries);
        let ids: Vec<i64> = untold.filter(|it| is_untold_fact(it)).map(first).collect();
        if ids.is_empty() {
            return Ok(());
        }
        let listed = self.list_facts_of(household, &ids).await?.into_iter();
        let listed = listed.map(|kept| (kept.entry, PrepDetail::List(kept.fact)));
        let wishes = self.wishes_of(household, &ids).await?.into_iter();
        let wishes = wishes.map(|kept| (kept.entry, PrepDetail::Wish(kept.wish)));
        let ids = words::id_list(ids);
        let details = self.prep_details(household, Some(&ids)).await?;
        let details: BTreeMap<EntryId, PrepDetail> =
            details.into_iter().chain(listed).chain(wishes).collect();
        let entries = acts.iter_mut().flat_map(|act| &mut act.entries);
        for entry in entries.filter(|it| is_untold_fact(it)) {
            let detail = details.get(&EntryId(first(entry))).cloned();
            entry.detail = detail.map(Detail::Prep);
        }
        Ok(())
    }

    /// The facts of these entries, or all that stand.
    async fn prep_details(
        &mut self,
        household: HouseholdId,
        entries: Option<&str>,
    ) -> Result<Vec<(EntryId, PrepDetail)>> {
        let mut found = self.steps(household, entries).await?;
        let rows = sqlx::query!(
            r#"select entry_id, kind, name_key, words, food, mass_mg, trimmed_mg, word, hundredths, currency
               from good_fact g
               where household_id = ?1
                 and case when ?2 is null
                          then not exists (select 1 from voided v
                                           where v.household_id = g.household_id and v.entry_id = g.entry_id)
                          else entry_id in (select value from json_each(?2)) end
               order by entry_id"#,
            household.0,
            entries
        )
        .fetch_all(self.connection())
        .await
        .doing("read what was told of things that are bought")?;
        for row in rows {
            let mass = || row.mass_mg.map(Mass::from_mg);
            let fact = match (row.kind.as_str(), mass()) {
                ("trimmed", Some(bought)) => GoodFact::Trimmed {
                    bought,
                    trimmed: row.trimmed_mg.map_or(bought, Mass::from_mg),
                },
                ("pack", Some(mass)) => GoodFact::Pack {
                    mass,
                    word: row.word.unwrap_or_default(),
                },
                ("price", Some(mass)) => GoodFact::Price {
                    money: Money {
                        hundredths: row.hundredths.unwrap_or_default(),
                        currency: row.currency.unwrap_or_default(),
                    },
                    mass,
                },
                ("holds", Some(mass)) => GoodFact::Cupboard(Cupboard::Holds(mass)),
                ("always", None) => GoodFact::Cupboard(Cupboard::Always),
                ("out", None) => GoodFact::Cupboard(Cupboard::Out),
                (kind, _) => return Err(unreadable(kind)),
            };
            let good = Good {
                food: words::optional(row.food, words::food)?,
                key: row.name_key,
                words: row.words,
            };
            found.push((EntryId(row.entry_id), PrepDetail::Good(good, fact)));
        }
        let rows = sqlx::query!(
            r#"select entry_id, name_key, words, food, mass_mg
               from home_level h
               where household_id = ?1
                 and case when ?2 is null
                          then not exists (select 1 from voided v
                                           where v.household_id = h.household_id and v.entry_id = h.entry_id)
                          else entry_id in (select value from json_each(?2)) end
               order by entry_id"#,
            household.0,
            entries
        )
        .fetch_all(self.connection())
        .await
        .doing("read how much of things is to be at home")?;
        for row in rows {
            let good = Good {
                food: words::optional(row.food, words::food)?,
                key: row.name_key,
                words: row.words,
            };
            let fact = GoodFact::AtHome(row.mass_mg.map(Mass::from_mg));
            found.push((EntryId(row.entry_id), PrepDetail::Good(good, fact)));
        }
        let rows = sqlx::query!(
            r#"select entry_id, kind, component_id, mass_mg, count
               from prep_fact f
               where household_id = ?1
                 and case when ?2 is null
                          then not exists (select 1 from voided v
                                           where v.household_id = f.household_id and v.entry_id = f.entry_id)
                          else entry_id in (select value from json_each(?2)) end
               order by entry_id"#,
            household.0,
            entries
        )
        .fetch_all(self.connection())
        .await
        .doing("read what was told of dishes, pots and the stove")?;
        for row in rows {
            let dish = row.component_id.map(ComponentId);
            let mass = row.mass_mg.map(Mass::from_mg);
            let limit = Limit::ALL.iter().find(|(_, word)| *word == row.kind);
            let detail = match (row.kind.as_str(), dish, mass, limit) {
                ("par", Some(dish), mass, _) => PrepDetail::Par { dish, mass },
                ("pot", dish, Some(mass), _) => PrepDetail::PotHolds { dish, mass },
                (_, _, _, Some((what, _))) => PrepDetail::Limit {
                    what: *what,
                    count: row.count.map(words::count).transpose()?,
                },
                (kind, ..) => return Err(unreadable(kind)),
            };
            found.push((EntryId(row.entry_id), detail));
        }
        found.extend(self.contents(household, entries).await?);
        // What was told of one thing by several facts is read in their order.
        found.sort_by_key(|(entry, _)| *entry);
        Ok(found)
    }

    /// What is in things that are bought, by these entries, or by all that stand.
    async fn contents(
        &mut self,
        household: HouseholdId,
        entries: Option<&str>,
    ) -> Result<Vec<(EntryId, PrepDetail)>> {
        let rows = sqlx::query!(
            r#"select entry_id, name_key, words, things, whole as "whole: bool"
               from contents c
               where household_id = ?1
                 and case when ?2 is null
                          then not exists (select 1 from voided v
                                           where v.household_id = c.household_id and v.entry_id = c.entry_id)
                          else entry_id in (select value from json_each(?2)) end
               order by entry_id"#,
            household.0,
            entries
        )
        .fetch_all(self.connection())
        .await
        .doing("read what is in things that are bought")?;
        let told = rows.into_iter().map(|row| {
            let told = Contents {
                key: row.name_key,
                words: row.words,
                things: row.things.lines().map(str::to_owned).collect(),
                whole: row.whole,
            };
            (EntryId(row.entry_id), PrepDetail::Contents(told))
        });
        Ok(told.collect())
    }
}

fn unreadable(kind: &str) -> Error {
    Error::Unreadable {
        what: "a fact of cooking ahead",
        value: kind.to_owned(),
    }
}
