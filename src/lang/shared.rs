//! Things that share one amount on one line: "1/2 tsp each cumin and coriander", or that have none: "salt and
//! pepper".
//!
//! ```text
//! shared := amount "each" ["of" | ":"] name { ("," | "and" | "&" | "+") name } | food "and" food
//! ```

use super::amount::{Stands, amount};
use super::clause::{clause, made, part_end, place};
use super::lexicon::{Meant, in_table};
use super::line::line;
use super::name;
use super::syntax::{Amount, IngredientLine};
use super::token::{Kind, Token};
use super::tokens::Tokens;

/// The lines that a piece of a batch says.
pub fn lines(input: Tokens<'_>, part: Option<&String>) -> Vec<IngredientLine> {
    if let Some((said, names)) = each(input) {
        return names
            .iter()
            .map(|name| IngredientLine {
                span: name.span(),
                part: part.cloned(),
                ..super::ingredient_line(&format!("{} {}", said.words().text, name.words().text))
            })
            .collect();
    }
    match pair(input) {
        Some(names) => names
            .iter()
            .map(|name| line(*name, part.cloned()))
            .collect(),
        None => vec![line(input, part.cloned())],
    }
}

/// Where the list of names ends that "each" goes on to; the end of the part where there is none.
pub fn end(input: Tokens<'_>, end: usize) -> usize {
    if each_at(input.range(0, end)).is_none() {
        return end;
    }
    let mut end = end;
    while input.get(end).is_some_and(|token| token.is(',')) {
        let next = input.after(end + 1);
        let to = part_end(next);
        let name = next.range(0, to);
        let told = place(name).is_some() || made(name).is_some() || clause(next).is_ok();
        if !name.is_wordy() || told || name::is_preparation(name) {
            break;
        }
        end += 1 + to;
    }
    end
}

/// The amount before "each", and where the names begin.
fn each_at(input: Tokens<'_>) -> Option<(Tokens<'_>, Tokens<'_>)> {
    let at = input.find(|token| token.norm() == "each")?;
    let (after, said) = amount(input.range(0, at), Stands::AfterName).ok()?;
    let whole = after.is_empty() && !matches!(said, Amount::Uncounted(_));
    let names = input.after(at + 1).without_lead();
    let names = names.after(usize::from(names.norm(0) == "of"));
    whole.then_some((input.range(0, at), names))
}

fn each(input: Tokens<'_>) -> Option<(Tokens<'_>, Vec<Tokens<'_>>)> {
    let (said, names) = each_at(input)?;
    let names: Vec<Tokens<'_>> = names
        .split(joins)
        .into_iter()
        .map(|name| name.trimmed())
        .filter(|name| !name.is_empty())
        .collect();
    (names.len() > 1 && names.iter().all(Tokens::is_wordy)).then_some((said, names))
}

fn joins(token: &Token) -> bool {
    matches!(token.kind, Kind::Symbol(',' | '&' | '+' | '/'))
        || matches!(token.norm(), "and" | "plus")
}

/// "salt and pepper", where the two are no food together.
fn pair(input: Tokens<'_>) -> Option<Vec<Tokens<'_>>> {
    let named = |tokens: Tokens<'_>| {
        let words: Vec<&str> = tokens.slice.iter().map(Token::norm).collect();
        tokens.is_wordy() && in_table(&words) == Meant::One
    };
    let parts = input.trimmed().split(joins);
    let two = parts.len() == 2 && parts.iter().all(|part| named(*part));
    (two && !named(input.trimmed())).then_some(parts)
}
