//! What to cook for the days to come: "plan", "what should I cook", "plan until Sunday", "plan for 5 days".

use super::phrase;
use super::wish::these_days;
use crate::lang::ahead::Ahead;
use crate::lang::command::only_marks;
use crate::lang::syntax::{Command, Prep};
use crate::lang::tokens::{Read, Tokens};

/// A week from today on.
const WEEK: Ahead = Ahead::InDays(6);

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    let behind = phrase("plan", body).or_else(|| phrase("plan asked", body));
    match behind.and_then(until) {
        Some(until) => Ok((
            input.after(input.len()),
            Command::Prep(Prep::Plan { until }),
        )),
        None => input.no(),
    }
}

/// The last day of a plan, if one is told; `None`: what stands there tells none.
pub fn until(rest: Tokens<'_>) -> Option<Option<Ahead>> {
    let rest = rest.trimmed();
    if only_marks(rest) {
        return Some(None);
    }
    if let Some(behind) = phrase("plan days", rest) {
        let prep = rest.slice.iter().any(|token| token.norm() == "prep");
        return only_marks(behind).then_some((!prep).then_some(WEEK));
    }
    let (behind, (_, until)) = these_days(rest)?;
    only_marks(behind).then_some(Some(until))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new().with(Sense::Batch, "rice")
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
        for text in ["plan?", "what should I cook?", "what do we need to cook"] {
            assert!(!means(text, &kitchen(), "plan"));
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
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Prep(_))
            });
        }
    }
}
