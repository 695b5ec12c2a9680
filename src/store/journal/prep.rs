//! Facts of cooking ahead, as rows.

use super::Writing;
use crate::domain::allergen::contents::Contents;
use crate::domain::ids::{ComponentId, EntryId};
use crate::domain::prep::books::PrepDetail;
use crate::domain::prep::goods::{Cupboard, Good, GoodFact};
use crate::domain::prep::sheet::DishStep;
use crate::domain::prep::wish::Wish;
use crate::store::error::{Doing, Result};
use crate::store::words;

impl Writing<'_> {
    pub(super) async fn prep_detail(&mut self, entry: EntryId, detail: &PrepDetail) -> Result<()> {
        match detail {
            PrepDetail::Good(good, fact) => self.good_fact(entry, good, fact).await,
            PrepDetail::List(fact) => self.list_fact(entry, fact).await,
            PrepDetail::Wish(wish) => self.wish(entry, wish).await,
            PrepDetail::Steps { dish, steps } => self.steps(entry, *dish, steps).await,
            PrepDetail::Contents(told) => self.contents(entry, told).await,
            PrepDetail::Par { .. } | PrepDetail::PotHolds { .. } | PrepDetail::Limit { .. } => {
                self.prep_fact(entry, detail).await
            }
        }
    }

    async fn good_fact(&mut self, entry: EntryId, good: &Good, fact: &GoodFact) -> Result<()> {
        let food = good.food.map(|code| code.to_string());
        if let GoodFact::AtHome(mass) = fact {
            let mass = mass.map(|mass| mass.mg());
            sqlx::query!(
                "insert into home_level (household_id, entry_id, name_key, words, food, mass_mg)
                 values (?, ?, ?, ?, ?, ?)",
                self.household,
                entry.0,
                good.key,
                good.words,
                food,
                mass
            )
            .execute(self.transaction.connection())
            .await
            .doing("keep how much of a thing is to be at home")?;
            return Ok(());
        }
        let (mut mass, mut trimmed, mut word) = (None, None, None);
        let (mut hundredths, mut currency) = (None, None);
        let kind = match fact {
            GoodFact::Trimmed {
                bought,
                trimmed: kept,
            } => {
                (mass, trimmed) = (Some(*bought), Some(kept.mg()));
                "trimmed"
            }
            GoodFact::Pack {
                mass: of,
                word: one,
            } => {
                (mass, word) = (Some(*of), Some(one.as_str()));
                "pack"
            }
            GoodFact::Price { money, mass: of } => {
                mass = Some(*of);
                (hundredths, currency) = (Some(money.hundredths), Some(money.currency.as_str()));
                "price"
            }
            GoodFact::Cupboard(Cupboard::Holds(of)) => {
                mass = Some(*of);
                "holds"
            }
            GoodFact::Cupboard(Cupboard::Always) => "always",
            GoodFact::Cupboard(Cupboard::Out) => "out",
            GoodFact::AtHome(_) => return Ok(()),
        };
        let mass = mass.map(|mass| mass.mg());
        sqlx::query!(
            "insert into good_fact (household_id, entry_id, kind, name_key, words, food, mass_mg, trimmed_mg, word,
                                    hundredths, currency)
             values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            self.household,
            entry.0,
            kind,
            good.key,
            good.words,
            food,
            mass,
            trimmed,
            word,
            hundredths,
            currency
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep what was told of a thing that is bought")?;
        Ok(())
    }

    async fn steps(&mut self, entry: EntryId, dish: ComponentId, steps: &[DishStep]) -> Result<()> {
        sqlx::query!(
            "insert into steps_told (household_id, entry_id, component_id) values (?, ?, ?)",
            self.household,
            entry.0,
            dish.0
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep that steps were told")?;
        for (step, number) in steps.iter().zip(1..) {
            let number: i64 = number;
            let (uses, heat) = words::step::word(step.step.uses);
            sqlx::query!(
                "insert into step (household_id, entry_id, number, words, minutes, uses, oven_c)
                 values (?, ?, ?, ?, ?, ?, ?)",
                self.household,
                entry.0,
                number,
                step.words,
                step.step.minutes,
                uses,
                heat
            )
            .execute(self.transaction.connection())
            .await
            .doing("keep a step of a dish")?;
        }
        Ok(())
    }

    async fn contents(&mut self, entry: EntryId, told: &Contents) -> Result<()> {
        let things = told.things.join("\n");
        sqlx::query!(
            "insert into contents (household_id, entry_id, name_key, words, things, whole) values (?, ?, ?, ?, ?, ?)",
            self.household,
            entry.0,
            told.key,
            told.words,
            things,
            told.whole
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep what is in a thing that is bought")?;
        Ok(())
    }

    async fn wish(&mut self, entry: EntryId, wish: &Wish) -> Result<()> {
        let (from, until) = (wish.from.to_string(), wish.until.to_string());
        let mass = wish.a_day.map(|mass| mass.mg());
        let meal = wish.meal.map(words::meal_word);
        sqlx::query!(
            "insert into wish (household_id, entry_id, component_id, from_day, until_day, mass_mg, meal, people)
             values (?, ?, ?, ?, ?, ?, ?, ?)",
            self.household,
            entry.0,
            wish.dish.0,
            from,
            until,
            mass,
            meal,
            wish.people
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep what is wished for")?;
        Ok(())
    }

    async fn prep_fact(&mut self, entry: EntryId, detail: &PrepDetail) -> Result<()> {
        let (kind, dish, mass, count) = match detail {
            PrepDetail::Par { dish, mass } => ("par", Some(*dish), *mass, None),
            PrepDetail::PotHolds { dish, mass } => ("pot", *dish, Some(*mass), None),
            PrepDetail::Limit { what, count } => (what.word(), None, None, *count),
            PrepDetail::Good(..)
            | PrepDetail::List(_)
            | PrepDetail::Wish(_)
            | PrepDetail::Contents(_)
            | PrepDetail::Steps { .. } => {
                unreachable!("sorted out by `prep_detail`")
            }
        };
        let (dish, mass) = (dish.map(|dish| dish.0), mass.map(|mass| mass.mg()));
        sqlx::query!(
            "insert into prep_fact (household_id, entry_id, kind, component_id, mass_mg, count)
             values (?, ?, ?, ?, ?, ?)",
            self.household,
            entry.0,
            kind,
            dish,
            mass,
            count
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep what was told of dishes, pots and the stove")?;
        Ok(())
    }
}
