//! One ingredient line of a batch.

use super::item;
use super::syntax::{Amount, Error, ErrorKind, IngredientLine, LineContent};
use super::token::Token;
use super::tokens::Tokens;

/// Whether the line has an amount.
pub fn has_amount(line: &IngredientLine) -> bool {
    matches!(
        &line.content,
        LineContent::Ingredient {
            amount: Some(_),
            ..
        }
    )
}

/// One ingredient line; what cannot be read is kept as unclear.
pub fn line(input: Tokens<'_>, part: Option<String>) -> IngredientLine {
    let input = input.trimmed_front();
    let content = match item::ingredient(input) {
        Ok(named) if named.amount.is_none() && named.name.text.len() > 60 => {
            LineContent::Unclear(input.error(ErrorKind::NotUnderstood))
        }
        Ok(named) => unknown_unit(&named, input).map_or_else(
            || LineContent::Ingredient {
                amount: named.amount.clone(),
                name: named.name.clone(),
            },
            LineContent::Unclear,
        ),
        Err(error) => LineContent::Unclear(error),
    };
    IngredientLine {
        text: input.words().text,
        span: input.span(),
        part,
        content,
    }
}

/// "12 quonks flour": a word that nobody knows stands where a unit should, before a food.
fn unknown_unit(named: &item::Named, input: Tokens<'_>) -> Option<Error> {
    use super::lexicon::{describes, is_food, is_food_word};
    let Some(Amount::Bare(_)) = named.amount else {
        return None;
    };
    let number_at = input.find(Token::is_numeric)?;
    let words: Vec<&str> = input.slice[number_at + 1..]
        .iter()
        .map(Token::norm)
        .collect();
    let (&first, rest) = words.split_first()?;
    let food = rest.strip_prefix(&["of"]).unwrap_or(rest);
    let odd = first.len() > 1
        && !is_food_word(first)
        && !describes(first)
        && !input.vocabulary.has_word(first);
    let glued = !input.slice[number_at + 1].spaced;
    let plural = first.ends_with('s') || glued || rest.len() > food.len();
    (odd && plural && is_food(food)).then(|| {
        let here = input.range(number_at + 1, number_at + 2);
        here.error(ErrorKind::UnknownUnit(here.words().text))
    })
}
