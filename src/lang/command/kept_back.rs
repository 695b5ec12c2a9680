//! How much stays where it is of what is put elsewhere: "froze all but 400 of the soup", "everything except two boxes",
//! "froze the dal, kept 400 back".
//!
//! ```text
//! kept := ["all" | "everything"] but amount ["of"] [dish] | dish but amount ["of each"] | dish mark keeps amount [back]
//! stay := rest stays [back] | keeps rest [back]          "froze 300 of the dal, rest stays": nothing is said with it
//! ```
//! Its words are in `data/kept_back.txt`. What is said of it and cannot be read leaves nothing to be read of the rest.

use crate::lang::amount::{Stands, amount};
use crate::lang::syntax::Amount;
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::kept_back;

fn key(key: &str, input: Tokens<'_>) -> Option<usize> {
    kept_back().longest_of(input.slice, key)
}

/// Whether it is told that some of it stays, however much.
pub fn is_told(input: Tokens<'_>) -> bool {
    (1..input.len()).any(|at| is_begun(input, at))
}

/// "kept" behind a mark
fn is_begun(input: Tokens<'_>, at: usize) -> bool {
    is_marked(input, at) && key("keeps", input.after(at)).is_some()
}

fn is_marked(input: Tokens<'_>, at: usize) -> bool {
    let token = &input.slice[at - 1];
    matches!(token.kind, Kind::Symbol(',' | '.' | ';' | '-' | '('))
        || matches!(token.norm(), "and" | "but")
}

/// "rest stays", "left the rest in the fridge": what is not spoken of otherwise is where it was.
pub fn rest_stays(clause: Tokens<'_>) -> bool {
    let clause = clause.trimmed();
    let keeps = key("keeps", clause);
    let said = clause.after(keeps.unwrap_or(0));
    let Some(rest) = key("rest", said) else {
        return false;
    };
    let said = said.after(rest);
    let stays = key("stays", said);
    let said = said.after(stays.unwrap_or(0));
    let behind = said.after(key("back", said).unwrap_or(0)).trimmed();
    let closed = behind.is_empty() || behind.len() == 1 && behind.slice[0].is(')');
    (keeps.is_some() || stays.is_some()) && closed
}

/// ", kept 400 back" at the end: what stands before it, and how much. `None`: so much of something is kept, and
/// nobody can tell how much.
pub fn told_behind(input: Tokens<'_>) -> Option<(Tokens<'_>, Option<Amount>)> {
    let stays = |&at: &usize| is_marked(input, at) && rest_stays(input.after(at));
    if let Some(at) = (1..input.len()).find(stays) {
        return Some((input.range(0, at - 1).trimmed_end(), None));
    }
    let Some(at) = (1..input.len()).find(|&at| is_begun(input, at)) else {
        return Some((input, None));
    };
    let said = input.after(at);
    let said = said.after(key("keeps", said)?);
    let (rest, kept) = measured(said)?;
    let rest = without_each(rest);
    let back = key("back", rest).unwrap_or(0);
    let ends = rest.after(back).trimmed();
    let told = ends.is_empty() || ends.len() == 1 && ends.slice[0].is(')');
    told.then(|| (input.range(0, at - 1).trimmed_end(), Some(kept)))
}

/// "all but 400 of the soup", "the soup except 400": what stays is cut out. `None`: as above.
pub fn told_before(input: Tokens<'_>) -> Option<(Tokens<'_>, Option<Amount>)> {
    let Some(at) = (0..input.len()).find(|&at| key("but", input.after(at)).is_some()) else {
        return Some((input, None));
    };
    let before = input.range(0, at).trimmed_end();
    let said = input.after(at + key("but", input.after(at))?);
    let (rest, kept) = measured(said)?;
    let all = |token: &Token| {
        matches!(
            token.norm(),
            "all" | "everything" | "of" | "it" | "them" | "lot" | "the"
        )
    };
    if before.slice.iter().all(all) {
        // "all but 400 of the soup", "all but two boxes": of what follows.
        let of = usize::from(rest.norm(0) == "of");
        let dish = rest.after(of);
        return (!dish.is_empty()).then_some((dish, Some(kept)));
    }
    let rest = without_each(rest);
    rest.trimmed().is_empty().then_some((before, Some(kept)))
}

/// Without "of each".
fn without_each(rest: Tokens<'_>) -> Tokens<'_> {
    let said = rest.after(usize::from(rest.norm(0) == "of"));
    match said.norm(0) {
        "each" | "it" | "them" | "both" => said.after(1),
        _ => rest,
    }
}

/// How much: in grams, or of what is counted.
fn measured(said: Tokens<'_>) -> Option<(Tokens<'_>, Amount)> {
    let idle = |token: &&Token| matches!(token.norm(), "about" | "the" | "a" | "last");
    let said = said.after(said.slice.iter().take_while(idle).count());
    let (rest, kept) = amount(said, Stands::BeforeName).ok()?;
    let counted = match &kept {
        Amount::Bare(count) | Amount::Pieces { count, .. } => *count > 0.0,
        Amount::Mass(grams) => *grams > 0.0,
        Amount::Share(share) => (0.0..1.0).contains(share),
        _ => false,
    };
    counted.then_some((rest, kept))
}
