//! One ingredient line of a batch.

use super::item;
use super::lexicon::{describes, is_food, is_food_word};
use super::syntax::{Amount, Error, ErrorKind, IngredientLine, LineContent};
use super::token::Token;
use super::tokens::Tokens;
use super::words::talk;

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
    let mut text = input.trimmed().words().text;
    let content = match input.signed() {
        Some(below) => {
            if below.at == 0 {
                text.insert(0, '-');
            }
            LineContent::Unclear(below.error())
        }
        None => content,
    };
    IngredientLine {
        text,
        span: input.span(),
        part,
        content,
    }
}

/// "12 quonks flour": a word that nobody knows stands where a unit should, before a food.
pub fn unknown_unit(named: &item::Named, input: Tokens<'_>) -> Option<Error> {
    let Some(Amount::Bare(_)) = named.amount else {
        return None;
    };
    // The number that this name goes with is the last one before it.
    let at = input.find(|token| token.span.start == named.name.span.start)?;
    let number_at = at
        .checked_sub(1)
        .filter(|&before| input.slice[before].is_numeric())?;
    let here = input.after(at);
    let words: Vec<&str> = here
        .slice
        .iter()
        .take_while(|token| token.span.end <= named.name.span.end)
        .map(Token::norm)
        .collect();
    let (&first, rest) = words.split_first()?;
    let food = rest.strip_prefix(&["of"]).unwrap_or(rest);
    let odd = first.len() > 1
        && !is_food_word(first)
        && !describes(first)
        && !talk().has(first)
        && !input.vocabulary.has_word(first);
    let glued = number_at + 1 == at && !input.slice[at].spaced;
    let plural = first.ends_with('s') || glued || rest.len() > food.len();
    let named = is_food(food) || input.vocabulary.is_batch(food);
    (odd && plural && named).then(|| {
        let here = input.range(at, at + 1);
        here.error(ErrorKind::UnknownUnit(here.words().text))
    })
}
