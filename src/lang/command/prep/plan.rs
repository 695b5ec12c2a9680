//! What to cook for the days to come: "plan", "what should I cook", "plan until Sunday for 3 people", "plan dal and rice",
//! or on a day to come: "what should we cook on Sunday"; and why the plan comes to what it does: "why 900 g rice?".
//!
//! ```text
//! plan  := ("plan" | "what should I cook") { "for" people | days | begins | [":" | "for"] dishes }
//! begins := ["for" | "on" | "from"] (ahead | "the next prep day")
//! why   := "why" ("this much" | amount) dish
//! ```

use super::phrase;
use super::wish::{SUNDAY, dishes, eaters};
use crate::lang::ahead::{Ahead, ahead, run};
use crate::lang::amount;
use crate::lang::command::only_marks;
use crate::lang::date;
use crate::lang::impossible::impossible;
use crate::lang::name::bare;
use crate::lang::number::number;
use crate::lang::syntax::{Begins, Command, Day, PlanFor, Prep, Words};
use crate::lang::tokens::{Read, Tokens};

/// A week from today on.
const WEEK: Ahead = Ahead::InDays(6);
const MONTH_DAYS: f64 = 30.0;
const YEAR_DAYS: f64 = 365.0;
/// A name of more words is a sentence.
const NAME_WORDS_MAX: usize = 5;
/// A day takes no more words.
const DAY_WORDS_MAX: usize = 4;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    let behind = phrase("plan", body).or_else(|| phrase("plan asked", body));
    let said = prep_day(body)
        .or_else(|| whats(body))
        .or_else(|| for_none(body))
        .or_else(|| how_much(body))
        .map(Prep::Plan)
        .or_else(|| {
            let rest = behind?;
            let asked = asked_for(rest).map(Prep::Plan);
            asked.or_else(|| no_day(rest))
        });
    match said {
        Some(said) => Ok((input.after(input.len()), Command::Prep(said))),
        None => input.no(),
    }
}

/// "plan the next prep day": the day is what is planned.
fn prep_day(body: Tokens<'_>) -> Option<PlanFor> {
    let rest = phrase("plan prep day", body)?;
    let begins = Some(Begins::PrepDay);
    let asked = asked_for(rest)?;
    asked
        .begins
        .is_none()
        .then_some(PlanFor { begins, ..asked })
}

/// "what's the plan for the week": of days. What is planned for dinner, and whose plan it is, is asked of people.
fn whats(body: Tokens<'_>) -> Option<PlanFor> {
    let rest = phrase("plan whats", body)?;
    let marks = rest.slice.iter().rev().take_while(|token| token.is('?'));
    let rest = rest.range(0, rest.len() - marks.count()).trimmed();
    let asked = asked_for(rest).filter(|asked| asked.dishes.is_empty())?;
    (!rest.is_empty()).then_some(asked)
}

/// "dinners for zero people", "0 people eat"
fn for_none(body: Tokens<'_>) -> Option<PlanFor> {
    let people = Some(0);
    let asked = PlanFor {
        people,
        ..PlanFor::default()
    };
    let fed = phrase("meals", body).and_then(eaters);
    let none = fed.is_some_and(|(rest, count)| count == 0 && only_marks(rest));
    let eat = || {
        let (rest, count) = number(body).ok()?;
        let rest = phrase("people", rest)?;
        let eats = matches!(rest.norm(0), "eat" | "eating");
        Some(count.value == 0.0 && eats && only_marks(rest.take_one()))
    };
    (none || eat() == Some(true)).then_some(asked)
}

/// "how much dal should I cook"
fn how_much(body: Tokens<'_>) -> Option<PlanFor> {
    let rest = phrase("how much", body)?;
    let at = (1..rest.len()).find(|at| phrase("to cook", rest.after(*at)).is_some())?;
    let told = dishes(rest.range(0, at))?;
    let behind = phrase("to cook", rest.after(at))?;
    let marks = behind.slice.iter().rev().take_while(|token| token.is('?'));
    let asked = asked_for(behind.range(0, behind.len() - marks.count()))?;
    let dishes = told.into_iter().map(|helping| helping.dish).collect();
    asked
        .dishes
        .is_empty()
        .then_some(PlanFor { dishes, ..asked })
}

/// What stands behind "plan", in any order.
pub fn asked_for(rest: Tokens<'_>) -> Option<PlanFor> {
    let mut asked = PlanFor::default();
    let mut timed = false;
    let mut rest = rest.trimmed();
    while !only_marks(rest) {
        rest = phrase("so that", rest).unwrap_or(rest).trimmed();
        let behind = if let Some((behind, count)) = eaters(rest).filter(|_| asked.people.is_none())
        {
            asked.people = Some(count);
            behind
        } else if let Some((behind, (begins, until))) = span(rest).filter(|_| !timed) {
            (asked.begins, asked.until) = (begins, until);
            timed = true;
            behind
        } else {
            let (behind, dishes) = of_dishes(rest).filter(|_| asked.dishes.is_empty())?;
            asked.dishes = dishes;
            behind
        };
        rest = behind.trimmed();
    }
    Some(asked)
}

