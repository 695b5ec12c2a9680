//! When a plate was eaten that was booked just now, and when that is told of something else.

use super::{said, without_closing};
use crate::lang::date::{day, meal};
use crate::lang::syntax::{Day, Fix, MealName, Of};
use crate::lang::tokens::Tokens;

/// "sorry, I had that yesterday", "had it on Monday, not today": another day of the plate, if something says that it is
/// put right.
pub fn eaten_when(body: Tokens<'_>, excused: bool) -> Option<Fix> {
    let skip = usize::from(matches!(body.norm(0), "i" | "we"));
    let had = matches!(body.norm(skip), "had" | "ate");
    let rest = body.after(skip + 1);
    let length = said("that", rest).filter(|_| had && rest.norm(0) != "mine")?;
    let (on, at, rest) = when(rest.after(length));
    let rest = without_closing(rest.trimmed_front());
    let denied = rest.norm(0) == "not" && without_denied_day(rest).is_empty();
    let told = (excused && rest.is_empty() || denied) && (on.is_some() || at.is_some());
    told.then_some(Fix::When {
        day: on,
        meal: at,
        of: Of::Last,
    })
}

/// What follows "not today", of which "today" may be left out already as what closes a message.
pub fn without_denied_day(rest: Tokens<'_>) -> Tokens<'_> {
    let other = rest.after(1);
    match (rest.norm(0), when(other)) {
        ("not", (day, meal, end)) if other.is_empty() || day.is_some() || meal.is_some() => end,
        _ => rest,
    }
}

/// "it was Thursday": whatever the talk is of was then; a plate is "that", or has its meal told.
pub fn is_of_the_talk(body: Tokens<'_>, fix: &Fix) -> bool {
    let day_alone = matches!(fix, Fix::When { meal: None, .. });
    day_alone && matches!(body.norm(0), "it" | "its")
}

/// A day, a meal, or both.
pub fn when(input: Tokens<'_>) -> (Option<Day>, Option<MealName>, Tokens<'_>) {
    let mut rest = match input.norm(0) {
        "for" | "from" => input.after(1),
        _ => input,
    };
    let mut said = (None, None);
    loop {
        if said.0.is_none()
            && let Ok((next, day)) = day(rest)
        {
            said.0 = Some(day);
            rest = next;
            continue;
        }
        if said.1.is_none()
            && let Ok((next, meal)) = meal(rest)
        {
            said.1 = Some(meal);
            rest = next;
            continue;
        }
        return (said.0, said.1, rest);
    }
}
