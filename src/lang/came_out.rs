//! A weight that stands alone behind all that went into a pot: "800 chicken thigh, 1500 water. 2300 g".

use super::amount;
use super::syntax::{Amount, IngredientLine, LineContent, Weighing};
use super::tokens::Tokens;

/// Less of the heaviest ingredient is no pot.
const SHARE_MIN: f64 = 0.5;

/// What came out, if the words are grams alone and as many as may come of these lines.
pub fn weighing(said: Tokens<'_>, lines: &[IngredientLine]) -> Option<Weighing> {
    let (rest, grams) = amount::grams(said).ok()?;
    let went_in = lines.iter().filter_map(|line| match &line.content {
        LineContent::Ingredient { amount, .. } => match amount {
            Some(Amount::Mass(grams) | Amount::Bare(grams)) => Some(*grams),
            _ => None,
        },
        LineContent::Unclear(_) => None,
    });
    let most = went_in.fold(0.0, f64::max);
    let likely = most > 0.0 && grams >= most * SHARE_MIN;
    (likely && rest.trimmed().is_empty()).then(|| Weighing::net(grams, said.span()))
}