/// The first day and the last one; `None`: today, and until the next prep day.
type Span = (Option<Begins>, Option<Ahead>);

fn span(rest: Tokens<'_>) -> Option<(Tokens<'_>, Span)> {
    if let Some(behind) = phrase("on prep day", rest) {
        let (behind, until) = until_day(behind);
        return Some((behind, (Some(Begins::PrepDay), until)));
    }
    if let Some(behind) = phrase("plan days", rest) {
        let told = rest.range(0, rest.len() - behind.len());
        let prep = told.slice.iter().any(|token| token.norm() == "prep");
        return Some((behind, (None, (!prep).then_some(WEEK))));
    }
    if let Some((behind, days)) = months(rest) {
        return Some((behind, (None, Some(Ahead::InDays(days - 1)))));
    }
    let led = || phrase("for", rest).and_then(first_and_last);
    let (behind, (first, last)) = first_and_last(rest).or_else(led)?;
    Some((
        behind,
        match (first, last) {
            (Ahead::Today, last) => (None, last.or(Some(Ahead::Today))),
            // What is for tomorrow can be cooked today.
            (Ahead::Tomorrow, None) => (None, Some(Ahead::Tomorrow)),
            (first, last) => (Some(Begins::Day(first)), last),
        },
    ))
}

/// "for 3 months": nobody plans so far ahead, which is told.
fn months(rest: Tokens<'_>) -> Option<(Tokens<'_>, u32)> {
    let (behind, count) = number(phrase("for", rest).unwrap_or(rest)).ok()?;
    let days = match behind.norm(0) {
        "month" | "months" => count.value * MONTH_DAYS,
        "year" | "years" => count.value * YEAR_DAYS,
        _ => return None,
    };
    let fits = (1.0..YEAR_DAYS * 100.0).contains(&days);
    fits.then(|| (behind.take_one(), days as u32))
}

/// "until Monday" behind the first day.
fn until_day(rest: Tokens<'_>) -> (Tokens<'_>, Option<Ahead>) {
    let until = phrase("until", rest.trimmed_front()).and_then(|rest| ahead(rest).ok());
    match until {
        Some((behind, day)) => (behind, Some(day)),
        None => (rest, None),
    }
}

fn first_and_last(rest: Tokens<'_>) -> Option<(Tokens<'_>, (Ahead, Option<Ahead>))> {
    let rest = rest.trimmed_front();
    match phrase("this week", rest) {
        Some(behind) => Some((behind, (Ahead::Today, Some(SUNDAY)))),
        None => run(rest).ok(),
    }
}

/// "dal and rice", up to where something else begins.
fn of_dishes(rest: Tokens<'_>) -> Option<(Tokens<'_>, Vec<Words>)> {
    let rest = rest.without_lead().trimmed();
    let rest = phrase("for", rest).unwrap_or(rest);
    if phrase("until", rest).is_some() {
        return None;
    }
    (1..=rest.len()).find_map(|at| {
        let behind = rest.after(at);
        let ends = only_marks(behind) || eaters(behind).is_some() || span(behind).is_some();
        let told = dishes(rest.range(0, at)).filter(|_| ends)?;
        let named = told.iter().all(|helping| helping.grams.is_none());
        let names = told.into_iter().map(|helping| helping.dish).collect();
        named.then_some((behind, names))
    })
}

/// "until yesterday", "until 40 October"
fn no_day(rest: Tokens<'_>) -> Option<Prep> {
    let day = phrase("until", rest.trimmed())?.trimmed_end();
    let told = || Words::plain(day.words().text);
    if let Ok((behind, past)) = date::day(day)
        && only_marks(behind)
    {
        let last = day.norm(0) == "last";
        let gone = last || matches!(past, Day::Yesterday | Day::DaysAgo(_));
        return gone.then(|| Prep::NoDay { told: told(), gone });
    }
    let short = (1..=DAY_WORDS_MAX).contains(&day.len());
    let none = impossible(day).is_some() || day.has_number() && short;
    let gone = false;
    none.then(|| Prep::NoDay { told: told(), gone })
}

