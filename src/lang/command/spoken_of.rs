//! A dish that is only referred to, with how much of it: "froze 600 of it". The books tell which it is.

use crate::lang::amount::{Stands, amount};
use crate::lang::syntax::{Amount, Item, Words};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::words::boxes;

/// Two of what was spoken of.
const BOTH: &str = "both";

/// "1000 of it", "the rest of it": of the dish that was spoken of. "Both", "both bags": of the two.
pub fn item(input: Tokens<'_>) -> Option<Item> {
    let input = input.trimmed();
    if let Some(both) = both(input) {
        return Some(both);
    }
    let (rest, amount) = match matches!(input.norm(0), "the" | "all") {
        true => (
            input.after(1 + usize::from(input.norm(1) == "rest")),
            Amount::Share(1.0),
        ),
        false => amount(input, Stands::BeforeName).ok()?,
    };
    let rest = rest.after(usize::from(rest.norm(0) == "of"));
    let tail = |token: &Token| matches!(token.norm(), "as" | "well" | "too" | "also");
    let alone =
        is_stand_in(rest.norm(0)) && !rest.is_empty() && rest.after(1).slice.iter().all(tail);
    alone.then(|| {
        Item::new(amount, Words::new("it".to_owned(), rest.range(0, 1).span())).at(input.span())
    })
}

/// "both", "them both", "both of them", "both bags"
fn both(input: Tokens<'_>) -> Option<Item> {
    let idle = |token: &Token| {
        let of = matches!(token.norm(), "of" | "them" | "those" | "the" | "two");
        of || boxes().get(token.norm()).is_some()
    };
    let at = input.find(|token| token.norm() == BOTH)?;
    let rest = [input.range(0, at), input.after(at + 1)];
    let alone = rest.iter().all(|rest| rest.slice.iter().all(idle));
    let name = Words::new(BOTH.to_owned(), input.range(at, at + 1).span());
    alone.then(|| Item::new(Amount::Share(1.0), name).at(input.span()))
}

/// All of it, where nothing at all is said of what it is.
pub fn all(said: Tokens<'_>) -> Item {
    let name = Words::new("it".to_owned(), said.range(0, 0).span());
    Item::new(Amount::Share(1.0), name).at(said.span())
}

/// A word for the dish that was spoken of.
pub fn is_stand_in(word: &str) -> bool {
    matches!(word, "it" | "that" | "them" | BOTH)
}
