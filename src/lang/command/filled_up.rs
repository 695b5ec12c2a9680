//! A dish filled up to a weight: "topped up the sauce to 1200 with stock", "added water to the soup until it weighed
//! 2700", "topped up the sauce with passata, weighs 1100 now".
//!
//! ```text
//! filled := "to" grams ["with" line] | ["with"] line ("to" | "until it weighed") grams
//! now    := "now" (grams | weighing) | grams "now"
//! ```
//! How much of the one thing went in is what the whole weighs more; the books reckon it.

use crate::lang::amount::grams;
use crate::lang::body::body;
use crate::lang::command::top_up::{dish, key};
use crate::lang::syntax::{TopUp, Weighing, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::weighing::weighing;

/// "to 1200 with stock", "to 1200": what all of it weighs then, and what is told behind it.
pub fn up_to(behind: Tokens<'_>) -> Option<(Tokens<'_>, Weighing)> {
    let behind = behind.trimmed_front();
    let said = behind.after(key("to", behind)?);
    let (rest, grams) = grams(said).ok()?;
    let whole = said.range(0, said.len() - rest.len());
    Some((rest, Weighing::net(grams, whole.span())))
}

/// "added water to the soup until it weighed 2700"
pub fn added_until(body: Tokens<'_>) -> Option<TopUp> {
    let rest = body.after(key("used", body)?);
    let end = (1..rest.len())
        .find(|&at| up_to(rest.after(at)).is_some_and(|(rest, _)| rest.is_empty()))?;
    let (_, weighing) = up_to(rest.after(end))?;
    let said = rest.range(0, end).trimmed_end();
    let at = said.find(|token| matches!(token.norm(), "to" | "into"))?;
    let (batch, from) = dish(said.after(at + 1).trimmed())?;
    filled_up(batch, from, said.range(0, at), weighing)
}

/// What went in is what the whole weighs more: one thing without an amount, or nobody says what.
pub fn filled_up(
    batch: Words,
    from: Option<Words>,
    said: Tokens<'_>,
    weighing: Weighing,
) -> Option<TopUp> {
    let said = without_talk(said.trimmed());
    let link = key("link", said).unwrap_or(0);
    let said = said.after(link);
    let read = match said.is_empty() {
        true => None,
        false => Some(body(said, said.range(0, 0))),
    };
    let lines = read.map_or(Some(Vec::new()), |read| {
        let plain = read.weighings.is_empty() && read.poured.is_empty() && read.places.is_empty();
        (plain && !read.lines.is_empty()).then_some(read.lines)
    })?;
    Some(TopUp {
        batch,
        from,
        lines,
        by_grams: None,
        weighing: Some(weighing),
    })
}

/// "900 now", "now 900": what the whole weighs, told behind everything else.
pub fn now(said: Tokens<'_>) -> Option<(Tokens<'_>, Option<Weighing>)> {
    let said = said.trimmed_end();
    let cut = |token: &Token| {
        matches!(
            token.kind,
            Kind::Symbol(',' | '.' | ';' | '-' | '(') | Kind::Newline
        ) || token.norm() == "and"
    };
    let at = (1..said.len()).rev().find(|&at| cut(&said.slice[at]))?;
    let clause = said.after(at + 1).trimmed();
    let clause = match clause.last() {
        Some(last) if last.is(')') => clause.range(0, clause.len() - 1),
        _ => clause,
    };
    let lead = key("now", clause);
    // "now 1500 with the jar"
    if let Some(length) = lead
        && let Ok((rest, whole)) = weighing(clause.after(length))
        && rest.trimmed().is_empty()
        && (whole.gross || whole.container.is_some() || !whole.tares.is_empty())
    {
        return Some((said.range(0, at), Some(whole)));
    }
    let (rest, grams) = grams(clause.after(lead.unwrap_or(0))).ok()?;
    let told = match rest.trimmed().is_empty() {
        true => lead.is_some(),
        false => key("now", rest).is_some_and(|length| rest.after(length).trimmed().is_empty()),
    };
    let weighing = Weighing::net(grams, clause.span());
    told.then(|| (said.range(0, at), Some(weighing)))
}

/// "300 g water, was like glue": without why, told last.
pub fn without_talk(said: Tokens<'_>) -> Tokens<'_> {
    let talks = |at: &usize| {
        let mark = matches!(said.slice[*at].kind, Kind::Symbol(',' | '.' | ';' | '-'));
        mark && key("talk", said.after(at + 1)).is_some() && !said.after(at + 1).has_number()
    };
    let end = (1..said.len()).find(talks).unwrap_or(said.len());
    said.range(0, end).trimmed_end()
}
