//! A line told as it stands in the books: "the 200 dal I had earlier", "my 250 dal yesterday".

use super::known_name;
use crate::lang::amount::{Stands, amount};
use crate::lang::command::meant_for::without_when;
use crate::lang::syntax::{Amount, Line};
use crate::lang::tokens::Tokens;
use crate::lang::words::corrections;

/// "at lunch with them"
const WHEN_WORDS_MAX: usize = 4;

pub fn line(input: Tokens<'_>) -> Option<Line> {
    let input = input.trimmed();
    let lead = usize::from(matches!(input.norm(0), "the" | "my" | "that" | "those"));
    let (rest, old) = amount(input.after(lead), Stands::BeforeName).ok()?;
    if !matches!(old, Amount::Bare(_) | Amount::Mass(_)) {
        return None;
    }
    let name = known_name(without_eating(without_when(rest.without_lead())))?;
    Some(Line {
        old: Some(old),
        name: Some(name),
        ..Line::default()
    })
}

/// Without "I had", and when.
fn without_eating(input: Tokens<'_>) -> Tokens<'_> {
    let eaten = (1..input.len()).find_map(|at| {
        let length = corrections().longest_of(input.after(at).slice, "eaten")?;
        Some((at, input.after(at + length)))
    });
    let short = |when: &Tokens<'_>| when.len() <= WHEN_WORDS_MAX && !when.has_number();
    match eaten {
        Some((at, when)) if short(&when) => input.range(0, at).trimmed_end(),
        _ => input,
    }
}
