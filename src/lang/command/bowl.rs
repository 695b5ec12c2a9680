//! The label before what is in a bowl: "bowl 2:", "second bowl, same dinner:", "starting a salad bowl. ".
//!
//! ```text
//! label := [opens] [which | ordinal] noun [n] { tail } [mark same] (mark | item)  | "seconds" mark
//! ```
//! A bare noun needs a mark behind it, and then something that has a name: "plate 388" and "plate: 388" are on
//! the scale. The words stand in `data/bowls.txt`.

use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::{at_scale, bowls};

/// Bowls are counted so far; more is a weight.
const BOWLS_MAX: f64 = 9.0;

/// What follows the label, if there is one.
pub fn after_label(input: Tokens<'_>) -> Option<Tokens<'_>> {
    let (rest, telling) = label(input).or_else(|| {
        let length = part("seconds", input)?;
        Some((input.after(length), false))
    })?;
    let marked = rest.first().is_some_and(is_mark);
    let body = rest.without_lead();
    let follows = body.first()?;
    // "plate: 388" and "second bowl 402 empty" tell what it weighs.
    let named = body.get(1).is_some_and(|next| {
        matches!(next.kind, Kind::Word(_))
            && !matches!(
                at_scale().get(next.norm()),
                Some("empty" | "gross" | "before" | "now")
            )
    });
    let weighed = follows.is_numeric() && !named;
    let begins = marked || telling && follows.is_numeric();
    (begins && !weighed && body.has_number()).then_some(body)
}

/// The words of the label, and whether they tell more than that there is a bowl.
fn label(input: Tokens<'_>) -> Option<(Tokens<'_>, bool)> {
    let opened = part("opens", input).unwrap_or(0);
    let rest = input.after(opened);
    let ordinal = usize::from(is_ordinal(rest, 0));
    let which = ordinal.max(part("which", rest).unwrap_or(0));
    let which = which + usize::from(ordinal == 0 && is_ordinal(rest, which));
    let rest = rest.after(which);
    let noun = part("noun", rest)?;
    // A salad or a wrap that nobody says to begin is food.
    let dish = !matches!(
        rest.norm(noun - 1),
        "bowl" | "plate" | "round" | "helping" | "serving"
    );
    if dish && opened == 0 {
        return None;
    }
    let mut rest = rest.after(noun);
    let counted = rest.first().is_some_and(|token| match token.kind {
        Kind::Number(number) => (1.0..=BOWLS_MAX).contains(&number.value),
        _ => matches!(token.norm(), "one" | "two" | "three"),
    });
    if counted && rest.get(1).is_some_and(is_mark) {
        rest = rest.after(1);
    }
    let mut tails = 0;
    let mark = |rest: Tokens<'_>| usize::from(rest.first().is_some_and(is_mark));
    while let Some(length) = part("tail", rest.after(mark(rest))) {
        rest = rest.after(mark(rest) + length);
        tails += 1;
    }
    let marks = mark(rest);
    if let Some(length) = part("same", rest.after(marks)) {
        rest = rest.after(marks + length);
    }
    Some((rest, opened + ordinal + tails > 0))
}

fn part(key: &'static str, input: Tokens<'_>) -> Option<usize> {
    bowls().longest_of(input.slice, key)
}

fn is_ordinal(input: Tokens<'_>, at: usize) -> bool {
    matches!(
        input.get(at).map(|token| &token.kind),
        Some(Kind::Ordinal(_))
    ) || matches!(input.norm(at), "first" | "second" | "third")
}

fn is_mark(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(':' | '-' | '.' | ',' | '=')
    )
}
