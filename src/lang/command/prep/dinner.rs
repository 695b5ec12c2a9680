//! A meal of a day to come: "Friday dinner: dal and rice for 2", "dinner on Friday: dal", "dal for dinner on Friday".
//!
//! ```text
//! dinner := (day meal | meal ["on" | "for"] day) ":" dishes ["for" people] | dishes "for" meal days
//! ```
//! With grams it tells what somebody had, unless it tells how many eat of it.

use super::whole;
use super::wish::{dishes, for_meal, people, these_days};
use crate::lang::ahead::{Ahead, ahead};
use crate::lang::command::only_marks;
use crate::lang::date::meal;
use crate::lang::syntax::{Command, Helping, MealName, Prep, Until, Wish};
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let wish = headed(said).or_else(|| behind(said))?;
        Some(Prep::Wish(wish))
    })
}

/// The day and its meal first.
fn headed(said: Tokens<'_>) -> Option<Wish> {
    let (rest, (day, meal)) = day_and_meal(said).or_else(|| meal_and_day(said))?;
    let told = rest.first()?.is(':').then(|| rest.take_one().trimmed())?;
    let eaters = (1..told.len()).find_map(|at| {
        let (behind, eaters) = people(told.after(at))?;
        only_marks(behind).then_some((at, eaters))
    });
    let (told, people) = match eaters {
        Some((at, eaters)) => (told.range(0, at), Some(eaters)),
        None => (told, None),
    };
    let dishes = dishes(told)?;
    let had = people.is_none() && dishes.iter().any(|dish: &Helping| dish.grams.is_some());
    (!had).then(|| Wish::Of {
        dishes,
        meal: Some(meal),
        people,
        from: day.clone(),
        until: Until::Day(day),
    })
}

fn day_and_meal(said: Tokens<'_>) -> Option<(Tokens<'_>, (Ahead, MealName))> {
    let (rest, day) = ahead(said).ok()?;
    let (rest, name) = meal(rest.after(usize::from(rest.norm(0) == "s"))).ok()?;
    Some((rest, (day, name)))
}

fn meal_and_day(said: Tokens<'_>) -> Option<(Tokens<'_>, (Ahead, MealName))> {
    let (rest, name) = meal(said).ok()?;
    let rest = rest.after(usize::from(rest.norm(0) == "for"));
    let (rest, day) = ahead(rest).ok()?;
    Some((rest, (day, name)))
}

/// "dal for dinner on Friday"
fn behind(said: Tokens<'_>) -> Option<Wish> {
    let said = said.after(usize::from(said.norm(0) == "plan"));
    let at = (1..said.len()).find(|&at| said.norm(at) == "for")?;
    let (rest, Some(meal)) = for_meal(said.after(at)) else {
        return None;
    };
    let (rest, (from, until)) = these_days(rest)?;
    let dishes = dishes(said.range(0, at))?;
    let plain = dishes.iter().all(|dish| dish.grams.is_none());
    (plain && only_marks(rest)).then_some(Wish::Of {
        dishes,
        meal: Some(meal),
        people: None,
        from,
        until: Until::Day(until),
    })
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Batch, "rice")
            .with(Sense::Person, "Tom")
    }

    #[test]
    fn a_meal_of_a_day_is_planned() {
        for (text, printed) in [
            (
                "Friday dinner: dal and rice for 2",
                "dal, rice for 2 for dinner Friday to Friday",
            ),
            (
                "dinner on friday: rice and dal for 2",
                "rice, dal for 2 for dinner Friday to Friday",
            ),
            (
                "tomorrow's lunch: rice",
                "rice for lunch tomorrow to tomorrow",
            ),
            (
                "lunch for Saturday: 200 g rice for 3 people",
                "200 g rice for 3 for lunch Saturday to Saturday",
            ),
            ("Friday dinner: dal", "dal for dinner Friday to Friday"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
        // It may be news of the family.
        assert!(!means(
            "dal for dinner on Friday",
            &kitchen(),
            "dal for dinner Friday to Friday"
        ));
    }

    #[test]
    fn what_was_had_and_what_is_asked_is_no_plan() {
        for text in [
            "dinner Friday: 300 dal",
            "dal for dinner on Friday?",
            "Friday dinner: who is in",
            "dinner on Friday: Tom's treat",
            "had dal for dinner on Friday",
            "Friday dinner was lovely",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Prep(_))
            });
        }
    }
}
