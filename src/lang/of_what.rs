//! What was eaten out of a pot, and not a word of what: "had 150 out of the pot".
//!
//! ```text
//! of-what := ["i" | "ive"] eaten number ["g"] ("out of" | "from") ["the"] vessel
//! ```

use super::number::number;
use super::syntax::Words;
use super::token::Token;
use super::tokens::Tokens;
use super::unit::{Unit, unit};
use super::vocabulary::Sense;
use super::words::{containers, explained, pots};

/// The weight that is of nothing named.
pub fn read(input: Tokens<'_>) -> Option<Words> {
    let body = input.trimmed().trimmed_end();
    let skip = usize::from(matches!(body.norm(0), "i" | "ive" | "we"));
    let eaten = explained().longest_of(body.after(skip).slice, "eats")?;
    let weight = body.after(skip + eaten);
    let (rest, _) = number(weight).ok()?;
    let rest = match unit(rest) {
        Ok((behind, Unit::Mass(_))) => behind,
        Ok(_) => return None,
        Err(_) => rest,
    };
    let out = match (rest.norm(0), rest.norm(1)) {
        ("out", "of") => 2,
        ("from" | "outta" | "off", _) => 1,
        _ => return None,
    };
    let said = weight.range(0, weight.len() - rest.len());
    let place = rest.after(out);
    let place = place.after(usize::from(matches!(
        place.norm(0),
        "the" | "my" | "our" | "that"
    )));
    let vessel = |token: &Token| {
        let known = place.vocabulary.is(Sense::Container, &[token.norm()]);
        !known && (containers().holds(token) || pots().holds(token))
    };
    (place.len() == 1 && place.first().is_some_and(vessel)).then(|| said.words())
}
