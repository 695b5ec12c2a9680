//! Several lines and what each of them comes to: "sorry, dal 90, rice 150".

use super::{after, said, without_closing, without_excuse};
use crate::lang::item::list;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::syntax::{Amount, Command, Figure, Fix, Item, Line, Words};
use crate::lang::tokens::Tokens;

/// "sorry, dal 90, rice 150", "I meant 90 dal and 150 rice": what several lines come to
pub fn read(body: Tokens<'_>) -> Option<Vec<Command>> {
    let excused = said("excuse", body.trimmed_front()).is_some();
    let bare = without_excuse(body);
    let told = after("opens", bare);
    if !excused && told.is_none() {
        return None;
    }
    items(without_closing(told.unwrap_or(bare).without_lead()), 2)
}

/// So many lines at least, and what each comes to.
pub fn items(input: Tokens<'_>, least: usize) -> Option<Vec<Command>> {
    let read = list(input);
    let plain = |item: &Item| {
        let weighed = matches!(item.amount, Amount::Bare(_) | Amount::Mass(_));
        weighed
            && item.container.is_none()
            && familiarity(&item.name.text, input) >= Familiarity::Food
    };
    let whole = read.errors.is_empty() && read.comments.is_empty();
    if !whole || read.items.len() < least || !read.items.iter().all(plain) {
        return None;
    }
    let fix = |item: Item| of_line(item.name, item.amount);
    Some(read.items.into_iter().map(fix).collect())
}

/// The line of this name comes to so much.
pub fn of_line(name: Words, amount: Amount) -> Command {
    let line = Line {
        name: Some(name),
        ..Line::default()
    };
    let new = Figure::Is(amount);
    Command::Fix(Fix::Amount { new, line })
}