/// "why this much rice?", "why 900 g of rice"
pub fn read_why(input: Tokens<'_>) -> Read<'_, Command> {
    match why(input.trimmed()) {
        Some(said) => Ok((input.after(input.len()), Command::Prep(said))),
        None => input.no(),
    }
}

fn why(said: Tokens<'_>) -> Option<Prep> {
    let rest = phrase("why", said)?;
    let (rest, grams) = match amount::grams(rest) {
        Ok((rest, grams)) => (rest, Some(grams)),
        Err(_) => (phrase("this much", rest).unwrap_or(rest), None),
    };
    let length = (1..=rest.len()).rev().find(|at| {
        let marks = |at: &usize| only_marks(rest.after(*at)) && !only_marks(rest.range(0, *at));
        marks(at) && !rest.slice[*at - 1].is('?')
    })?;
    let dish = bare(rest.range(0, length).trimmed());
    let fits = dish.is_wordy() && (1..=NAME_WORDS_MAX).contains(&dish.len());
    let dish = fits.then(|| dish.words())?;
    Some(Prep::Why { dish, grams })
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "rice")
            .with(Sense::Person, "Ana")
    }

    #[test]
    fn a_plan_is_asked_for() {
        for (text, printed) in [
            ("plan till Sunday", "plan until Sunday"),
            ("plan for 5 days", "plan until in 4 days"),
            ("plan the week", "plan"),
            ("plan dinners for next week", "plan until in 6 days"),
            ("plan", "plan"),
            ("prep plan", "plan"),
            ("plan for 3 people", "plan for 3 people"),
            ("plan for 2 till Friday", "plan until Friday for 2 people"),
            (
                "plan till Friday for three",
                "plan until Friday for 3 people",
            ),
            (
                "plan for 5 days for 2 people",
                "plan until in 4 days for 2 people",
            ),
            ("plan the week for 4 people", "plan for 4 people"),
            ("plan for nobody", "plan for 0 people"),
            ("plan for 0 people", "plan for 0 people"),
            ("plan for Ana and me", "plan for 2 people"),
            ("plan rice until Friday", "plan until Friday: rice"),
            ("plan for rice", "plan: rice"),
            ("plan for sunday", "plan from Sunday"),
            ("plan sunday", "plan from Sunday"),
            ("plan from Sunday", "plan from Sunday"),
            (
                "plan from Sunday until Wednesday",
                "plan from Sunday until Wednesday",
            ),
            (
                "plan Mon to Fri for 3",
                "plan from Monday until Friday for 3 people",
            ),
            ("plan for the weekend", "plan from Saturday until Sunday"),
            ("plan rice for Sunday", "plan from Sunday: rice"),
            ("plan for today", "plan until today"),
            ("plan for tomorrow", "plan until tomorrow"),
            ("plan the coming prep day", "plan from the next prep day"),
            (
                "plan our next prep day for 3",
                "plan from the next prep day for 3 people",
            ),
            ("plan for the next prep day", "plan from the next prep day"),
            ("plan for prep day", "plan from the next prep day"),
            ("plan until the next prep day", "plan"),
            (
                "shopping list for prep day",
                "shopping list for the plan from the next prep day",
            ),
            (
                "shopping list for sunday",
                "shopping list for the plan from Sunday",
            ),
            ("plan until yesterday", "plan until yesterday"),
            ("plan till 31 February", "plan until 31 February"),
            (
                "shopping list for the plan for 3 people",
                "shopping list for the plan for 3 people",
            ),
            ("shopping list for the plan", "shopping list for the plan"),
            (
                "shopping list for the week",
                "shopping list for the plan until in 6 days",
            ),
            (
                "shopping list until Friday",
                "shopping list for the plan until Friday",
            ),
        ] {
            surely_means(text, &kitchen(), printed);
        }
        surely_means("what do we need to cook", &kitchen(), "plan");
        surely_means("how much rice should I cook?", &kitchen(), "plan: rice");
        surely_means("dinners for zero people", &kitchen(), "plan for 0 people");
        for text in ["plan?", "what should I cook?"] {
            assert!(!means(text, &kitchen(), "plan"));
        }
        for text in [
            "what should we cook on sunday",
            "what do we cook on Sunday?",
            "what to cook for sunday",
        ] {
            assert!(!means(text, &kitchen(), "plan from Sunday"));
        }
        for text in [
            "whats the plan for the week",
            "what's the plan for the week?",
        ] {
            assert!(!means(text, &kitchen(), "plan until in 6 days"));
        }
        let asked = "what should i make so were ok till next weds";
        assert!(!means(asked, &kitchen(), "plan until Wednesday"));
        let asked = "what do we cook on prep day?";
        assert!(!means(asked, &kitchen(), "plan from the next prep day"));
        // Nobody has cooked it here.
        let asked = "plan chilli and rice till Sunday";
        assert!(!means(asked, &kitchen(), "plan until Sunday: chilli, rice"));
    }

    #[test]
    fn the_reason_of_an_amount_is_asked_for() {
        for (text, printed) in [
            ("why this much rice?", "why this much rice"),
            ("why so much rice", "why this much rice"),
            ("why 900 rice?", "why 900 g rice"),
            ("why 1.3 kg of rice", "why 1300 g rice"),
            ("why that much of the rice?", "why this much rice"),
            ("why rice", "why this much rice"),
            ("how come 900 g rice", "why 900 g rice"),
        ] {
            // People ask each other the same: only what was said before tells.
            assert!(!means(text, &kitchen(), printed));
        }
    }

    #[test]
    fn talk_plans_nothing() {
        for text in [
            "scrap that plan",
            "sounds like a plan, see you all at 7",
            "the plan",
            "what's the plan for dinner",
            "plan B",
            "plan for 2",
            "plan for Saturday's party",
            "plan to be there at 7",
            "plan for sunday: bbq at ours",
            "plan for Sunday lunch is Mira's",
            "prep day plan was fine",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Prep(_))
            });
        }
    }
}
