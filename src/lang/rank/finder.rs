//! Whether a plate is looked for by the bot: among people, figures of other food are talked of.

use crate::lang::name::{Familiarity, familiarity};
use crate::lang::syntax::Finder;
use crate::lang::tokens::Tokens;
use crate::lang::veto::vetoes_in;

pub fn is_meant(said: &Finder, input: Tokens<'_>) -> bool {
    let supposed = vetoes_in(input).contains(&"conditional");
    let mut names = said
        .parts
        .iter()
        .map(|part| familiarity(&part.name.text, input));
    let here = match said.parts.is_empty() {
        // "what can I have for 600 kcal" is asked of people as well.
        true => said.of_day || says_where(input) || matches!(input.norm(0), "what" | "whats"),
        false => names.clone().any(|known| known == Familiarity::Household),
    };
    here && names.all(|known| known >= Familiarity::Food) && !supposed
}

/// What stands here is meant.
fn says_where(input: Tokens<'_>) -> bool {
    let words = ["from", "out", "of", "with", "using", "ready"];
    input
        .slice
        .iter()
        .any(|token| words.contains(&token.norm()))
}
