//! A dish that was weighed before it was cooked: "90 rice but thats the dry weight". What was eaten of it is not told.

use super::lexer::folded_words;
use super::syntax::{Error, ErrorKind, Item, Portion};
use super::tokens::Tokens;
use super::words::uneaten;

/// "90 rice but thats the dry weight", "150 rice (dry)": what a cooked dish weighed is not told.
pub fn error(body: Tokens<'_>, portions: &[&Portion]) -> Option<Error> {
    let mut items = portions.iter().flat_map(|portion| &portion.items);
    let cooked = |item: &Item| {
        let words = folded_words(&item.name.text);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        body.vocabulary.is_batch(&words)
    };
    if !items.any(cooked) {
        return None;
    }
    let bracketed = |at: usize| {
        let dry = matches!(body.norm(at), "dry" | "raw");
        dry && at > 0 && body.slice[at - 1].is('(') && body.get(at + 1).is_some_and(|it| it.is(')'))
    };
    let said = |at: usize| {
        let told = uneaten().longest_of(body.after(at).slice, "raw");
        told.or(bracketed(at).then_some(1))
    };
    let (at, length) = (0..body.len()).find_map(|at| Some((at, said(at)?)))?;
    let words = body.range(at, at + length);
    Some(words.error(ErrorKind::LeftOver(words.words().text)))
}
