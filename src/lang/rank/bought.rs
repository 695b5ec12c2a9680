//! Plain foods as they are bought or worked with, and not as they are eaten: a shopping list, a dough.

use super::plate::SCALE_GRAMS_MIN;
use crate::foods::Code;
use crate::lang::amount::is_packed;
use crate::lang::lexer::folded_words;
use crate::lang::syntax::{Amount, Item, Portion};
use crate::lang::tokens::Tokens;

/// Nobody eats so much of a plain food at once without saying so; it is bought.
pub const SHOPPED_GRAMS_MIN: f64 = 500.0;
const SHOPPED_ML_MIN: f64 = 900.0;
const SHOPPED_PIECES_MIN: f64 = 6.0;

/// Foods of the table in the amounts of a shopping list: "500 g butter", "2 l milk", "a dozen eggs".
pub fn is_bought(input: Tokens<'_>, portion: &Portion) -> bool {
    let eaten = input
        .slice
        .iter()
        .any(|token| matches!(token.norm(), "had" | "ate" | "eaten" | "having" | "eating"));
    let counted = |item: &Item| item.name.text.ends_with(['s', 'S']);
    let bought = |item: &Item| match &item.amount {
        Amount::Mass(grams) => *grams >= SHOPPED_GRAMS_MIN,
        Amount::Volume { count, unit, .. } => {
            count * crate::lang::unit::rough_millilitres(*unit) >= SHOPPED_ML_MIN
        }
        Amount::Bare(count) => {
            counted(item) && (SHOPPED_PIECES_MIN..SCALE_GRAMS_MIN).contains(count)
        }
        Amount::Pieces { measure, .. } | Amount::Each { measure, .. }
            if measure.last().is_some_and(|measure| measure == "loaf") =>
        {
            true
        }
        amount => is_packed(amount),
    };
    // A number of the table is meant for the books and stands on no shopping list.
    let by_number = |item: &Item| item.name.text.parse::<Code>().is_ok();
    let mut items = portion.items.iter();
    !eaten && items.any(|item| (bought(item) || is_of_a_dough(item)) && !by_number(item))
}

/// "500 flour, 7 yeast": nobody eats that as it is.
fn is_of_a_dough(item: &Item) -> bool {
    let words = folded_words(&item.name.text);
    words
        .last()
        .is_some_and(|word| matches!(word.as_str(), "flour" | "yeast"))
}
