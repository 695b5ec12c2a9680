//! Into how many parts: "3 ways", "in three", "over our three plates".

use super::mark::{Mark, parts};
use crate::lang::number::number;
use crate::lang::tokens::Tokens;

/// "went over our three plates", "across 3 bowls"
fn over_plates(rest: Tokens<'_>) -> Option<(usize, Mark)> {
    let went = usize::from(matches!(rest.norm(0), "went" | "spread"));
    let over = matches!(
        rest.norm(went),
        "over" | "across" | "onto" | "between" | "among"
    );
    let article = went + 1 + usize::from(matches!(rest.norm(went + 1), "our" | "the" | "all"));
    let (after, count) = number(rest.after(article)).ok()?;
    let people = count.value.fract() == 0.0 && (2.0..=20.0).contains(&count.value);
    let plates = matches!(after.norm(0), "plates" | "bowls" | "lunchboxes");
    let length = rest.len() - after.len() + 1;
    (over && people && plates).then_some((length, Mark::Split(Some(count.value as u32))))
}

/// The same among other words: how many tokens, and into how many parts.
pub fn people(rest: Tokens<'_>) -> Option<(usize, Option<u32>)> {
    match ways(rest)? {
        (length, Mark::Split(count)) => Some((length, count)),
        _ => None,
    }
}

/// "three equal portions of 600 soup"
fn of_amount(rest: Tokens<'_>) -> bool {
    rest.first().is_some_and(|token| token.is_numeric())
}

/// "3 ways", "in three", "x3" at the end of what they divide.
pub fn ways(rest: Tokens<'_>) -> Option<(usize, Mark)> {
    if let Some(found) = over_plates(rest) {
        return Some(found);
    }
    let lead = usize::from(matches!(rest.norm(0), "in" | "into" | "by" | "x" | "times"));
    let (after, count) = number(rest.after(lead)).ok()?;
    if count.value.fract() != 0.0 || !(2.0..=20.0).contains(&count.value) || count.article {
        return None;
    }
    let length = rest.len() - after.len();
    let equal = usize::from(matches!(after.norm(0), "equal" | "even" | "same"));
    // "480 rice, three equal plates": without a word that divides, they have to be said to be equal.
    let bowls = (lead == 1 || equal == 1)
        && matches!(
            after.norm(equal),
            "bowls" | "plates" | "portions" | "shares" | "lots" | "parts"
        )
        && (after.norm(equal + 1) != "of" || of_amount(after.after(equal + 2)));
    if bowls {
        let of = usize::from(after.norm(equal + 1) == "of");
        return Some((
            length + equal + 1 + of,
            Mark::Split(Some(count.value as u32)),
        ));
    }
    let said = matches!(after.norm(0), "ways" | "way" | "parts") && lead <= 1;
    let bare = lead == 1 && after.first().is_none_or(parts);
    let plain = said && (lead == 1 || after.norm(0) != "parts");
    let people = Some(count.value as u32);
    match (plain, bare) {
        (true, _) => Some((length + 1, Mark::Split(people))),
        (_, true) => Some((length, Mark::Split(people))),
        _ => None,
    }
}
